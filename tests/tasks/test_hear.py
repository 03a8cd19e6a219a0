"""Hearing at the stand with the whole chain: a synthetic voice (flite), real talk, our own sound.

Voices are those of flite (Carnegie Mellon University), real talk is `shared/data/speech` (LibriVox readings and
phrases from the tests of pocketsphinx), where they are there.
"""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path
from threading import Event

import numpy as np
import pytest
import soundfile

from solander.core.errors import InvalidValue
from solander.core.orders import Order
from solander.core.people import Person
from solander.core.places import Place
from solander.reading.speech import Stream
from solander.tasks.collection import Collection
from solander.tasks.hear import Heard, Hearing
from solander.tasks.names_said import names_said
from solander.tasks.sounds_like import say_how_it_sounds, sounds_like

REAL = Path(__file__).resolve().parents[3] / "shared" / "data" / "speech"
RATE = 16_000
needs_voice = pytest.mark.skipif(shutil.which("flite") is None, reason="flite, which speaks, is not installed")

Samples = np.ndarray


@pytest.fixture(scope="module")
def collection(tmp_path_factory: pytest.TempPathFactory) -> Collection:
    collection = Collection.create(tmp_path_factory.mktemp("heard") / "collection")
    with collection.catalogue.act("test", "names") as act, act.work() as work:
        work.keep_person(Person("Ingrid Berg, 1921–1990", also_called=("Nan",)))
        work.keep_person(Person("Nils Berg"))
        work.keep_place(Place("Bergen"))
        work.commit()
    return collection


@pytest.fixture(scope="module")
def hearing(collection: Collection) -> Hearing:
    return Hearing(collection)


def voice(said: str, folder: Path) -> Samples:
    path = folder / "said.wav"
    subprocess.run(["flite", "-voice", "slt", "-t", said, "-o", str(path)], check=True)
    return soundfile.read(path, dtype="int16")[0]


def quiet(seconds: float) -> Samples:
    return np.zeros(int(seconds * RATE), np.int16)


def listen(hearing: Hearing, *sounds: Samples) -> list[Heard]:
    pcm = np.concatenate(sounds).astype("<i2").tobytes()
    return [heard for at in range(0, len(pcm), 2048) for heard in hearing.sound(pcm[at : at + 2048])]


def test_names_are_called_whole_and_by_the_first(collection: Collection) -> None:
    names = names_said(collection)
    assert set(names.people) == {"Ingrid Berg", "Ingrid", "Nan", "Nils Berg", "Nils"}
    assert names.places == ("Bergen",)


def test_how_a_name_sounds_is_kept_undone_and_forgotten(collection: Collection) -> None:
    act = say_how_it_sounds(collection, "Siobhan  Kelly", ["shivawn kelly"])
    assert act is not None
    assert sounds_like(collection.catalogue) == {"siobhan kelly": ("shivawn kelly",)}
    assert say_how_it_sounds(collection, "Siobhan Kelly", ["shivawn kelly"]) is None
    say_how_it_sounds(collection, "Siobhan Kelly", [])
    assert sounds_like(collection.catalogue) == {}
    with pytest.raises(InvalidValue, match="can't be said"):
        say_how_it_sounds(collection, "Siobhan Kelly", ["?!"])


@needs_voice
@pytest.mark.slow
def test_one_sentence_says_it_all(hearing: Hearing, tmp_path: Path) -> None:
    said = voice("summer nineteen fifty eight, Bergen, with Ingrid and her brother Nils", tmp_path)
    (heard,) = listen(hearing, quiet(1), said, quiet(1))
    assert (heard.words, heard.sure) == ("summer 1958, Bergen, with Ingrid and her brother Nils", "sure")
    assert [kind for kind, _, _ in heard.parts] == ["date", "place", "people"]
    assert heard.ended_ms - heard.began_ms == pytest.approx(1000 * len(said) / RATE, abs=400)
    assert len(heard.sound) > len(said)


@needs_voice
@pytest.mark.slow
def test_a_long_pause_parts_nothing(hearing: Hearing, tmp_path: Path) -> None:
    first, second = voice("nineteen fifty", tmp_path), voice("eight", tmp_path)
    heard = listen(hearing, quiet(1), first, quiet(1.5), second, quiet(1))
    assert heard[-1].words == "1958"
    assert heard[-1].again


@needs_voice
@pytest.mark.slow
def test_an_order_is_an_order_and_talk_is_none(hearing: Hearing, tmp_path: Path) -> None:
    (heard,) = listen(hearing, quiet(6), voice("undo that", tmp_path), quiet(1))
    assert (heard.order, heard.sure) == (Order.UNDO, "sure")
    talk = listen(hearing, quiet(6), voice("he was not an ill disposed young man", tmp_path), quiet(1))
    assert [each.sure for each in talk if each.sure == "sure"] == []


@needs_voice
@pytest.mark.slow
def test_our_own_sound_and_a_shut_microphone_are_not_heard(hearing: Hearing, tmp_path: Path) -> None:
    """The loudspeaker's voice in the microphone, half as loud, over a room's noise."""
    order = voice("undo that", tmp_path)
    room = np.random.default_rng(3).normal(0, 20, len(order) + 2 * RATE)
    room[RATE : RATE + len(order)] += order / 2
    in_the_room = room.astype(np.int16)
    assert [heard.order for heard in listen(hearing, quiet(6), in_the_room)] == [Order.UNDO], "loud enough to hear"
    hearing.own_sound(len(in_the_room) * 1000 // RATE)
    assert listen(hearing, in_the_room) == []
    assert [heard.order for heard in listen(hearing, quiet(1), order, quiet(1))] == [Order.UNDO]
    hearing.mute(True)
    assert listen(hearing, quiet(1), order, quiet(1)) == []
    hearing.mute(False)
    assert [heard.order for heard in listen(hearing, quiet(1), order, quiet(1))] == [Order.UNDO]


@needs_voice
@pytest.mark.slow
def test_new_names_are_heard_after_the_grammar_was_made_anew(collection: Collection, tmp_path: Path) -> None:
    hearing = Hearing(collection)
    with collection.catalogue.act("test", "a place") as act, act.work() as work:
        work.keep_place(Place("Silverdale"))
        work.commit()
    hearing.refresh().join(60)
    heard = listen(hearing, quiet(1), voice("Silverdale", tmp_path), quiet(1))
    assert [each.words for each in heard] == ["Silverdale"]


def test_a_microphone_that_is_opened_again_and_again_begins_one_thread(
    collection: Collection, monkeypatch
) -> None:
    """The grammar that is made last knows what was entered last."""
    hearing, go_on, begun, made = Hearing(collection), Event(), Event(), []

    def listener(self: Hearing) -> object:
        begun.set()
        assert go_on.wait(60)
        made.append(object())
        return made[-1]

    monkeypatch.setattr(Hearing, "_listener", listener)
    first = hearing.refresh()
    assert begun.wait(60)
    assert {hearing.refresh() for _ in range(20)} == {first}
    go_on.set()
    first.join(60)
    assert len(made) == 2
    assert hearing._stream.listener is made[1]


def test_what_was_begun_before_the_microphone_was_shut_is_dropped(collection: Collection, monkeypatch) -> None:
    hearing, passed = Hearing(collection), []
    monkeypatch.setattr(Stream, "pass_by", lambda self, pcm: passed.append(pcm))
    monkeypatch.setattr(Stream, "hear", lambda self, pcm: iter(()))
    hearing.sound(b"\1\1")
    hearing.forget()
    hearing.sound(b"\2\2")
    hearing.sound(b"\3\3")
    assert passed == [b""]


@pytest.mark.slow
@pytest.mark.skipif(not REAL.is_dir(), reason="shared/data/speech is not beside the project")
@pytest.mark.parametrize("name", ["read/austen-0880.wav", "read/austen-0930.wav", "phrases/something.wav"])
def test_real_talk_is_not_acted_on(hearing: Hearing, name: str) -> None:
    talk = soundfile.read(REAL / name, dtype="int16")[0]
    assert [heard.words for heard in listen(hearing, quiet(6), talk, quiet(1)) if heard.sure == "sure"] == []
