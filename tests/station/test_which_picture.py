"""Two pictures of one side, taken again at the stand: asked side by side, answered by one key, taken back."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from print_bench import PrintBench, opened_bench

sys.path.insert(0, str(Path(__file__).parents[1] / "tasks"))

from stand_here import still

from solander.core.orders import Order
from solander.core.questions import Asks
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.at_stand import AtStand

pytestmark = pytest.mark.slow


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[PrintBench]:
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "no models"))
    with opened_bench(tmp_path / "box") as opened:
        opened.app = create_app(Workbench.over(opened.collection))
        yield opened


@pytest.mark.parametrize("keep", ["old", "new"])
def test_one_of_two_pictures_is_kept_and_both_captures_stay(bench: PrintBench, keep: str) -> None:
    stand = AtStand(bench.collection)
    taken = {"old": stand.take(still(1), "1.jpg")}
    stand.order(Order.TAKE_AGAIN)
    taken["new"] = stand.take(still(1, angle_deg=3.0), "2.jpg")
    accession = taken["old"].accession
    catalogue = bench.collection.catalogue
    (question,) = [one for one in catalogue.questions_about([accession]) if one.asks is Asks.WHICH_PICTURE]
    page = bench.get("/questions/one?kind=which-picture").text
    assert "which picture is to be shown?" in page
    assert all(f'src="/view/{one.key}.jpg"' in page for one in taken.values())
    assert re.findall(r'name="keep" value="(\w+)" data-key="(\d)"', page) == [("old", "1"), ("new", "2")]
    bench.post("/questions/which-picture", key=question.key, keep=keep)
    recto = catalogue.print(accession).recto
    assert recto is not None
    assert recto.key == taken[keep].key
    assert len(catalogue.captures()) == 2
    late = bench.post("/questions/which-picture", key=question.key, keep=keep)
    assert late.status_code == 404
