"""The prints of the made-up box as sheets of paper, fronts and backs. Everybody and every place is made up."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from importlib.resources import files
from typing import Any

import cv2
import numpy as np

from solander.imaging.simulate import Cut, Inscription, Paper, drawn_picture, written_back
from solander.imaging.simulate.light import Rgb

__all__ = ["SHEETS", "sheet"]

_Maker = Callable[[], Paper]
_INK, _PENCIL, _BIRO, _STAMP = (34, 40, 72), (104, 101, 98), (30, 58, 140), (104, 62, 124)


def sheet(name: str) -> Paper:
    """One side of a print by its name in `SHEETS`: `e1-01`, its back `e1-01 back`, `album 2`.

    Raises KeyError for a name that is not there.
    """
    return SHEETS[name]()


def _photograph(name: str, size_mm: tuple[float, float], **more: Any) -> _Maker:
    """A sheet that bears one of the box's pictures."""
    return lambda: Paper(_picture(name), size_mm, **more)


def _drawing(drawn: int, style: str, size_mm: tuple[float, float], **more: Any) -> _Maker:
    """A sheet that bears a drawn picture; it is drawn in the sheet's proportions."""
    width = 1300
    size = (width, round(width * size_mm[1] / size_mm[0]))
    return lambda: Paper(drawn_picture(drawn, size, style=style), size_mm, **more)


def _back(front: _Maker, *inscriptions: Inscription, glue: float = 0.0) -> _Maker:
    """The back of a sheet: the same paper, turned over sideways."""

    def turned_over() -> Paper:
        paper = front()
        return Paper(
            written_back(inscriptions, size_mm=paper.size_mm, glue=glue, seed=paper.seed),
            size_mm=paper.size_mm,
            border_mm=0.0,
            tone="colour",
            yellowing=0.5 * paper.yellowing,
            cut=paper.cut,
            curl=-paper.curl,
            seed=paper.seed + 100,
        )

    return turned_over


def _written(font: str, text: str, at_mm: tuple[float, float], **more: Any) -> Inscription:
    return Inscription(text, _font(font), at_mm=at_mm, **more)


def _picture(name: str) -> Rgb:
    data = (files("solander.demo") / "box" / "pictures" / f"{name}.jpg").read_bytes()
    decoded = np.asarray(cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_COLOR), np.uint8)
    return np.ascontiguousarray(decoded[..., ::-1])


@cache
def _font(name: str) -> bytes:
    return (files("solander.demo") / "box" / "fonts" / f"{name}.ttf").read_bytes()


_OLD_HARBOUR = _photograph(
    "old-harbour", (102, 72), border_mm=3, tone="sepia", fading=0.35, yellowing=0.8, creases=0.5, seed=1
)
_AEROPLANE = _photograph(
    "aeroplane", (105, 76), border_mm=4.5, tone="sepia", fading=0.25, yellowing=0.6, curl=0.006, seed=2
)
_REGATTA = _drawing(
    4, "harbour", (92, 66), border_mm=5.5, fading=0.15, yellowing=0.4, cut=Cut(deckle_mm=0.9), seed=3
)
_SHED = _photograph("shed", (88, 70), border_mm=5, fading=0.2, yellowing=0.45, cut=Cut(deckle_mm=0.7), seed=4)
_DOGS = _photograph("dogs", (70, 100), border_mm=4, fading=0.1, yellowing=0.3, seed=6)

SHEETS: Mapping[str, _Maker] = {
    "e1-01": _OLD_HARBOUR,
    "e1-01 back": _back(
        _OLD_HARBOUR,
        _written(
            "BadScript",
            "The old harbour, where I\nbought the lacquer box\nfor Mother.",
            (11, 20),
            height_mm=7,
            angle_deg=-3,
            ink=_INK,
        ),
        _written("BadScript", "Håkon, winter 1932-33", (33, 59), height_mm=6, angle_deg=-4, ink=_INK),
        glue=0.8,
    ),
    "e1-02": _AEROPLANE,
    "e1-02 back": _back(
        _AEROPLANE,
        _written(
            "BadScript",
            "From the other machine.\nTernvik lies under the\nleft wing!",
            (12, 22),
            height_mm=7,
            angle_deg=2,
            ink=_PENCIL,
        ),
        _written("BadScript", "Tadek, before the war", (38, 65), height_mm=6, angle_deg=1, ink=_PENCIL),
        glue=0.6,
    ),
    "e2-01": _REGATTA,
    "e2-01 back": _back(
        _REGATTA,
        _written("Caveat", "Regatta day, 3/7/48", (13, 24), height_mm=10, ink=_BIRO),
        _written("Caveat", "Ned at the tiller of no. 14", (13, 40), height_mm=8, angle_deg=-2.5, ink=_BIRO),
    ),
    "e2-02": _SHED,
    "e2-02 back": _back(
        _SHED,
        _written(
            "BadScript",
            "The net shed at Sandvær,\nbetween 1948 and 1952,\nbefore the roof blew off",
            (10, 24),
            height_mm=6,
            angle_deg=-2,
            ink=_INK,
        ),
        glue=0.4,
    ),
    "e2-03": _photograph("stream", (90, 64), border_mm=4, fading=0.2, yellowing=0.35, seed=5),
    "e3-01": _DOGS,
    "e3-01 back": _back(
        _DOGS,
        _written(
            "CourierPrime-Bold",
            "DEVELOPED\nSEP 1959",
            (20, 74),
            height_mm=6,
            angle_deg=-7,
            ink=_STAMP,
            stamped=True,
        ),
        _written("Caveat", "Bamse & Pontus\nare waiting for Ned", (10, 24), height_mm=8, angle_deg=-3, ink=_BIRO),
    ),
    "e3-02": _drawing(5, "town", (98, 70), border_mm=4, fading=0.15, yellowing=0.3, seed=7),
    "e3-03": _drawing(1, "harbour", (88, 88), border_mm=4.5, fading=0.1, yellowing=0.25, seed=8),
    "e4-01": _photograph(
        "pass", (127, 89), border_mm=0, tone="colour", fading=0.75, yellowing=0.2, cut=Cut(corner_mm=4), seed=9
    ),
    "e4-02": _photograph("sunset", (105, 75), border_mm=4, tone="colour", fading=0.8, yellowing=0.25, seed=10),
    "e4-03": _photograph(
        "cat", (89, 89), border_mm=5, tone="colour", fading=0.85, yellowing=0.3, cut=Cut(corner_mm=3), seed=11
    ),
    "album 1": _photograph("mountains", (88, 58), border_mm=3.5, fading=0.2, yellowing=0.55, seed=12),
    "album 2": _photograph("autumn-field", (85, 60), border_mm=4, fading=0.3, yellowing=0.45, seed=13),
    "album 3": _photograph(
        "garden-plant",
        (58, 72),
        border_mm=4,
        tone="sepia",
        fading=0.2,
        yellowing=0.5,
        seed=14,
    ),
    "album 4": _photograph("clock-flower", (88, 60), border_mm=0, fading=0.25, yellowing=0.4, seed=15),
}
"""What makes each sheet, by name. Sizes in mm: common formats of the time (common practice, no source)."""
