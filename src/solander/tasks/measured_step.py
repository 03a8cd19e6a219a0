"""A step as it begins for one view: measured on it, from a place that a person picked, or a first small move."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from attrs import frozen

from solander.core.errors import Trouble
from solander.core.prints import View
from solander.core.sentence import Sentence
from solander.core.treatments import Step
from solander.imaging.conventions import Rgb
from solander.imaging.treatment.blocks import Grid, grid_of
from solander.imaging.treatment.border import find_border
from solander.imaging.treatment.fading import density_at, fading_from
from solander.imaging.treatment.marks import find_marks
from solander.imaging.treatment.texture import texture_peaks
from solander.imaging.treatment.tone import neutral_shift
from solander.imaging.treatment.yellowing import yellowing_of
from solander.tasks.collection import Collection

__all__ = ["OFFERED", "Place", "faces_in", "grid_in", "measured_step", "not_begun"]

Place = tuple[float, float]
"""x and y as shares of the view."""

FaceBox = tuple[float, float, float, float]


@frozen(eq=False)
class _Shown:
    """What a step is measured on."""

    rgb: Rgb
    place: Place | None
    faces: Sequence[FaceBox]
    grid: Grid | None


_FIRST: Mapping[str, Mapping[str, Any]] = {
    "density": {"by": 0.1},
    "tone curve": {"points": [[0, 0], [0.25, 0.25], [0.75, 0.75], [1, 1]]},
    "detail": {"shadows": 0.3},
    "keystone": {"corners": [[0, 0], [1, 0], [1, 1], [0, 1]]},
    "fine turn": {"degrees": 1.0},
    "quarter turn": {"turns": 1},
    "output": {"long_side": 2000},
}
"""Small first moves of steps that nothing on the view decides."""

OFFERED = ("marks", "texture", "fading", "yellowing", "neutral", *_FIRST, "crop")
"""The steps that can be begun for any view, without another picture."""


def measured_step(
    rgb: Rgb,
    name: str,
    *,
    place: Place | None = None,
    faces: Sequence[FaceBox] = (),
    grid: Grid | None = None,
    who: str = "archivist",
) -> Step:
    """The step of that kind for the untreated view `rgb`; nothing is marked on `faces` (boxes of the view). What
    the file of its capture left behind is no texture where its `grid` is told (`imaging.treatment.blocks`).

    Raises
    ------
    Trouble
        When the view does not show what the step needs; the sentence says what it is and what to do.
    """
    if name in _MEASURED:
        reason = _SHOWN_DARK if name == "fading" else ""
        return Step(name, _MEASURED[name](_Shown(rgb, place, faces, grid)), who=who, reason=reason)
    if name in _FIRST:
        return Step(name, _FIRST[name], who=who)
    raise not_begun(
        Sentence("it needs another picture"), Sentence("Capture the print again with the lamp on the other side")
    )


def grid_in(view: View) -> Grid:
    """The grid of the capture's file in a view as it is shown."""
    return grid_of(view.outline.corners, view.laid_size, view.turn)


def faces_in(collection: Collection, view: View) -> list[FaceBox]:
    """The boxes of faces in a view as it is shown."""
    boxes = [face.box.turned(view.turn) for face in collection.catalogue.faces(view=view.key)]
    return [(box.left, box.top, box.width, box.height) for box in boxes]


def _fading(shown: _Shown) -> Mapping[str, Any]:
    border = find_border(shown.rgb)
    if border is None:
        raise not_begun(_NO_BORDER, Sentence("Make a place neutral that was grey instead"))
    if shown.place is None:
        raise not_begun(
            Sentence("nothing tells yet how far the colours have faded"),
            Sentence("Pick a place that was a neutral dark: asphalt, a black coat, the pupil of an eye"),
        )
    found = fading_from(border.density, density_at(shown.rgb, shown.place))
    if found is None:
        raise not_begun(Sentence("that place is too light to tell"), Sentence("Pick a darker one"))
    return {"stain": found.stain, "gain": found.gain, "place": shown.place}


def _neutral(shown: _Shown) -> Mapping[str, Any]:
    if shown.place is not None:
        return {"shift": neutral_shift(density_at(shown.rgb, shown.place)), "place": shown.place}
    border = find_border(shown.rgb)
    if border is None:
        raise not_begun(_NO_BORDER, Sentence("Pick a place that was grey or white"))
    return {"shift": neutral_shift(border.density)}


def _yellowing(shown: _Shown) -> Mapping[str, Any]:
    found = yellowing_of(shown.rgb, find_border(shown.rgb))
    if found is None:
        raise not_begun(Sentence("the print is in colour"), Sentence("Make its border neutral instead"))
    return {"stain": found.stain}


def _texture(shown: _Shown) -> Mapping[str, Any]:
    peaks = texture_peaks(shown.rgb, grid=shown.grid)
    if not peaks:
        raise not_begun(Sentence("no pattern repeats all over its paper"), Sentence("Leave it as it is"))
    return {"peaks": peaks}


def _marks(shown: _Shown) -> Mapping[str, Any]:
    strokes = find_marks(shown.rgb, shown.faces)
    if not strokes:
        raise not_begun(
            Sentence("no dust and no scratch was found that could be told from the picture"),
            Sentence("Draw a mark where you see one"),
        )
    return {"strokes": strokes}


def _crop(shown: _Shown) -> Mapping[str, Any]:
    border = find_border(shown.rgb)
    return {"box": border.picture, "to": "picture"} if border else {"box": (0.0, 0.0, 1.0, 1.0), "to": "box"}


_MEASURED = {
    "fading": _fading,
    "neutral": _neutral,
    "yellowing": _yellowing,
    "texture": _texture,
    "marks": _marks,
    "crop": _crop,
}

_SHOWN_DARK = Sentence("a place was shown that was a neutral dark")
_NO_BORDER = Sentence("no bare paper border was found")


def not_begun(why: Sentence, todo: Sentence) -> Trouble:
    """What is told where a view does not show what a step needs."""
    return Trouble(Sentence("That can't be done to this print"), why, todo)
