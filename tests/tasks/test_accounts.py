"""Told stories with their prints: put right, handed over to a family and to an archive.

MP3 is read back by libsndfile, which also knows it by its own frames (ISO/IEC 11172-3: a frame begins with eleven
bits that are set); FLAC by the MD5 that it keeps of its samples (RFC 9639). The bag is proven by bagit.
"""

from __future__ import annotations

import csv
import re
from pathlib import Path

import bagit
import pytest
import soundfile
from stand_here import said, still, voice

from solander.core.statements import Says
from solander.delivery.tables import read_records
from solander.tasks.accounts import AccountDesk, accounts_of, length_words
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection
from solander.tasks.release import release
from solander.tasks.sitting import Sitting
from solander.tasks.verify import verify


@pytest.fixture
def told(people: Collection, stand: AtStand) -> Collection:
    """Two prints and a story about both."""
    stand.say("summer 1958, with Ingrid")
    stand.take(still(1), "1.jpg")
    stand.story_begins("Ingrid Sollihøgda")
    stand.story_sound(voice(2.0))
    stand.take(still(2), "2.jpg")
    stand.story_ends()
    return people


@pytest.mark.parametrize(("seconds", "words"), [(0.4, "0:00"), (59.6, "1:00"), (187, "3:07"), (3600, "60:00")])
def test_lengths_in_minutes(seconds: float, words: str) -> None:
    assert length_words(seconds) == words


@pytest.mark.slow
def test_who_tells_it_and_what_is_said_are_put_right_and_undone(told: Collection) -> None:
    desk = AccountDesk(told, Sitting(told))
    (story,) = desk.of("P-0001")
    act = desk.say_teller(story.sha256, " Nils  Sollihøgda ")
    assert act is not None
    desk.write_down(story.sha256, "That was the summer of the boathouse.")
    (now,) = desk.of("P-0001")
    assert (now.teller, now.heard, now.is_checked) == (
        "Nils Sollihøgda",
        "That was the summer of the boathouse.",
        True,
    )
    assert desk.say_teller(story.sha256, "Nils Sollihøgda") is None
    off = desk.take_off(story.sha256, "P-0001")
    assert off is not None
    assert desk.of("P-0001") == []
    assert [one.prints for one in desk.of("P-0002")] == [("P-0002",)]
    desk.sitting.undo(off)
    assert len(desk.of("P-0001")) == 1
    assert said(told, "P-0001", Says.PERSON) == ["Ingrid Sollihøgda"]


@pytest.mark.slow
def test_the_family_hears_it_beside_the_print(told: Collection, tmp_path: Path) -> None:
    release(told, tmp_path / "family", audience="family")
    (file,) = (tmp_path / "family" / "stories").iterdir()
    assert re.fullmatch(r"0001_P-0001_story-1\.mp3", file.name)
    content = file.read_bytes()
    at = content.find(b"\xff", 0)
    assert content[at + 1] & 0xE0 == 0xE0
    assert soundfile.info(file).duration == pytest.approx(2.0, abs=0.2)
    assert len(content) < len(told.sounds.path(accounts_of(told, "P-0001")[0].sha256).read_bytes())
    for page in (tmp_path / "family" / "prints").glob("*.html"):
        text = page.read_text(encoding="utf-8")
        assert f'src="../stories/{file.name}"' in text
        assert "Told by Ingrid Sollihøgda on" in text
        assert "before you pass a recording on" in text
    assert "stories " in (tmp_path / "family" / "README.txt").read_text(encoding="utf-8")
    assert verify(tmp_path / "family").faults == ()


@pytest.mark.slow
def test_an_archive_holds_it_with_its_description(told: Collection, tmp_path: Path) -> None:
    AccountDesk(told, Sitting(told)).write_down(accounts_of(told, "P-0001")[0].sha256, "=The boathouse")
    release(told, tmp_path / "bag", audience="archive")
    assert bagit.Bag(str(tmp_path / "bag")).is_valid()
    data = tmp_path / "bag" / "data"
    (flac,) = data.glob("sound/*/*.flac")
    with (data / "stories.csv").open(encoding="utf-8", newline="") as file:
        (row,) = csv.DictReader(file)
    assert row["file"] == flac.relative_to(data).as_posix()
    assert (row["prints"], row["told by"]) == ("P-0001 | P-0002", "Ingrid Sollihøgda")
    assert row["what is said"] == "'=The boathouse"  # no formula for a spreadsheet
    records = list(read_records((data / "statements.jsonl").read_bytes().splitlines()))
    assert [one for one in records if getattr(one, "sha256", "") == flac.stem]
    assert "sound/" in (data / "README.txt").read_text(encoding="utf-8")
