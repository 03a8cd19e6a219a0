"""Told stories written down by a program: what it hears only asks. The program is a stand-in; the real one runs
where it is installed and SOLANDER_SPEECH_MODEL names the folder of a model."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from stand_here import still, voice

from solander.core.errors import CannotBegin
from solander.core.questions import Asks
from solander.core.statements import Says
from solander.reading.transcription import is_installed, transcriber
from solander.tasks.accounts import accounts_of
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection
from solander.tasks.recordings import erase_recording
from solander.tasks.story_questions import asked_of_story
from solander.tasks.transcribe import transcribe
from solander.tasks.understood import Understanding

TEXT = "That was in the summer of 1958. We were out at Vessholm, Nils and I! Nilsen was not there."


@pytest.mark.slow
def test_what_a_program_heard_is_kept_unchecked_and_only_asks(people: Collection, stand: AtStand) -> None:
    stand.take(still(1), "1.jpg")
    stand.story_begins()
    stand.story_sound(voice(1.0))
    stand.story_ends()
    heard: list[NDArray[np.int16]] = []

    def engine(samples: NDArray[np.int16]) -> str:
        heard.append(samples)
        return TEXT

    said = [one for one in people.catalogue.statements(subject="P-0001") if one.says is not Says.ACCOUNT]
    done = transcribe(people, Path("small model"), engine=engine)
    assert (done.written, done.silent, done.set_aside) == (1, 0, ())
    assert heard[0].tobytes() == voice(1.0)
    (story,) = accounts_of(people, "P-0001")
    assert (story.heard, story.heard_by, story.is_checked) == (TEXT, "small model, a program", False)
    after = [one for one in people.catalogue.statements(subject="P-0001") if one.says is not Says.ACCOUNT]
    assert after == said  # nothing is said of the print
    asked = [one.sentence for one in people.catalogue.questions_about(["P-0001"]) if one.asks is Asks.TOLD]
    assert asked == [
        "In the story about P-0001 one hears “That was in the summer of 1958.”: was it taken then (summer 1958)?",
        "In the story about P-0001 one hears of Nils Sollihøgda: shown in it?",
        "In the story about P-0001 one hears of Vessholm: was it taken there?",
    ]
    assert transcribe(people, Path("small model"), engine=engine).written == 0  # once
    people.catalogue.undo("archivist")
    assert accounts_of(people, "P-0001")[0].heard == ""
    assert people.catalogue.questions_about(["P-0001"]) == []


@pytest.mark.slow
def test_erasing_a_story_leaves_what_another_of_its_prints_asks(people: Collection, stand: AtStand) -> None:
    stand.take(still(1), "1.jpg")
    for pitch in (180.0, 220.0):
        stand.story_begins()
        stand.story_sound(voice(1.0, pitch=pitch))
        stand.story_ends()
    stand.finish()
    texts = iter([TEXT, "That was in the winter of 1961."])
    transcribe(people, Path("small model"), engine=lambda samples: next(texts))
    gone, stays = accounts_of(people, "P-0001")
    erase_recording(people, gone.sha256)
    asked = [one.sentence for one in people.catalogue.questions_about(["P-0001"]) if one.asks is Asks.TOLD]
    assert ["1961" in sentence for sentence in asked] == [True]
    erase_recording(people, stays.sha256)
    assert Asks.TOLD not in {one.asks for one in people.catalogue.questions_about(["P-0001"])}


@pytest.mark.slow
def test_nothing_is_kept_of_a_story_that_is_erased_while_a_program_listens(
    people: Collection, stand: AtStand
) -> None:
    stand.take(still(1), "1.jpg")
    for pitch in (180.0, 220.0):
        stand.story_begins()
        stand.story_sound(voice(1.0, pitch=pitch))
        stand.story_ends()
    stand.finish()

    def engine(samples: NDArray[np.int16]) -> str:
        for story in accounts_of(people, "P-0001"):
            erase_recording(people, story.sha256)
        return TEXT

    assert transcribe(people, Path("small model"), engine=engine).written == 0
    assert Asks.TOLD not in {one.asks for one in people.catalogue.questions_about(["P-0001"])}
    assert not any(TEXT.encode() in path.read_bytes() for path in people.root.glob("solander.db*"))


def test_a_story_that_dates_and_names_nothing_asks_nothing(people: Collection) -> None:
    assert asked_of_story(Understanding(people), "P-0001", "We laughed a lot. It may have rained.") == []


def test_without_a_model_or_its_program_one_is_told(tmp_path: Path) -> None:
    with pytest.raises(CannotBegin, match="there is no speech model"):
        transcriber(tmp_path)
    (tmp_path / "model.bin").write_bytes(b"")
    if not is_installed():
        with pytest.raises(CannotBegin, match="not installed"):
            transcriber(tmp_path)


def test_a_real_model_hears_words() -> None:
    """Against recordings whose words are known (shared/data/speech, transcripts.tsv)."""
    model = os.environ.get("SOLANDER_SPEECH_MODEL", "")
    speech = Path(__file__).parents[3] / "shared" / "data" / "speech"
    if not is_installed() or not model or not speech.is_dir():
        pytest.skip("no faster-whisper, no model named by SOLANDER_SPEECH_MODEL, or no recordings here")
    import soundfile

    rows = [line.split("\t") for line in (speech / "transcripts.tsv").read_text().splitlines()[1:]]
    name, text = next((row[0], row[-1]) for row in rows if row[0].startswith("read"))
    samples, rate = soundfile.read(speech / name, dtype="int16")
    assert rate == 16_000
    words = set(text.lower().split())
    assert len(words & set(transcriber(Path(model), language="en")(samples).lower().split())) > len(words) / 2
