"""How a print was captured and how it has kept, on its page."""

from __future__ import annotations

from pathlib import Path

import pytest
from print_bench import PrintBench, opened_bench

from solander.core.condition import Condition, Missing

pytestmark = pytest.mark.slow

AGED = Condition(
    2.0,
    0.0,
    0.0,
    "0" * 16,
    ("glare",),
    ("yellowed", "missing corner"),
    glare=0.03,
    glare_at="top edge",
    missing=(Missing("top left corner", 0.08),),
    measured=1,
)


def measured(bench: PrintBench, accession: str, condition: Condition) -> None:
    catalogue = bench.collection.catalogue
    view = catalogue.print(accession).views[0]
    with catalogue.act("test", "measured") as act, act.work() as work:
        work.set_condition(view.key, condition)
        work.commit()


def test_capture_and_print_are_told_apart_and_a_sound_print_tells_nothing(tmp_path: Path, monkeypatch):
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    with opened_bench(tmp_path / "box", pictures=True) as bench:
        measured(bench, "B1-0001", AGED)
        aged, sound = bench.get("/print/B1-0001").text, bench.get("/print/B1-0002").text
    kept, _, captured = aged.partition("How it was captured")
    assert "How it has kept" in kept
    assert "Its paper has yellowed." in kept
    assert "Its top left corner is missing." in kept
    assert "A lamp mirrors near its top edge: move the lamp aside." in captured
    assert "How it was captured" not in sound
