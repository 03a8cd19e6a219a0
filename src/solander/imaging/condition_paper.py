"""Paper that is missing: where the stage shows inside a print's outline.

Convention (see `conventions`): corners of an outline in pixels of the capture; depths in shares of the print's
diagonal.
"""

from __future__ import annotations

from solander.imaging.condition_corners import CORNERS, lost_corners
from solander.imaging.condition_sheet import Torn, sheet_on
from solander.imaging.condition_tears import tears
from solander.imaging.conventions import Quad, Rgb
from solander.imaging.stage import TRUSTED, StageModel

__all__ = ["CORNERS", "Torn", "missing_paper"]


SLIMMEST = 16
"""Pixels of the shorter side, of 640 of the longer: what blur and the rims of both sides leave is looked into."""


def missing_paper(picture: Rgb, corners: Quad, stage: StageModel, on_stage: Quad) -> tuple[Torn, ...]:
    """Where paper is missing, the deepest first; empty where none is, where the stage can't be told by, or where
    the print is too slim to be looked into.

    `corners` are those of the print in the `picture` (a reduced capture), `on_stage` in the stage's copy of it.
    """
    if stage.explained < TRUSTED:
        return ()
    sheet = sheet_on(stage, on_stage, picture, corners)
    if min(sheet.size) < SLIMMEST:
        return ()
    return tuple(sorted([*lost_corners(sheet), *tears(sheet)], key=lambda one: -one.depth))
