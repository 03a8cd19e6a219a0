"""A picture that arrives at a station: kept first, then found, straightened and measured."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from attrs import frozen

from solander.core.prints import Capture, Print, Side, View
from solander.imaging.compare import distance
from solander.imaging.decode import FileFacts, Unreadable, probe
from solander.imaging.one_negative import likeness
from solander.tasks.collection import Collection
from solander.tasks.known_points import small_picture
from solander.tasks.lens import KnownLenses
from solander.tasks.prepare import Job, prepare, set_aside
from solander.tasks.stand import Stage, capture_of
from solander.tasks.stand_light import kept_profile

__all__ = ["Still", "keep_still", "looks_like"]

NEAR = 12
"""Bits of 64 in which two fingerprints may differ to be worth a closer look; the closer look decides."""

_LOOKED_THROUGH = 200
"""So many of the last views of that camera are compared at once; all others are compared a little later."""


@frozen
class Still:
    """A picture in the vault with what was found in it; `prints` are those that came of the same bytes before."""

    capture: Capture
    path: Path
    name: str
    views: tuple[View, ...]
    prints: tuple[Print, ...] = ()

    @property
    def is_found(self) -> bool:
        """Whether a print was found in it at all."""
        return any(view.outline.confidence > 0 for view in self.views)


def keep_still(
    collection: Collection,
    picture: bytes,
    name: str,
    side: Side,
    *,
    stage: Stage | None = None,
    lenses: KnownLenses | None = None,
) -> Still:
    """Keeps the bytes, on the disk before anything else happens, and finds the prints in them.

    Raises
    ------
    Trouble
        When they are no picture that is read: nothing is kept then; or the disk is full.
    """
    looked: list[FileFacts] = []
    try:
        kept = collection.vault.put(picture, suffix=_suffix(looked))
        facts = looked[0] if looked else probe(kept.path)
    except Unreadable as reason:
        raise set_aside(name, reason) from reason
    capture = capture_of(kept.path, name, kept.sha256, facts)
    if there := collection.catalogue.prints_of_capture(kept.sha256):
        return Still(capture, kept.path, name, (), tuple(there))
    lens = lenses.of(facts) if lenses else None
    job = Job(
        kept.path, name, kept.sha256, side, collection.views_root, None, stage, lens,
        profile=kept_profile(collection),
    )  # fmt: skip
    return Still(capture, kept.path, name, prepare(job).views)


def _suffix(looked: list[FileFacts]) -> Callable[[Path], str]:
    def suffix(arrived: Path) -> str:
        looked.append(probe(arrived))
        return looked[0].suffix

    return suffix


def looks_like(collection: Collection, view: View, frame: tuple[int, int]) -> View | None:
    """The front taken lately that shows the same photograph; None where none does."""
    if view.condition is None:
        return None
    for other in collection.catalogue.latest_views(frame, _LOOKED_THROUGH):
        if other.side is not Side.RECTO or other.condition is None or other.capture == view.capture:
            continue
        if distance(view.condition.fingerprint, other.condition.fingerprint) > NEAR:
            continue
        pictures = (small_picture(collection.views_root, collection.vault, one) for one in (view, other))
        if likeness(*pictures, mirrored=False).is_one_negative:
            return other
    return None
