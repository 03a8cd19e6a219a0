"""The pictures that steps of a treatment name by the SHA-256 of a capture, as the view would show them.

Both are made anew for the view as it is, so that nothing has to be carried along when it is turned or cut out
anew: the second of two lights by the view's own outline (only the lamp was moved), a blank sheet of the stage by
where the print lay on it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from solander.core.errors import Trouble
from solander.core.prints import View
from solander.core.sentence import Sentence
from solander.core.treatments import Step
from solander.imaging.conventions import Rgb
from solander.imaging.decode import FileFacts, Unreadable, decode, probe
from solander.imaging.evenness import flat_of, read_blank
from solander.imaging.in_view import InView
from solander.imaging.lens import Lens
from solander.imaging.rectify import quarter_turn
from solander.tasks.collection import Collection
from solander.tasks.prepare import laid_straight

__all__ = ["NAMED", "field_of", "pictures_named", "second_of"]

NAMED: Mapping[str, str] = {"two lights": "second", "even light": "field"}
"""Steps that name a picture, and the parameter that does."""

LEAST_BLANK = 0.75
"""Share of the frame that a sheet must fill: around a print or a chart much of the stage is bare, too."""

SAME_FOCAL = 1e-3
"""Share by which two focal lengths may differ and be one, as for the stand's profile."""

CELLS = 48
"""Places of a flat field along the longer side: it is smooth (`imaging.evenness`)."""


def pictures_named(collection: Collection, view: View, steps: Iterable[Step]) -> dict[str, NDArray[Any]]:
    """Each picture by the name that a step has for it, as this view would show it.

    Raises
    ------
    Trouble
        When one is not there, can't be read, or does not show what the step needs.
    """
    made: dict[str, NDArray[Any]] = {}
    for step in steps:
        if step.name in NAMED:
            name = str(step.parameters[NAMED[step.name]])
            try:
                made[name] = _MADE[step.name](collection, view, name)
            except Unreadable as reason:
                raise Trouble(
                    Sentence("%(step)s can't be done", step=step.told), reason.why, Sentence("Switch the step off")
                ) from reason
    return made


def second_of(collection: Collection, view: View, sha256: str) -> Rgb:
    """What another capture shows where the view's own shows the print, uint8, of the view's size.

    Raises
    ------
    Unreadable
        When it is not there, or is of another frame.
    """
    facts, second = _facts(collection, view.capture), _facts(collection, sha256)
    if _quarters(second, facts) != 0:
        raise Unreadable(
            Sentence("the two captures are not of one size"), Sentence("Leave camera and print where they are")
        )
    rgb = decode(collection.vault.path(sha256), view.page if second.pages > view.page else 0)
    return quarter_turn(laid_straight(rgb, evolve(view, capture=sha256)), view.turn)


def field_of(collection: Collection, view: View, sha256: str) -> NDArray[np.float64]:
    """The light that a blank sheet shows where the print of the view lay, 0–1 of the brightest place of the frame,
    (height, width, 3), small.

    Raises
    ------
    Unreadable
        When the capture is not there, is of another frame, or shows no blank sheet.
    """
    of_view, of_blank = _facts(collection, view.capture), _facts(collection, sha256)
    turns = _quarters(of_blank, of_view)
    if turns is None:
        raise Unreadable(
            Sentence("the blank sheet was not taken with the frame of this capture"),
            Sentence("Take a blank sheet at the same stand"),
        )
    blank = read_blank(decode(collection.vault.path(sha256)))
    if blank is None or blank.share < LEAST_BLANK:
        raise Unreadable(
            Sentence("it shows no blank sheet that fills most of it"), Sentence("Take a blank sheet of paper")
        )
    stand = view.stand
    paper = InView(
        view.outline.corners,
        (of_view.width, of_view.height),
        lens=Lens(*stand.lens) if stand else None,
        bows=view.outline.bows,
        focal=stand.focal if stand else None,
    )
    wide, high = view.laid_size
    columns, rows = (max(2, round(CELLS * side / max(wide, high))) for side in (wide, high))
    shares = np.stack(np.meshgrid((np.arange(columns) + 0.5) / columns, (np.arange(rows) + 0.5) / rows), axis=-1)
    light = flat_of(blank).turned(turns).light_at(paper.seen(shares), (of_view.width, of_view.height))
    return np.asarray(np.rot90(light, -view.turn), np.float64)


def _facts(collection: Collection, sha256: str) -> FileFacts:
    if collection.catalogue.capture(sha256) is None:
        raise Unreadable(Sentence("the picture %(name)s is not there", name=sha256[:12]), "")
    return probe(collection.vault.path(sha256))


def _quarters(before: FileFacts, now: FileFacts) -> int | None:
    """Quarter turns clockwise from one capture's frame to another's; None where they are of different frames."""
    if before.dpi != now.dpi or not _same_focal(before.focal, now.focal):
        return None
    turns = ((now.quarter_turns or 0) - (before.quarter_turns or 0)) % 4
    size = (before.width, before.height) if turns % 2 == 0 else (before.height, before.width)
    return turns if size == (now.width, now.height) else None


def _same_focal(one: float | None, other: float | None) -> bool:
    return one == other or (one is not None and other is not None and abs(one - other) < SAME_FOCAL * one)


_MADE: Mapping[str, Callable[[Collection, View, str], NDArray[Any]]] = {
    "two lights": second_of,
    "even light": field_of,
}
