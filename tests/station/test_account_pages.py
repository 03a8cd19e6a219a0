"""Told stories on the page of a print: played, kept as a file, put right by plain forms."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
import soundfile
from print_bench import PrintBench, opened_bench

sys.path.insert(0, str(Path(__file__).parents[1] / "tasks"))

from stand_here import voice

from solander.core.sounds import Sound, SoundKind
from solander.intake.sound import flac_of
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.stand_account import account_statement, teller_statement

pytestmark = pytest.mark.slow


def keep_story(collection: Collection, *accessions: str) -> str:
    """A story of two seconds about these prints; gives its checksum."""
    kept = collection.sounds.put(flac_of(voice(2.0)), suffix=".flac")
    sound = Sound(kept.sha256, SoundKind.ACCOUNT, "2026-11-26T10:00:00.000Z", 2.0, kept.size, "1")
    with collection.catalogue.act("test", "kept a story") as act, act.work() as work:
        work.keep_sound(sound)
        for accession in accessions:
            work.state(account_statement(kept.sha256, accession, "0:02"))
        work.state(teller_statement(kept.sha256, "Aunt Vera"))
        work.commit()
    return kept.sha256


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[PrintBench]:
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    with opened_bench(tmp_path / "box") as opened:
        opened.app = create_app(Workbench.over(opened.collection))
        yield opened


def test_a_story_is_played_on_the_page_of_each_of_its_prints(bench: PrintBench) -> None:
    sha256 = keep_story(bench.collection, "B1-0001", "B1-0002")
    page = bench.get("/print/B1-0002")
    assert f'src="/sound/{sha256}.flac"' in page.text
    assert "Told by Aunt Vera on 26 November 2026, 0:02 minutes." in page.text
    assert "Also with" in page.text
    assert "media-src 'self'" in page.headers["content-security-policy"]
    sound = bench.get(f"/sound/{sha256}.flac")
    assert sound.headers["content-type"] == "audio/flac"
    assert (
        sound.headers["cache-control"] == "no-store"
    )  # so that an erased one lies in no browser (RFC 9111, 5.2.2.5)
    assert soundfile.info(io.BytesIO(sound.content)).duration == 2.0
    assert "Told stories" not in bench.get("/print/B1-0003").text


def test_a_recording_that_is_not_there_is_told(bench: PrintBench) -> None:
    assert bench.get(f"/sound/{'0' * 64}.flac").status_code == 404
    assert bench.get("/sound/..%2f..%2fsolander.db.flac").status_code == 404


def test_who_tells_it_and_what_is_said_are_put_right(bench: PrintBench) -> None:
    sha256 = keep_story(bench.collection, "B1-0001")
    there = f"/print/B1-0001/story/{sha256}"
    page = bench.post(there, teller="Uncle Joe")
    assert "Told by Uncle Joe on" in page.text
    assert "said who tells a story" in page.text  # with a way back
    assert "story: Uncle Joe" not in page.text  # the name would outlive a recording that is erased
    page = bench.post(there, heard="That was the boathouse.\nAnd then it rained.")
    assert "That was the boathouse.\nAnd then it rained." in page.text
    assert "nobody has checked this" not in page.text
    page = bench.post(there, off="yes")
    assert "Told stories" not in page.text


def test_a_recording_is_erased_after_a_question_and_that_is_told(bench: PrintBench) -> None:
    sha256 = keep_story(bench.collection, "B1-0001")
    link = f"/recordings/{sha256}/erase?then=/print/B1-0001"
    assert f'href="{link}"' in bench.get("/print/B1-0001").text
    asked = bench.get(link)
    assert "Erase this recording for good?" in asked.text
    assert "A story about B1-0001, told on 26 November 2026, 0:02 minutes." in asked.text
    assert bench.collection.catalogue.sound(sha256) is not None
    page = bench.post(f"/recordings/{sha256}/erase", then="/print/B1-0001")
    assert "erased for good a story told about B1-0001" in page.text
    assert 'href="/print/B1-0001"' in page.text
    assert "No sound is kept here." in page.text
    assert "Told stories" not in bench.get("/print/B1-0001").text
    assert bench.get(f"/sound/{sha256}.flac").status_code == 404
    assert bench.get(link).status_code == 404
    assert "Erased for good a story" in bench.get("/what-was-done").text
    assert bench.get("/recordings?erased=99999999999999999999999").status_code == 200


def test_every_recording_is_listed_with_its_way_out(bench: PrintBench) -> None:
    assert "No sound is kept here." in bench.get("/recordings").text
    sha256 = keep_story(bench.collection)
    page = bench.get("/recordings").text
    assert "A story without a print, told on" in page
    assert f'href="/recordings/{sha256}/erase"' in page
    assert 'href="/recordings"' in bench.get("/station").text
