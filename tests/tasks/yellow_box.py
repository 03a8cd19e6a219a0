"""Monochrome prints with borders as old as one likes, entered without captures: their views are drawn."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import cv2
import numpy as np
from PIL import Image

from solander.core.prints import Capture, Outline, Print, Side, View
from solander.imaging.simulate import drawn_picture
from solander.tasks.collection import Collection
from solander.tasks.prepare import view_paths

__all__ = ["PAPERS", "enter_prints", "view_of"]

PAPERS = {
    "B1-0001": (240, 226, 180),
    "B1-0002": (240, 226, 184),
    "B1-0003": (240, 200, 110),
    "B1-0004": (250, 249, 246),
    "B2-0001": (240, 226, 180),
}
"""Colours of their paper: two yellow alike, one far yellower, one clean, one yellow in another container."""

GREY = cv2.resize(cv2.cvtColor(drawn_picture(3), cv2.COLOR_RGB2GRAY), (300, 200), interpolation=cv2.INTER_AREA)
WHITE = 252


def view_of(number: int) -> View:
    corners = ((0.0, 0.0), (347.0, 0.0), (347.0, 247.0), (0.0, 247.0))
    return View(f"{number:064d}", 0, Outline(corners, 1.0), Side.RECTO, 348, 248)


def enter_prints(
    collection: Collection,
    papers: Mapping[str, tuple[int, int, int]] = PAPERS,
    container: str | None = "by its number",
) -> None:
    """Enters a print for each paper, its front drawn, in the container that its number tells (or in none)."""
    with collection.catalogue.act("test", "began") as act, act.work() as work:
        for number, (accession, paper) in enumerate(papers.items(), start=1):
            view = view_of(number)
            work.keep_capture(Capture(view.capture, f"{number}.jpg", "image/jpeg", 1, 348, 248))
            work.add_print(Print(accession, container and accession[:2], int(accession[-1]), (view,)))
            for path in view_paths(collection.views_root, view.key):
                _draw(path, paper)
        work.commit()


def _draw(path: Path, paper: tuple[int, int, int]) -> None:
    # The paper lies under the picture too: what its stain takes, it takes all over.
    sheet = cv2.copyMakeBorder(GREY, 24, 24, 24, 24, cv2.BORDER_CONSTANT, value=WHITE)
    rgb = np.round(sheet[..., None] / WHITE * np.array(paper)).clip(0, 255).astype(np.uint8)
    path.parent.mkdir(parents=True, exist_ok=True)
    Image.fromarray(rgb).save(path, quality=95)
