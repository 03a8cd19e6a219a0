"""The contact sheet on a container's page: offered where a print in it is treated, and sent as a PDF."""

from __future__ import annotations

from pathlib import Path

import pytest
from arranged_box import arranging
from PIL import Image

from solander.core.prints import Capture, Outline, Side, View
from solander.core.treatments import Step, Treatment
from solander.tasks.collection import Collection
from solander.tasks.prepare import view_paths

pytestmark = pytest.mark.slow

NUMBER, SIZE = "B2-E5-0001", (300, 200)
CORNERS = ((0.0, 0.0), (299.0, 0.0), (299.0, 199.0), (0.0, 199.0))


def give_treated_front(collection: Collection) -> None:
    """A front for the first print, grey, and a treatment of it."""
    capture = Capture("a" * 64, "grey.jpg", "image/jpeg", 1, *SIZE)
    treatment = Treatment.of([Step("density", {"by": 0.1}, who="Ada")])
    view = View(capture.sha256, 0, Outline(CORNERS, 1.0), Side.RECTO, *SIZE, treatment=treatment)
    for path in view_paths(collection.views_root, view.key):
        path.parent.mkdir(parents=True, exist_ok=True)
        Image.new("RGB", SIZE, (120, 120, 120)).save(path)
    with collection.catalogue.act("test", "drew a picture") as act, act.work() as work:
        work.keep_capture(capture)
        work.add_view(NUMBER, view)
        work.commit()


def test_a_container_offers_its_contact_sheet_once_a_print_is_treated(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    with arranging(tmp_path / "a box", prints=2) as bench:
        assert "contact-sheet.pdf" not in bench.get("/container/B2-E5").text
        missing = bench.get("/container/B2-E5/contact-sheet.pdf")
        assert missing.status_code >= 400
        assert "none of its prints is treated" in missing.text.lower()
        give_treated_front(bench.collection)
        assert 'href="/container/B2-E5/contact-sheet.pdf"' in bench.get("/container/B2-E5").text
        answer = bench.get("/container/B2-E5/contact-sheet.pdf")
        assert answer.status_code == 200
        assert answer.headers["content-type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF-1.")
