"""`solander sheet`: a PDF, and plain words when it can't be written."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from solander.cli.main import solander
from solander.core.errors import CannotBegin


def test_the_sheet_is_written_for_both_papers(tmp_path: Path) -> None:
    for paper in ("a4", "letter"):
        target = tmp_path / f"{paper}.pdf"
        result = CliRunner().invoke(solander, ["sheet", str(target), "--paper", paper])
        assert result.exit_code == 0
        assert "Print it at 100 %: its check line must measure 100 mm." in result.output
        assert target.read_bytes().startswith(b"%PDF-1.")


@pytest.mark.parametrize(
    ("name", "why"), [("there.pdf", "something is there already"), ("no/such.pdf", "no such file")]
)
def test_nothing_is_written_over_and_the_reason_is_told(tmp_path: Path, name: str, why: str) -> None:
    (tmp_path / "there.pdf").write_text("mine")
    result = CliRunner().invoke(solander, ["sheet", str(tmp_path / name)], standalone_mode=False)
    assert isinstance(result.exception, CannotBegin)
    assert why in result.exception.sentence
    assert (tmp_path / "there.pdf").read_text() == "mine"
