"""The condition of a view as it is made, and of the prints in a picture file."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.core.condition import MEASURED, Condition, Missing
from solander.core.errors import NotFound, Trouble
from solander.core.prints import Side, View
from solander.core.sentence import Sentence
from solander.imaging.condition import Examined, examine
from solander.imaging.condition_limits import FADED, MIRRORING, UNEVEN, YELLOWED, capture_faults, print_states
from solander.imaging.conventions import whole_frame
from solander.imaging.decode import Unreadable, decode
from solander.imaging.locate import locate_prints
from solander.imaging.measure import UNDER_A_HAND
from solander.imaging.rectify import straighten

__all__ = ["Measured", "condition_of", "conditions_in"]

Rgb = NDArray[np.uint8]

_OF_FRONTS = FADED, YELLOWED, MIRRORING
"""States of the image: a back has none, and is cream by nature."""


def condition_of(straight: Rgb, rgb: Rgb, view: View, fingerprint: str, *, hand: bool = False) -> Condition:
    """The condition of a view, `straight` as the print lay, that was cut out of the capture `rgb`.

    `hand` tells that a hand reaches over its edge. Where no edge of a print was found, or a detail fills the
    frame, what the capture around it would tell is left open.
    """
    found = view.outline.checked or view.outline.confidence > 0
    around = found and view.side is not Side.DETAIL
    seen = examine(
        straight,
        capture=rgb if around else None,
        corners=view.outline.corners if around else None,
        focal=view.stand.focal if view.stand else None,
    )
    states = print_states(seen)
    if view.side is not Side.RECTO:
        states = tuple(state for state in states if state not in _OF_FRONTS)
    faults = capture_faults(seen)
    if view.stand and view.stand.light:  # the stand's flat field has evened it
        faults = tuple(fault for fault in faults if fault != UNEVEN)
    return _kept(seen, fingerprint, ((UNDER_A_HAND,) if hand else ()) + faults, states)


def _kept(seen: Examined, fingerprint: str, faults: tuple[str, ...], states: tuple[str, ...]) -> Condition:
    moved = "shaken" in faults
    return Condition(
        sharpness=_number(seen.sharpness),
        clipped_dark=seen.clipped_dark,
        clipped_light=seen.clipped_light,
        fingerprint=fingerprint,
        faults=faults,
        states=states,
        edge_rise=_number(seen.edge_rise),
        shake_px=_number(seen.motion.length_px) if moved else None,
        shake_deg=_number(seen.motion.angle_deg) if moved else None,
        glare=seen.glare.share if seen.glare else 0.0,
        glare_at=seen.glare.at if seen.glare else "",
        light_lost=_number(seen.uneven.share),
        darkest=seen.uneven.darkest,
        tilt_deg=_number(seen.tilt_deg),
        dust=seen.dust,
        density=_number(seen.image.density),
        dye_balance=_number(seen.image.dye_balance),
        yellowing=_number(seen.image.yellowing),
        mirroring=_number(seen.image.mirroring),
        missing=tuple(Missing(one.place, round(one.depth, 4)) for one in seen.torn),
        measured=MEASURED,
    )


def _number(value: float) -> float | None:
    return None if math.isnan(value) else round(float(value), 4)


@frozen
class Measured:
    """A print in a picture file: its corners in pixels of it, and its condition."""

    corners: tuple[tuple[float, float], ...]
    condition: Condition


def conditions_in(image: Path) -> list[Measured]:
    """The condition of each print in a picture file; of all of it where no print is found.

    Raises
    ------
    Trouble
        When the file is missing or can't be read.
    """
    if not image.is_file():
        raise NotFound(
            Sentence("%(path)s could not be read", path=image), Sentence("there is no such file"),
            Sentence("Check the name"),
        )  # fmt: skip
    try:
        rgb = decode(image)
    except Unreadable as reason:
        raise Trouble(Sentence("%(name)s could not be read", name=image.name), reason.why, reason.todo) from reason
    found = locate_prints(rgb)
    if not found:
        whole = tuple((float(x), float(y)) for x, y in whole_frame(rgb.shape[1], rgb.shape[0]))
        seen = examine(rgb)
        return [Measured(whole, _kept(seen, "", capture_faults(seen), print_states(seen)))]
    told = []
    for one in found:
        seen = examine(straighten(rgb, one.corners, bows=one.bows), capture=rgb, corners=one.corners)
        faults = ((UNDER_A_HAND,) if one.hand else ()) + capture_faults(seen)
        corners = tuple((float(x), float(y)) for x, y in one.corners)
        told.append(Measured(corners, _kept(seen, "", faults, print_states(seen))))
    return told
