"""A treatment applied to a view: steps of data in, a picture out, always the same for the same.

Convention: see `deep`. A view is uint8 or uint16 sRGB, what comes out uint8. A step has a `name` and `parameters`
(see `solander.core.treatments`, which checks them; what is wrong here raises `WrongPicture`). `others` holds
pictures that a step names: the second of two lights (uint8), a flat field (linear light).

Steps that go one channel at a time are made one table, in densities that are cut off nowhere between them, and
looked up in bands of rows; only what needs its surroundings holds the whole picture in 16 bits. Nothing is random,
and no band knows of another, so that the same steps give the same bits on the same machine; between processors the
last bit of a table may differ.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, Protocol

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, WrongPicture
from solander.imaging.treatment import detail, even_light, fading, frame, marks, output, texture, tone, two_lights
from solander.imaging.treatment.deep import (
    CODES,
    Deep,
    Densities,
    Table,
    as_deep,
    as_rgb,
    density_of_codes,
    encode_density,
)

__all__ = ["BY_CHANNEL", "FRAMING", "WHOLE", "Others", "Picture", "Step", "Treated", "placed", "treat"]

Picture = NDArray[Any]
"""A view on its way, 8 or 16 bits."""

Others = Mapping[str, NDArray[Any]]

BAND = 512
"""Rows at a time: a band of a wide view and its table lie in the processor's cache, and it is whole tiles of the
pattern that fills in 8 bits."""

STRETCHED = 1.25
"""Steepness of a table from which the steps of 8 bits would show as bands and are filled in."""

SAMPLED = 4
"""Every so many pixels, both ways, it is counted what went beyond what can be shown."""


class Step(Protocol):
    """One step as data."""

    @property
    def name(self) -> str:
        """What is done."""

    @property
    def parameters(self) -> Mapping[str, Any]:
        """With which numbers."""


@frozen(eq=False)
class Treated:
    """The `picture`, and the share (0–1) of it in which a channel that was not at an end of the scale was driven
    beyond it (`clipped`): what is lost there is still in the view."""

    picture: Rgb
    clipped: float


def treat(view: Rgb | Deep, steps: Iterable[Step], *, others: Others | None = None) -> Treated:
    """The view with the steps done in their order.

    Raises
    ------
    WrongPicture
        When a step is unknown, its parameters can't be worked with, or a picture that it names is missing.
    """
    runs = _runs(steps)
    if not runs:
        return Treated(_eight_bits(as_deep(view)), 0.0)
    picture: Picture = view
    clipped = 0.0
    for number, run in enumerate(runs):
        step, kind = run[0], _kind(run[0])
        if kind == TABLE:
            picture, beyond = _looked_up(picture, table_of(run), last=number == len(runs) - 1)
            clipped = max(clipped, beyond)
        elif kind == FRAME:
            picture = frame.framed(picture, **_framing(run))
        else:
            before, picture = picture, WHOLE[step.name](picture, step.parameters, others or {})
            if step.name in IN_PLACE:
                clipped = max(clipped, _came_to_ends(before, picture))
    return Treated(_eight_bits(picture), clipped)


def placed(places: NDArray[np.float64], size: tuple[int, int], steps: Iterable[Step]) -> NDArray[np.float64]:
    """Where places (n, 2) of a view of that size (width, height) lie once it is treated: shares of either, outside
    0–1 for what was cut off."""
    framing = [step for step in steps if step.name in FRAMING]
    return frame.placed(places, size, **_framing(framing)) if framing else places


def _eight_bits(picture: Picture) -> Rgb:
    return np.asarray(picture, np.uint8) if picture.dtype == np.uint8 else as_rgb(picture)


def table_of(steps: Sequence[Step]) -> Table:
    """What steps that go one channel at a time make of each code; see `deep.Table`."""
    density: Densities = np.repeat(density_of_codes()[:, None], 3, axis=1)
    for step in steps:
        density = BY_CHANNEL[step.name](density, step.parameters)
    return encode_density(density)


TABLE, FRAME = "table", "frame"
"""Kinds of step of which several that follow each other are done as one."""


def _runs(steps: Iterable[Step]) -> list[list[Step]]:
    """The steps in order, those together that are done as one."""
    runs: list[list[Step]] = []
    for step in steps:
        kind = _kind(step)
        together = bool(runs) and kind == _kind(runs[-1][-1]) and kind in (TABLE, FRAME)
        if together and (kind == TABLE or _ORDER[runs[-1][-1].name] < _ORDER[step.name]):
            runs[-1].append(step)
        else:
            runs.append([step])
    return runs


def _kind(step: Step) -> str:
    if step.name == "fading" and step.parameters.get("side_absorptions"):
        return step.name
    if step.name in BY_CHANNEL:
        return TABLE
    if step.name in FRAMING:
        return FRAME
    if step.name in WHOLE:
        return step.name
    raise WrongPicture(f"no step is called {step.name}")


def _framing(steps: Sequence[Step]) -> dict[str, Any]:
    """What turns and crops, together: the picture is then resampled once."""
    return {ours: step.parameters[theirs] for step in steps for theirs, ours in (FRAMING[step.name],)}


def _looked_up(picture: Picture, table: Table, *, last: bool) -> tuple[Picture, float]:
    """The picture by a table, in 8 bits where nothing follows, and the share that went beyond."""
    filled = picture.dtype == np.uint8 and _steepest(table) > STRETCHED
    codes = np.rint(np.clip(table, 0, 1) * (255 if last else CODES - 1))
    lookup: Picture = codes.astype(np.uint8 if last else np.uint16)[None]
    out = np.empty(picture.shape, lookup.dtype)
    for top in range(0, picture.shape[0], BAND):
        deep = as_deep(picture[top : top + BAND], filled=filled)
        cv2.LUT(deep, lookup, dst=out[top : top + BAND])
    return out, _beyond(picture, table)


def _steepest(table: Table) -> float:
    """The greatest rise from one code of 8 bits to the next, in such codes."""
    return float(np.diff(np.clip(table[::257], 0, 1), axis=0).max() * 255)


def _beyond(picture: Picture, table: Table) -> float:
    sample = as_deep(np.ascontiguousarray(picture[::SAMPLED, ::SAMPLED]))
    beyond = (table > 1 + 1 / 510) | (table < -1 / 510)
    ends = np.zeros((CODES, 1), bool)
    ends[-129:], ends[:129] = True, True
    lost = cv2.LUT(sample, (beyond & ~ends).astype(np.uint8)[None])
    return float(lost.any(axis=2).mean())


def _came_to_ends(before: Picture, after: Picture) -> float:
    """The share of pixels of which a channel came to an end of the scale by a step that moves none."""
    was, now = (as_deep(np.ascontiguousarray(each[::SAMPLED, ::SAMPLED])) for each in (before, after))
    at_end, was_near = (now < 1) | (now == CODES - 1), (was < 129) | (was >= CODES - 129)
    return float((at_end & ~was_near).any(axis=2).mean())


def _faded_dyes(picture: Picture, given: Mapping[str, Any], others: Others) -> Deep:
    absorb = np.asarray(given["side_absorptions"], np.float64).reshape(3, 3)
    deep, back = as_deep(picture, filled=True), np.empty(picture.shape, np.uint16)
    for top in range(0, deep.shape[0], BAND):
        back[top : top + BAND] = fading.restore_dyes(deep[top : top + BAND], _fading(given), absorb)
    return back


def _fading(given: Mapping[str, Any]) -> fading.Fading:
    return fading.Fading(tuple(given["stain"]), tuple(given["gain"]))


def _named(others: Others, name: str) -> NDArray[Any]:
    if name not in others:
        raise WrongPicture(f"the picture {name} that a step needs is not there")
    return others[name]


BY_CHANNEL: Mapping[str, Callable[[Densities, Mapping[str, Any]], Densities]] = {
    "fading": lambda density, given: fading.restored(density, _fading(given)),
    "yellowing": lambda density, given: tone.shifted(density, np.multiply(given["stain"], given.get("share", 1))),
    "neutral": lambda density, given: tone.shifted(density, given["shift"]),
    "density": lambda density, given: tone.denser(density, given["by"]),
    "tone curve": lambda density, given: tone.curved(density, given["points"]),
}
"""Steps that go one channel at a time."""

WHOLE: Mapping[str, Callable[[Picture, Mapping[str, Any], Others], Picture]] = {
    "two lights": lambda picture, given, others: (
        two_lights.merge_two_lights(as_deep(picture), as_deep(_named(others, given["second"]))).picture
    ),
    "even light": lambda picture, given, others: even_light.evened(
        as_deep(picture), _named(others, given["field"])
    ),
    "marks": lambda picture, given, _: marks.without_marks(as_deep(picture), given["strokes"]),
    "texture": lambda picture, given, _: texture.without_texture(
        as_deep(picture), tuple(map(tuple, given["peaks"])), strength=given.get("strength", 1.0)
    ),
    "fading": _faded_dyes,
    "detail": lambda picture, given, _: detail.with_detail(
        as_deep(picture), shadows=given.get("shadows", 0.0), highlights=given.get("highlights", 0.0)
    ),
    "output": lambda picture, given, _: output.for_size(
        as_deep(picture), given["long_side"], sharpening=given.get("sharpening", 0.5)
    ),
}
"""Steps that need the surroundings of a pixel."""

FRAMING: Mapping[str, tuple[str, str]] = {
    "keystone": ("corners", "corners"),
    "fine turn": ("degrees", "angle_deg"),
    "crop": ("box", "box"),
    "quarter turn": ("turns", "turns"),
}
"""Steps that move pixels, in the order in which `frame.framed` does them: their parameter, and its own."""

_ORDER = {name: place for place, name in enumerate(FRAMING)}

IN_PLACE = ("even light", "fading", "detail")
"""Those of `WHOLE` that keep every pixel in its place and may drive some beyond what can be shown."""
