"""The verbs that work on a collection: what they print and how they end."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solander.cli import accession as accession_verb
from solander.cli.main import solander
from solander.core.errors import Trouble
from solander.engine.local import SerialExecutor
from solander.imaging.simulate import Paper, Placement, Stage, drawn_picture, simulate_capture
from solander.tasks.collection import Collection
from solander.vault.store import sha256_of

pytestmark = pytest.mark.slow

SLIPS = "file,date,people,caption\np1_r.png,July 1948,Inga,The regatta\np2.png,,,Undated\n"


def ran(*arguments: object) -> Result:
    """The verb run in this process; what ends it is the Trouble itself, or SystemExit."""
    return CliRunner().invoke(solander, [str(argument) for argument in arguments], standalone_mode=False)


def said(*arguments: object) -> str:
    """What a verb that ends well prints on stdout."""
    result = ran(*arguments)
    assert result.exception is None, result.output
    return result.stdout


def as_process(*arguments: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "solander", *(str(argument) for argument in arguments)]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A front, its back, and another print, drawn small."""
    from PIL import Image

    folder = tmp_path_factory.mktemp("files")
    for number, name in enumerate(("p1_r", "p1_v", "p2")):
        paper = Paper(drawn_picture(number, (480, 340)), (96, 68), seed=number)
        seen = simulate_capture([paper], [Placement((360, 270), 2.0, 4.6)], Stage("grey"), size=(720, 540), seed=1)
        Image.fromarray(seen.rgb).save(folder / f"{name}.png")
    return folder


@pytest.fixture(autouse=True)
def in_one_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three small pictures need no pool of processes."""
    monkeypatch.setattr(accession_verb, "local_executor", SerialExecutor)


@pytest.fixture
def box(tmp_path: Path, files: Path) -> Path:
    """A collection that was made and filled from the command line."""
    root = tmp_path / "box"
    (tmp_path / "slips.csv").write_text(SLIPS, encoding="utf-8")
    said("new", root, "--title", "Two prints")
    said("accession", root, files, "--container", "b1-e2", "--slips", tmp_path / "slips.csv")
    return root


def test_a_new_collection_says_what_comes_next(tmp_path: Path) -> None:
    text = said("new", tmp_path / "box")
    assert "solander accession" in text
    assert (tmp_path / "box" / "solander.db").is_file()
    again = ran("new", tmp_path / "box")
    assert isinstance(again.exception, Trouble)
    assert again.exception.exit == 2


def test_a_take_in_says_what_it_did(box: Path, files: Path) -> None:
    with Collection.open(box) as collection:
        assert [one.accession for one in collection.catalogue.prints()] == ["B1-E2-0001", "B1-E2-0002"]
    text = said("accession", box, files)
    assert text.startswith("3 files: 0 captures taken in, 0 ")
    assert "Here already and left alone: 3 files." in text
    assert f"solander chronology {box}" in text


def test_a_file_that_was_set_aside_ends_with_1_and_one_line(box: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad"
    bad.mkdir()
    (bad / "empty.jpg").touch()
    result = ran("accession", box, bad)
    assert isinstance(result.exception, SystemExit)
    assert result.exception.code == 1
    assert result.stdout.splitlines()[1].startswith("empty.jpg was set aside: ")


@pytest.mark.parametrize(
    "arguments",
    [
        ("accession", "{box}", "{box}/nowhere.jpg"),
        ("accession", "{box}", "{files}", "--slips", "{box}/nowhere.csv"),
        ("accession", "{files}", "{files}"),
        ("people", "{box}", "{box}/nowhere.csv"),
        ("verify", "{files}"),
        ("verify", "{box}/nowhere"),
        ("copy", "{box}", "{box}"),
        ("release", "{box}", "{box}", "--audience", "family"),
        ("release", "{box}", "{box}/public", "--audience", "public"),
        ("chronology", "{files}"),
        ("chronology", "{box}/nowhere.json"),
        ("chronology", "{box}", "--ruler", "{box}/nowhere/ruler.svg"),
        ("demo", "{box}"),
        ("undo", "{files}"),
    ],
)
def test_what_cannot_begin_is_refused_with_2(arguments: tuple[str, ...], box: Path, files: Path) -> None:
    result = ran(*(argument.format(box=box, files=files) for argument in arguments))
    assert isinstance(result.exception, Trouble), result.exception
    assert result.exception.exit == 2
    assert "\n" not in result.exception.sentence
    assert not (box / "public").exists()


@pytest.mark.slow
def test_as_a_process_a_refusal_is_one_sentence_on_stderr_and_status_2(files: Path) -> None:
    done = as_process("verify", files)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    assert "Traceback" not in done.stderr


@pytest.mark.slow
@pytest.mark.parametrize(
    "arguments", [("nonsense",), ("verify",), ("release", "a", "b", "--audience", "everybody")]
)
def test_a_command_that_is_none_ends_with_2(arguments: tuple[str, ...]) -> None:
    done = as_process(*arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert "Traceback" not in done.stderr


def test_people_and_places_are_taken_in(box: Path, tmp_path: Path) -> None:
    (tmp_path / "people.csv").write_text("name,born\nInga,1908\nNed,long ago\n", encoding="utf-8")
    (tmp_path / "places.csv").write_text("name,country\nTernvik,NO\n", encoding="utf-8")
    result = ran("people", box, tmp_path / "people.csv")
    assert isinstance(result.exception, SystemExit)
    assert result.stdout.splitlines()[0] == "1 person taken in."
    assert "people.csv, line 3" in result.stdout
    told = said("places", box, tmp_path / "places.csv").splitlines()
    assert told == ["  new: Ternvik", "1 place taken in: 1 new, 0 changed, 0 as before."]


def test_undo_says_what_it_took_back(box: Path) -> None:
    assert said("undo", box).startswith("Undone, as if it had not happened: took in ")
    with Collection.open(box) as collection:
        assert (collection.catalogue.prints(), len(collection.catalogue.captures())) == ([], 3)


def test_a_whole_collection_verifies_with_0_and_a_damaged_one_with_1(box: Path) -> None:
    assert said("verify", box) == f"Whole: all 4 files of {box} are as they were written.\n"
    capture = min((box / "captures").glob("??/*"))
    capture.chmod(0o644)
    capture.write_bytes(capture.read_bytes()[:-1])
    result = ran("verify", box)
    assert isinstance(result.exception, SystemExit)
    assert result.exception.code == 1
    assert result.stdout.splitlines()[0].startswith(f"captures/{capture.parent.name}/{capture.name} has changed")


@pytest.mark.parametrize("audience", ["archive", "family"])
def test_a_release_verifies(audience: str, box: Path, tmp_path: Path) -> None:
    text = said("release", box, tmp_path / audience, "--audience", audience)
    assert f"solander verify {tmp_path / audience}" in text
    assert said("verify", tmp_path / audience).startswith("Whole: ")


def test_a_second_copy_counts_and_heals(box: Path, tmp_path: Path) -> None:
    assert "3 files new, 0 already there" in said("copy", box, tmp_path / "copy")
    capture = min((box / "captures").glob("??/*"))
    capture.chmod(0o644)
    capture.write_bytes(b"spoilt")
    text = said("copy", box, tmp_path / "copy")
    assert "healed from the copy" in text
    assert sha256_of(capture) == capture.stem


def test_the_order_is_told_with_its_reasons(box: Path, tmp_path: Path) -> None:
    lines = said("chronology", box, "--ruler", tmp_path / "ruler.svg").splitlines()
    assert lines[0] == "2 prints in order of time, 1948."
    assert lines[1:3] == ["", "1940s"]
    prints = [words for line in lines[1:] if (words := line.split()) and words[0].isdecimal()]
    assert [words[:2] for words in prints] == [["1", "B1-E2-0001"], ["2", "B1-E2-0002"]]
    assert any("Who remembers in which year" in line for line in lines[lines.index("Best asked next") :])
    assert any("Dated “July 1948”" in line for line in lines)
    assert all(len(line) <= 80 for line in lines)
    assert (tmp_path / "ruler.svg").read_text(encoding="utf-8").startswith(("<svg", "<?xml"))


def test_the_order_as_json_is_one_object_a_print(box: Path) -> None:
    records = [json.loads(line) for line in said("chronology", box, "--json").splitlines()]
    prints = [one for one in records if "print" in one]
    assert [(one["print"], one["order"], one["edtf"]) for one in prints] == [
        ("B1-E2-0001", 1, "1948-07"),
        ("B1-E2-0002", 2, ""),
    ]
    assert [one["about"] for one in records if "question" in one] == ["B1-E2-0002"]
    assert records[0]["reasons"] == ["dated “July 1948”"]


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="sends SIGINT")
def test_ctrl_c_ends_with_130_and_says_how_to_go_on(box: Path, tmp_path: Path, files: Path) -> None:
    """Enough pictures that the work outlasts the moment of the interruption."""
    many = tmp_path / "many"
    many.mkdir()
    for number in range(400):
        (many / f"{number}.png").write_bytes(
            (files / "p2.png").read_bytes() + bytes([number % 256, number // 256])
        )
    command = [sys.executable, "-m", "solander", "accession", str(box), str(many)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as child:
        try:
            with Collection.open(box) as collection:
                before, limit = len(collection.catalogue.captures()), time.monotonic() + 240
                while len(collection.catalogue.captures()) == before:
                    assert time.monotonic() < limit, "nothing was taken in"
                    time.sleep(0.05)
            child.send_signal(signal.SIGINT)
            _, error = child.communicate(timeout=240)
        finally:
            child.kill()
    assert child.returncode == 130, error
    assert "run the same command again to go on" in error
    assert "Traceback" not in error
