"""The camera over its stage: what a picture of the stage tells, and what each view is cut out with."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.catalogue.store import Act
from solander.core.errors import CannotBegin
from solander.core.prints import Capture, Stand
from solander.core.sentence import Sentence
from solander.imaging.decode import FileFacts, Unreadable, decode, probe
from solander.imaging.in_view import USUAL_FOCAL
from solander.imaging.lens import Lens, LensFit, lens_from_sheets
from solander.imaging.rectify import quarter_turn
from solander.imaging.scale import Plane, plane_of_sheet
from solander.imaging.sheet import SeenSheet, read_sheet
from solander.tasks.collection import Collection

__all__ = ["Stage", "capture_of", "empty_stage", "keep_stage", "lens_of", "plane_of", "stage_of", "stand_for"]

Rgb = NDArray[np.uint8]

STILL_THERE = 0.75
"""Correlation from which a place of the capture still shows what the stage's picture showed there."""

SHARE_THERE = 0.25
"""Share of the sheet's corners that must show for it to lie there still: prints and hands hide the others."""


@frozen
class Stage:
    """A picture of the stage from before a sitting, `path` and `sha256` in the vault.

    `stand` is what it tells of the camera; `corners` where the sheet's corners were in it (empty without a sheet);
    `said` one sentence of what was seen.
    """

    path: Path
    sha256: str
    facts: FileFacts
    stand: Stand
    corners: tuple[tuple[float, float], ...]
    said: str

    @property
    def frame(self) -> tuple[int, int]:
        """Width and height of the picture after EXIF orientation."""
        return self.facts.width, self.facts.height


def keep_stage(collection: Collection, act: Act, picture: Path) -> Stage:
    """Takes a picture of the stage into the collection, as a capture without a print, and reads it.

    Raises
    ------
    CannotBegin
        When it can't be read: nobody would want a sitting without what they asked for.
    """
    what = Sentence("The picture of the stage, %(picture)s, could not be read", picture=picture.name)
    if not picture.is_file():
        raise CannotBegin(what, Sentence("there is no such file"), Sentence("Check the name"))
    try:
        facts = probe(picture)
        kept = collection.vault.put(picture, suffix=facts.suffix)
        stage = stage_of(kept.path, kept.sha256, picture.name)
    except Unreadable as reason:
        raise CannotBegin(what, reason.why, reason.todo) from reason
    with act.work() as work:
        work.keep_capture(capture_of(kept.path, picture.name, kept.sha256, facts))
        work.keep_arrival(picture.name, kept.sha256)
        work.commit()
    return stage


def capture_of(path: Path, name: str, sha256: str, facts: FileFacts) -> Capture:
    """The record of a capture in the vault that arrived as `name`."""
    return Capture(
        sha256=sha256,
        name=name,
        media_type=facts.media_type,
        size=path.stat().st_size,
        width=facts.width,
        height=facts.height,
        pages=facts.pages,
        dpi=facts.dpi,
        taken=facts.taken,
        suffix=facts.suffix,
    )


def stage_of(path: Path, sha256: str, name: str) -> Stage:
    """What a picture of the stage tells, with the stage sheet on it or without.

    Raises
    ------
    Unreadable
        When it is no picture that is read.
    """
    facts, rgb = probe(path), decode(path)
    seen = read_sheet(rgb)
    fit = lens_from_sheets([seen]) if seen else None
    plane = plane_of_sheet(seen, fit.lens) if seen and fit else None
    if seen is None or fit is None or plane is None:
        said = f"No stage sheet was seen in {name}: it shows what the stage looks like when it is empty."
        return Stage(path, sha256, facts, Stand(focal=facts.focal, picture=sha256), (), said)
    stand = Stand((fit.lens.k1, fit.lens.k2), facts.focal, tuple(plane.to_capture.ravel().tolist()), sha256)
    corners = tuple((float(x), float(y)) for x, y in seen.px)
    return Stage(path, sha256, facts, stand, corners, _said(name, seen, fit, plane, facts))


def stand_for(stage: Stage | None, facts: FileFacts, lens: tuple[float, float] | None = None) -> Stand | None:
    """What is known of the camera for a capture of the sitting; None where nothing is.

    The stage's picture speaks for captures of its own frame, however the camera wrote that they are turned; of a
    capture of another shape it says nothing. `lens` (k1, k2) stands in where no stage sheet tells it.
    """
    focal = facts.focal or (stage.facts.focal if stage else None)
    turns = _turns(stage, facts) if stage else None
    if stage is None or turns is None:
        return Stand(lens or (0.0, 0.0), focal) if focal else None
    if stage.stand.plane is None:
        return Stand(lens or (0.0, 0.0), focal, None, stage.sha256)
    turned = Plane(np.reshape(stage.stand.plane, (3, 3)), stage.frame).turned(turns)
    return Stand(stage.stand.lens, focal, tuple(turned.to_capture.ravel().tolist()), stage.sha256)


def empty_stage(stage: Stage | None, facts: FileFacts, rgb: Rgb) -> Rgb | None:
    """The stage's picture as the empty stage of a capture; None where it was another stage.

    A stage sheet that was taken away, or a camera that was moved, leaves another stage behind.
    """
    turns = _turns(stage, facts) if stage else None
    if stage is None or turns is None:
        return None
    empty = quarter_turn(_picture(stage.path), turns)
    if stage.corners and not _lies_there(stage, turns, empty, rgb):
        return None
    return empty


def lens_of(stand: Stand | None) -> Lens | None:
    """The lens that is known, None for one without distortion."""
    return Lens(*stand.lens) if stand and any(stand.lens) else None


def plane_of(stand: Stand | None, frame: tuple[int, int]) -> Plane | None:
    """The stage that is known, as a capture of `frame` shows it."""
    if stand is None or stand.plane is None:
        return None
    return Plane(np.reshape(stand.plane, (3, 3)), frame, Lens(*stand.lens))


@lru_cache(maxsize=1)
def _picture(path: Path) -> Rgb:
    """Decoded once in each process: every capture of the sitting is compared with it."""
    return decode(path)


def _turns(stage: Stage, facts: FileFacts) -> int | None:
    """Quarter turns clockwise from the stage's picture to a capture; None where it is another frame."""
    now, before = facts.quarter_turns, stage.facts.quarter_turns
    if now is None or before is None:
        return 0 if (facts.width, facts.height) == stage.frame and now == before else None
    turns = (now - before) % 4
    turned = stage.frame if turns % 2 == 0 else stage.frame[::-1]
    return turns if (facts.width, facts.height) == turned else None


def _lies_there(stage: Stage, turns: int, empty: Rgb, rgb: Rgb) -> bool:
    """Whether enough of the sheet's corners look as they did."""
    places, shown, reach = np.array(stage.corners), [], 8
    for turn in range(turns):
        height = stage.frame[1 - turn % 2]
        places = np.stack([height - 1 - places[:, 1], places[:, 0]], axis=1)
    for x, y in np.rint(places).astype(int):
        box = (slice(max(0, y - reach), y + reach + 1), slice(max(0, x - reach), x + reach + 1))
        then, now = (cv2.cvtColor(picture[box], cv2.COLOR_RGB2GRAY).astype(float) for picture in (empty, rgb))
        spread = float(then.std() * now.std())
        alike = float(((then - then.mean()) * (now - now.mean())).mean()) / spread if spread > 1e-6 else 0.0
        shown.append(alike > STILL_THERE)
    return float(np.mean(shown)) >= SHARE_THERE


def _said(name: str, seen: SeenSheet, fit: LensFit, plane: Plane, facts: FileFacts) -> str:
    about, ppi = "" if facts.focal else "about ", plane.px_per_mm() * 25.4
    return (
        f"The stage sheet was seen in {name} ({len(seen.mm)} corners): {ppi:.0f} pixels an inch, "
        f"tilted by {about}{plane.tilt_deg(facts.focal or USUAL_FOCAL):.1f}°, "
        f"the lens moves the picture's corners {_way(fit.lens.shift_at_corner())} (± {2 * fit.sigma:.2f} %)."
    )


def _way(shift: float) -> str:
    return f"{abs(shift):.2f} % of its diagonal {'outwards' if shift > 0 else 'inwards'}"
