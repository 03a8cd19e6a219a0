"""Steps that need another picture, begun with one that the collection has: a second light, a blank sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.core.errors import Trouble
from solander.core.prints import View
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.treatments import Step
from solander.imaging.conventions import WrongPicture
from solander.imaging.decode import Unreadable
from solander.imaging.treatment.deep import as_deep
from solander.imaging.treatment.two_lights import merge_two_lights
from solander.tasks.collection import Collection
from solander.tasks.measured_step import not_begun
from solander.tasks.pictures_named import NAMED, field_of, second_of
from solander.tasks.seen_twice import prints_asked_about
from solander.tasks.stand_light import kept_profile
from solander.tasks.treated import untreated_pixels

__all__ = ["offered_with_picture", "step_with_picture"]

SIDE = 900
"""Pixels at which two captures are compared: glare is broad."""

GLARE = 0.002
"""Share of the picture in which one of two lights is taken alone, from which their merging is worth while: less is
noise along edges."""

UNEVEN = 0.03
"""Share of light lost across the print from which evening it is worth while: less nobody sees (our choice)."""


def offered_with_picture(collection: Collection, view: View) -> tuple[str, ...]:
    """The steps of that kind for which there is a picture that shows a difference; looked for in full, so slow."""
    offered = []
    for name in NAMED:
        try:
            step_with_picture(collection, view, name)
        except Trouble:
            continue
        offered.append(name)
    return tuple(offered)


def step_with_picture(collection: Collection, view: View, name: str, *, who: str = "archivist") -> Step:
    """The step “two lights” or “even light” of a view, with the first picture that fits.

    Raises
    ------
    Trouble
        When there is none; the sentence says what to do.
    """
    return _two_lights(collection, view, who) if name == "two lights" else _even_light(collection, view, who)


def _two_lights(collection: Collection, view: View, who: str) -> Step:
    first: NDArray[Any] | None = None
    for sha256 in _other_captures(collection, view):
        first = _small(untreated_pixels(collection, view)) if first is None else first
        try:
            second = _small(second_of(collection, view, sha256))
            merged = merge_two_lights(as_deep(first), as_deep(second))
        except (Unreadable, WrongPicture):
            continue
        if merged.one_sided > GLARE:
            reason = Sentence("a second capture shows it without the glare of the first")
            return Step("two lights", {"second": sha256}, who=who, reason=reason)
    raise not_begun(
        Sentence("no second capture of this side has its glare in another place"),
        Sentence("Capture it again without moving it, with the lamp on the other side"),
    )


def _other_captures(collection: Collection, view: View) -> Iterator[str]:
    """Other captures of the same side: those that were not chosen, too, and those of prints that were asked about
    as this one captured twice."""
    catalogue = collection.catalogue
    accession = catalogue.view(view.key)[0]
    asked = (prints_asked_about(one) for one in catalogue.questions(settled=True) if one.asks is Asks.DUPLICATE)
    alike = dict.fromkeys(each for pair in asked if accession in pair for each in pair)
    for each in {accession: None} | alike:
        yield from (one for one in catalogue.captures_of_side(each, view.side) if one != view.capture)


def _even_light(collection: Collection, view: View, who: str) -> Step:
    if view.stand and view.stand.light and view.stand.light.flat:
        raise not_begun(
            Sentence("its light was evened by the stand's profile when it was cut out"),
            Sentence("Leave it as it is"),
        )
    for sha256 in _blank_sheets(collection, view):
        try:
            light = field_of(collection, view, sha256)
        except Unreadable:
            continue
        if 1 - float((light.min(axis=(0, 1)) / light.max(axis=(0, 1))).min()) > UNEVEN:
            reason = Sentence("a blank sheet at the same stand was lit unevenly where the print lay")
            return Step("even light", {"field": sha256}, who=who, reason=reason)
    raise not_begun(
        Sentence("no blank sheet at its stand shows uneven light where it lay"),
        Sentence("Measure the stand with a blank sheet, with camera and lamps as they were"),
    )


def _blank_sheets(collection: Collection, view: View) -> Iterator[str]:
    """Captures that may show one: the stage's picture of its sitting, then those that measured the stand."""
    if view.stand and view.stand.picture:
        yield view.stand.picture
    profile = kept_profile(collection)
    yield from profile.captures if profile else ()


def _small(rgb: NDArray[np.uint8]) -> NDArray[np.uint8]:
    scale = min(1.0, SIDE / max(rgb.shape[:2]))
    small = cv2.resize(rgb, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else rgb
    return np.asarray(small, np.uint8)
