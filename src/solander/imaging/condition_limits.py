"""From which figure on something measured is told: faults of the capture, and the state of the print, kept apart.

All limits are our own choice; each was set between what sound simulated captures show and what faulty ones do
(benchmarks/condition.py, seeds for tuning), and stands with its reason in docs/condition.md.
"""

from __future__ import annotations

from collections.abc import Iterator

from solander.imaging.condition import Examined
from solander.imaging.condition_dyes import ImageState
from solander.imaging.condition_motion import BOX
from solander.imaging.measure import EDGE_RISE_LIMIT, NOT_SHARP, VIEW_RISE_LIMIT

__all__ = [
    "CAPTURE_FAULTS",
    "DUSTY",
    "FADED",
    "GLARE",
    "MIRRORING",
    "MISSING_CORNER",
    "SHAKEN",
    "STATES",
    "TILTED",
    "TOO_BRIGHT",
    "TOO_DARK",
    "TORN",
    "UNEVEN",
    "YELLOWED",
    "capture_faults",
    "print_states",
]

SHAKEN, TOO_BRIGHT, TOO_DARK, GLARE = "shaken", "too bright", "too dark", "glare"
UNEVEN, TILTED, DUSTY = "uneven light", "tilted", "dust"
CAPTURE_FAULTS = NOT_SHARP, SHAKEN, TOO_BRIGHT, TOO_DARK, GLARE, UNEVEN, TILTED, DUSTY
"""Everything that another capture mends."""

FADED, YELLOWED, MIRRORING = "faded", "yellowed", "mirroring"
MISSING_CORNER, TORN = "missing corner", "torn"
STATES = FADED, YELLOWED, MIRRORING, MISSING_CORNER, TORN
"""Everything that is so with the print itself."""

SHAKEN_PX, SHAKEN_RISE, SHAKEN_SHARE = 4.5, 4.5, 0.76
"""Pixels of a movement; the rise of the paper's edge without which nothing moved; and the share of that rise
which the movement explains, else the lens was out of focus."""

SHARE_BRIGHT, SHARE_DARK = 0.02, 0.08
"""Shares of a view at the ends of the scale. Paper white lies below the end on a stand that is lit well, while
dark corners of old prints reach the other one."""

LIGHT_LOST = 0.15
"""Share of the light lost across a print. FADGI 2016 has 8 % for one star; so much is told of every stand by
`rig`, here it must be told from the stage around one print."""

TILT_DEG = 6.0
SPECKS = 1
BALANCE, DEEP_RED = 0.83, 1.5
"""Density in red over that in green and blue; and the density in red that is a black, whatever the others have:
full blacks of colour paper have 2 to 2.4, and a cyan dye that lost a third leaves less than 1.6 of it."""
YELLOW_B = 10.5
MIRRORED_SHARE = 0.42
CORNER_DEPTH, TEAR_DEPTH = 0.022, 0.018
"""Shares of the print's diagonal: 3.5 and 2.8 mm of a print of 13 × 9 cm."""


def capture_faults(seen: Examined) -> tuple[str, ...]:
    """What of `CAPTURE_FAULTS` the figures show."""
    return tuple(_capture_faults(seen))


def print_states(seen: Examined) -> tuple[str, ...]:
    """What of `STATES` the figures show."""
    return tuple(_states(seen))


def _capture_faults(seen: Examined) -> Iterator[str]:
    rise = seen.edge_rise
    moved = seen.motion.length_px
    if moved > SHAKEN_PX and rise > SHAKEN_RISE and BOX * moved > SHAKEN_SHARE * rise:
        yield SHAKEN
    elif rise > EDGE_RISE_LIMIT or (rise != rise and seen.sharpness > VIEW_RISE_LIMIT):
        yield NOT_SHARP
    if seen.glare is not None:
        yield GLARE
    elif seen.clipped_light > SHARE_BRIGHT:
        yield TOO_BRIGHT
    if seen.clipped_dark > SHARE_DARK:
        yield TOO_DARK
    if seen.uneven.share > LIGHT_LOST:
        yield UNEVEN
    if seen.tilt_deg > TILT_DEG:
        yield TILTED
    if seen.dust > SPECKS:
        yield DUSTY


def _states(seen: Examined) -> Iterator[str]:
    if seen.image.dye_balance < BALANCE and _density_in_red(seen.image) < DEEP_RED:
        yield FADED
    if seen.image.yellowing > YELLOW_B:
        yield YELLOWED
    if seen.image.mirroring > MIRRORED_SHARE:
        yield MIRRORING
    corners = [one for one in seen.torn if one.place.endswith("corner") and one.depth > CORNER_DEPTH]
    if 0 < len(corners) < 3:  # three or four are cut round
        yield MISSING_CORNER
    if any(one.place.endswith("edge") and one.depth > TEAR_DEPTH for one in seen.torn):
        yield TORN


def _density_in_red(image: ImageState) -> float:
    """That of the darks, of which the mean density and its balance are known."""
    return 3 * image.density / (1 + 2 / image.dye_balance)
