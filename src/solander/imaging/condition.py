"""All that is measured of one view: the capture's faults and the state of the print.

Convention (see `conventions`): the view as the print lies, cut out of its capture; places in words of it ("top
edge", "bottom left corner"). Whether a figure is a fault is for `condition_limits`.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import ArrayLike

from solander.imaging.condition_dust import specks
from solander.imaging.condition_dyes import SIDE, ImageState, image_state
from solander.imaging.condition_light import Uneven, clipped_shares, unevenness
from solander.imaging.condition_motion import Motion, motion_of
from solander.imaging.condition_paper import Torn, missing_paper
from solander.imaging.conventions import Quad, Rgb, as_quad, require_rgb, whole_frame
from solander.imaging.encode import thumbnail
from solander.imaging.glare import Mirrored, mirrored_lamp
from solander.imaging.in_view import SHEET, USUAL_FOCAL, homography
from solander.imaging.measure import paper_rises, sharpness_of, view_edges
from solander.imaging.scale import Plane
from solander.imaging.stage import Reduced, reduce, stage_from_margin

__all__ = ["Examined", "examine", "tilt_of"]

ROWS = 4
"""Of so many rows one is counted for what is lost in black and white: a share needs no more, and 3 ms are
saved."""

STAGE_SIDE, PAPER_SIDE = 400, 1000
"""Pixels of the capture's longer side at which the stage is fitted, and at which missing paper is looked for."""


_NOTHING_TORN: tuple[Torn, ...] = ()


@frozen
class Examined:
    """What was measured; NaN where something could not be.

    `sharpness`: 10–90 % rise in pixels of the view's sharpest edges; `edge_rise`: that of the paper's own edge
    in the capture; `motion`; `clipped_dark`, `clipped_light`: shares of pixels (0–1) at the ends of the scale;
    `glare`; `uneven`; `tilt_deg` of the camera against the print; `dust`: specks seen; `image`: dyes, paper white,
    silver; `torn`: where paper is missing.
    """

    sharpness: float
    edge_rise: float
    motion: Motion
    clipped_dark: float
    clipped_light: float
    glare: Mirrored | None
    uneven: Uneven
    tilt_deg: float
    dust: int
    image: ImageState
    torn: tuple[Torn, ...]


def examine(
    view: Rgb,
    *,
    capture: Rgb | None = None,
    corners: ArrayLike | None = None,
    focal: float | None = None,
) -> Examined:
    """Everything that is measured of a `view`, and of the `capture` that it was cut out of inside `corners`.

    `focal` is the focal length in long sides of the frame, where it is known. Without a capture what only it
    tells (the paper's edge, the light, the tilt, missing paper) is left open.
    """
    grey = np.asarray(cv2.cvtColor(require_rgb(view), cv2.COLOR_RGB2GRAY), np.uint8)
    dark, light = clipped_shares(grey[::ROWS])
    rises, facing = view_edges(grey)
    paper, tilt = np.full(2, np.nan), float("nan")
    uneven, torn = Uneven(float("nan")), _NOTHING_TORN
    if capture is not None and corners is not None:
        quad = as_quad(corners)
        paper = paper_rises(capture, quad)
        uneven, torn = _around(capture, quad)
        tilt = tilt_of(quad, (capture.shape[1], capture.shape[0]), focal=focal)
    return Examined(
        sharpness=sharpness_of(rises),
        edge_rise=float(np.fmax(*paper)),
        motion=motion_of(rises, facing, paper),
        clipped_dark=dark,
        clipped_light=light,
        glare=mirrored_lamp(view, whole_frame(view.shape[1], view.shape[0])),
        uneven=uneven,
        tilt_deg=tilt,
        dust=specks(grey),
        image=image_state(thumbnail(_sampled(view, 4 * SIDE)[0], SIDE)),
        torn=torn,
    )


def tilt_of(corners: ArrayLike, frame: tuple[int, int], *, focal: float | None = None) -> float:
    """Degrees between the camera's axis and the plumb line of the print, taken for a flat rectangle.

    The horizon of its plane in the picture is as far from the middle as the focal length over the tangent of the
    tilt (see `Plane.tilt_deg`); `focal` in long sides of the frame.
    """
    return Plane(homography(SHEET, as_quad(corners)), frame).tilt_deg(focal or USUAL_FOCAL)


def _around(capture: Rgb, quad: Quad) -> tuple[Uneven, tuple[Torn, ...]]:
    """What the stage around a print tells."""
    capture, step = _sampled(capture, PAPER_SIDE)
    quad = (quad + 0.5) / step - 0.5
    fine = Reduced(capture, 1.0) if step > 1 else reduce(capture, PAPER_SIDE)
    seen = fine.from_full(quad)
    coarse = reduce(fine.rgb, STAGE_SIDE)
    stage = stage_from_margin(coarse)
    return unevenness(stage, coarse.from_full(seen)), missing_paper(fine.rgb, seen, stage, coarse.from_full(seen))


def _sampled(picture: Rgb, long_side: int) -> tuple[Rgb, int]:
    """A copy of about that size, and the step to its next pixel: the mean of the middle four of 4 × 4, 6 × 6 …
    pixels, which is all that a bilinear look at such a square's middle takes; a smaller picture stays as it is.

    So much is enough for what is looked at much smaller: 4 ms against 16 for all pixels of 14 megapixels.
    """
    step = 2 * round(max(picture.shape) / (2 * long_side))
    if step < 4:
        return picture, 1
    height, width = picture.shape[0] // step, picture.shape[1] // step
    whole = picture[: height * step, : width * step]
    return np.asarray(cv2.resize(whole, (width, height), interpolation=cv2.INTER_LINEAR), np.uint8), step
