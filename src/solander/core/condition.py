"""What was measured of a view, as plain numbers and words: its capture, and how the print has kept."""

from __future__ import annotations

from typing import Any

from attrs import asdict, frozen

__all__ = ["MEASURED", "Condition", "Missing", "turned_place"]

MEASURED = 2
"""The edition of the measuring: what was measured by an older one can be measured anew."""

_ROUND = ("top", "right", "bottom", "left")
_CORNERS = ("top left", "top right", "bottom right", "bottom left")


@frozen
class Missing:
    """Paper that is missing at `place` ("top left corner", "bottom edge"), to a `depth` in shares of the
    diagonal."""

    place: str
    depth: float


@frozen
class Condition:
    """What was measured of a view; None where something could not be, or was not yet.

    Of the capture: `sharpness` is the 10–90 % rise of the sharpest edges, in pixels of the view (smaller is
    sharper), `edge_rise` that of the paper's own edge in pixels of the capture; `clipped_dark`, `clipped_light`
    are shares of pixels (0–1) at the ends of the scale; `shake_px` is how far something moved, along `shake_deg`
    (clockwise from x); `glare` the share of the print under a mirrored lamp, `glare_at` where; `light_lost` the
    share of light lost across the print, `darkest` the edge with least; `tilt_deg` the camera's tilt; `dust`
    counts specks. `faults` are what of it another capture mends.

    Of the print: `density` of its darks, `dye_balance` (1 where the cyan dye stands as the others do, colour
    prints only), `yellowing` (b* of its white at L* 95), `mirroring` (share of the darks near its edges,
    monochrome prints only), `missing` paper. `states` are what of it is worth telling.

    Places are those of the view as the print lay. `fingerprint` is a 64-bit perceptual hash as 16 hex digits;
    `measured` the edition of the measuring, 0 for what was measured before there were any.
    """

    sharpness: float | None
    clipped_dark: float
    clipped_light: float
    fingerprint: str
    faults: tuple[str, ...] = ()
    states: tuple[str, ...] = ()
    edge_rise: float | None = None
    shake_px: float | None = None
    shake_deg: float | None = None
    glare: float = 0.0
    glare_at: str = ""
    light_lost: float | None = None
    darkest: str = ""
    tilt_deg: float | None = None
    dust: int | None = None
    density: float | None = None
    dye_balance: float | None = None
    yellowing: float | None = None
    mirroring: float | None = None
    missing: tuple[Missing, ...] = ()
    measured: int = 0

    def as_kept(self) -> dict[str, Any]:
        """The condition as JSON keeps it."""
        kept = asdict(self)
        return {**kept, "faults": list(self.faults), "states": list(self.states), "missing": list(kept["missing"])}

    @classmethod
    def of_kept(cls, kept: dict[str, Any]) -> Condition:
        """The condition of what was kept, by this edition or an older one."""
        return cls(
            **{
                **kept,
                "faults": tuple(kept["faults"]),
                "states": tuple(kept.get("states", ())),
                "missing": tuple(Missing(**one) for one in kept.get("missing", ())),
            }
        )


def turned_place(place: str, turn: int) -> str:
    """A place of a view as the print lay, in the same view `turn` quarter turns clockwise."""
    where, _, what = place.rpartition(" ")
    for round_ in (_CORNERS, _ROUND):
        if where in round_:
            return f"{round_[(round_.index(where) + turn) % 4]} {what}"
    return place
