"""What the verbs print and how they end: exit 0 all well, 1 something was set aside, 2 could not begin."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from solander.cli import main
from solander.core.errors import Trouble

WORKED = Path(__file__).parents[1] / "core" / "data" / "dating-worked.json"


def run(*arguments: object, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    monkeypatch.setattr("sys.argv", ["solander", *map(str, arguments)])
    with pytest.raises(SystemExit) as ended:
        main.run()
    told = capsys.readouterr()
    return int(ended.value.code or 0), told.out, told.err


@pytest.fixture
def solander(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    return lambda *arguments: run(*arguments, monkeypatch=monkeypatch, capsys=capsys)


def lines(out: str) -> list[dict]:
    return [json.loads(line) for line in out.splitlines()]


@pytest.mark.parametrize("verb", sorted(main.solander.commands))
def test_every_verb_explains_itself_within_80_columns(verb: str) -> None:
    told = CliRunner().invoke(main.solander, [verb, "--help"], terminal_width=80)
    assert told.exit_code == 0
    assert max(map(len, told.output.splitlines())) <= 80


def test_dates_answer_in_order_one_object_a_line(solander) -> None:
    code, out, err = solander("date", "summer 1958", "nothing here", "--json")
    assert (code, err) == (0, "")
    first, second = lines(out)
    assert first["readings"][0] == {"edtf": "1958-22", "earliest": "1958-06-01", "latest": "1958-08-31"}
    assert second["readings"] == []
    assert second["unused"] == ["nothing", "here"]


def test_edtf_values_after_two_hyphens_may_begin_with_a_minus(solander) -> None:
    code, out, _ = solander("date", "--edtf", "--json", "--", "-1985", "1985/04/12")
    valid, invalid = lines(out)
    assert code == 0
    assert (valid["valid"], valid["level"], valid["earliest"]) == (True, 1, "-1985-01-01")
    assert invalid["valid"] is False


def test_worked_problems_are_answered_exactly(solander) -> None:
    code, out, _ = solander("chronology", WORKED, "--json")
    examples = json.loads(WORKED.read_text("utf-8"))["examples"]
    assert code == 0
    for example, found in zip(examples, lines(out), strict=True):
        wanted = example["answer"]
        assert found["consistent"] == wanted["consistent"]
        assert found["ranges"] == wanted.get("ranges", {})
        assert found["gap_days"] == wanted.get("gap_days")
        assert sorted(found["conflict"]) == sorted(wanted.get("conflict", []))


def test_a_missing_picture_gives_an_error_in_its_place(solander) -> None:
    code, out, _ = solander("outline", "nowhere.jpg", "--json")
    (record,) = lines(out)
    assert code == 1
    assert record["image"] == "nowhere.jpg"
    assert "no such file" in record["error"]


def test_a_collection_is_begun_once(solander, tmp_path: Path) -> None:
    assert solander("new", tmp_path / "box", "--title", "Larsen")[0] == 0
    code, _, err = solander("new", tmp_path / "box")
    assert code == 2
    assert "not empty" in err
    assert "Traceback" not in err


def test_people_with_a_bad_row_are_taken_in_without_it(solander, tmp_path: Path) -> None:
    solander("new", tmp_path / "box")
    listed = tmp_path / "people.csv"
    listed.write_text("name;born\nIngrid;1927\nNils;the year after\n", encoding="utf-8")
    code, out, _ = solander("people", tmp_path / "box", listed)
    assert code == 1
    assert "1 person taken in" in out
    assert "people.csv, line 3" in out


@pytest.mark.parametrize(
    "arguments",
    [("verify", "nowhere"), ("open", "nowhere"), ("undo", "nowhere"), ("copy", "nowhere", "there")],
)
def test_what_cannot_begin_ends_with_2_and_one_sentence(solander, arguments: tuple[str, ...]) -> None:
    code, out, err = solander(*arguments)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1


def test_a_public_release_is_declined_with_its_reason(solander, tmp_path: Path) -> None:
    solander("new", tmp_path / "box")
    code, _, err = solander("release", tmp_path / "box", tmp_path / "out", "--audience", "public")
    assert code == 2
    assert "living" in err
    assert not (tmp_path / "out").exists()


def test_an_interruption_ends_with_130(solander, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    solander("new", tmp_path / "box")

    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("solander.cli.accession.take_in", interrupted)
    code, _, err = solander("accession", tmp_path / "box", tmp_path)
    assert code == 130
    assert "run the same command again to go on" in err


def test_every_trouble_is_one_sentence() -> None:
    trouble = Trouble("It rained", "there were clouds", "Take an umbrella")
    assert trouble.sentence == "It rained: there were clouds. Take an umbrella."
