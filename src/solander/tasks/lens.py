"""The lens of a camera, learnt from the prints that it has captured before."""

from __future__ import annotations

import numpy as np
from attrs import define, field

from solander.core.prints import SURE_ENOUGH, View
from solander.imaging.curl import side_normals
from solander.imaging.decode import FileFacts
from solander.imaging.lens import LensFit, Side, lens_from_sides
from solander.tasks.collection import Collection

__all__ = ["KnownLenses"]

SURE_SIGMA = 0.15
"""Standard deviation of the shift at the frame's corner, in % of the diagonal, up to which a lens is believed."""

CLEARLY = 3.0
"""Standard deviations by which it must differ from no distortion at all."""

SAME_FOCAL = 1e-3


@define
class KnownLenses:
    """Lenses by frame and focal length, each worked out once, when a capture first asks for it.

    A camera is told by the size of its pictures and its focal length: only captures that tell one are of a camera.
    """

    collection: Collection
    _found: dict[tuple[int, int, float], tuple[float, float] | None] = field(factory=dict)

    def of(self, facts: FileFacts) -> tuple[float, float] | None:
        """k1 and k2 of the camera that took a capture; None where its earlier prints don't tell them clearly."""
        if facts.focal is None:
            return None
        camera = (max(facts.width, facts.height), min(facts.width, facts.height), facts.focal)
        if camera not in self._found:
            self._found[camera] = _believed(self._fit(*camera))
        return self._found[camera]

    def _fit(self, long_side: int, short_side: int, focal: float) -> LensFit | None:
        prints = [
            sides_of(view, frame)
            for frame in {(long_side, short_side), (short_side, long_side)}
            for view in self.collection.catalogue.latest_views(frame)
            if _is_of(view, focal)
        ]
        return lens_from_sides(prints)


def sides_of(view: View, frame: tuple[int, int]) -> list[Side]:
    """The four sides as found: two corners and the place half-way, each."""
    corners = np.array(view.outline.corners)
    normals, middles = side_normals(corners)
    bowed = middles + normals * np.array(view.outline.bows or (0.0,) * 4)[:, None]
    return [Side(np.array([corners[i], bowed[i], corners[(i + 1) % 4]]), frame) for i in range(4)]


def _is_of(view: View, focal: float) -> bool:
    """Whether a machine found the view's edges surely, through that focal length: a hand measures no bows."""
    found = view.outline.confidence >= SURE_ENOUGH and not view.outline.checked
    told = view.stand.focal if view.stand else None
    return found and told is not None and abs(told - focal) < SAME_FOCAL * focal


def _believed(fit: LensFit | None) -> tuple[float, float] | None:
    if fit is None or fit.sigma > SURE_SIGMA or abs(fit.lens.shift_at_corner()) < CLEARLY * fit.sigma:
        return None
    return fit.lens.k1, fit.lens.k2
