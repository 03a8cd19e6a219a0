"""How names sound: listed with from where that is known, spelt by a person, heard from a recording."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from solander.core.errors import CannotBegin, InvalidValue
from solander.core.people import Person
from solander.core.places import Place
from solander.reading.speech import english_model
from solander.tasks.collection import Collection
from solander.tasks.name_sounds import LONGEST_S, NameSounds, Reads
from solander.tasks.sitting import Sitting
from solander.tasks.speech_model import SpeechModel

RATE = 16_000
needs_voice = pytest.mark.skipif(shutil.which("flite") is None, reason="flite, which speaks, is not installed")


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[NameSounds]:
    with Collection.create(tmp_path / "collection") as collection:
        with collection.catalogue.act("test", "names") as act, act.work() as work:
            work.keep_person(Person("Margaret Oakes"))
            work.keep_person(Person("Siobhan Ternvåg"))
            work.keep_place(Place("Bergen"))
            work.commit()
        yield NameSounds(collection, Sitting(collection))


def test_names_are_listed_with_from_where_it_is_known_how_they_sound(desk: NameSounds) -> None:
    found = {one.name: one for one in desk.page().names}
    assert set(found) == {"Margaret Oakes", "Margaret", "Siobhan Ternvåg", "Siobhan", "Bergen"}
    assert found["Margaret"].reads is Reads.DICTIONARY  # the CMU dictionary has it
    assert found["Siobhan Ternvåg"].reads is Reads.LETTERS
    assert found["Margaret"].sounds[0] == "maar-gger-it"
    assert [one.name for one in desk.page("bhan").names] == ["Siobhan Ternvåg", "Siobhan"]


def test_what_a_person_tells_goes_first_and_is_forgotten_again(desk: NameSounds) -> None:
    act = desk.teach("Siobhan", ["shi-vawn"])
    first = desk.page().names[0]
    assert (first.name, first.reads, first.told) == ("Siobhan", Reads.TOLD, ("shi-vawn",))
    assert "vaun" in first.sounds[0].replace("-", "")
    assert act is not None
    desk.sitting.undo(act)
    assert desk.one("Siobhan").reads is not Reads.TOLD
    desk.teach("Siobhan", ["shi-vawn"])
    desk.teach("Siobhan", [])
    assert desk.one("Siobhan").told == ()
    with pytest.raises(InvalidValue, match="no name was given"):
        desk.teach(" ", ["shi-vawn"])
    with pytest.raises(InvalidValue, match="at most 5 ways"):
        desk.teach("Siobhan", ["shi-vawn", "shuh-vawn", "sha-vawn", "she-vawn", "shi-van", "chevonne"])
    assert desk.one("Siobhan").reads is not Reads.TOLD


@needs_voice
@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "spoken", "near"), [("Leicester", "lester", "less-ter"), ("Ingrid", "Ingrid", "ingg")]
)
def test_a_name_said_three_times_is_spelt_as_it_sounds(
    desk: NameSounds, tmp_path: Path, name: str, spoken: str, near: str
) -> None:
    """By awb, a Scottish voice of flite (Carnegie Mellon University)."""
    path = tmp_path / "said.wav"
    subprocess.run(["flite", "-voice", "awb", "-t", spoken, "-o", str(path)], check=True)
    said, pause = soundfile.read(path, dtype="int16")[0], np.zeros(RATE, np.int16)
    pieces = [pause, *(piece for loud in (1, 0.7, 0.5) for piece in ((said * loud).astype(np.int16), pause))]
    assert desk.heard(name, np.concatenate(pieces).astype("<i2").tobytes()).startswith(near)


def test_a_recording_without_a_voice_or_too_long_is_told(desk: NameSounds) -> None:
    with pytest.raises(InvalidValue, match="no voice was heard"):
        desk.heard("Siobhan", b"\0" * RATE)
    with pytest.raises(InvalidValue, match="longer than"):
        desk.heard("Siobhan", b"\0" * (2 * RATE * LONGEST_S + 2))


def test_a_chosen_model_is_remembered_until_english_is_wanted(tmp_path: Path) -> None:
    kept = SpeechModel(tmp_path / "own" / "speech.json")
    assert kept.model() is None
    folder = english_model().sounds.parent
    chosen = kept.choose(folder)
    assert SpeechModel(kept.file).model() == chosen == english_model()
    with pytest.raises(CannotBegin, match="no acoustic model"):
        kept.choose(tmp_path)
    assert kept.model() == chosen, "what was refused is not remembered"
    kept.file.write_text("{")
    assert kept.model() is None
    kept.choose(folder)
    kept.forget()
    assert kept.model() is None
