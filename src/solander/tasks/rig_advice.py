"""What to do about a stand, the step that gains most first, in plain words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from solander.core.language import marked
from solander.core.levels import FADGI, Figure
from solander.core.sentence import Sentence
from solander.core.stand_profile import StandProfile
from solander.imaging.evenness import Blank
from solander.tasks.rig import Looked

__all__ = ["advice", "darkest_words", "is_mixed"]

WANTED = 3
"""Stars of FADGI from which a figure needs no advice: what a US federal rule (36 CFR 1236.50) asks of
photographic prints."""

MIXED = 0.04
"""Change of red or blue against green over the stage, as a share, from which two kinds of light fall on it
(our choice: about 2 ΔE)."""

TILTED_DEG, LENS_MOVES = 1.5, 0.3
"""Tilt and shift at the corner (% of the diagonal) from which sizes suffer (our choice; both are straightened)."""


def advice(
    figures: Mapping[Figure, float], looked: Sequence[Looked], profile: StandProfile | None = None
) -> list[Sentence]:
    """What to do; nothing where all that was measured is good enough, or is put right by the `profile` that is
    kept."""
    levels = {figure: FADGI.level_of(figure, value) for figure, value in figures.items()}
    short = sorted((level, figure) for figure, level in levels.items() if level is not None and level < WANTED)
    told = [_words(figure, figures[figure], looked, profile) for _level, figure in short]
    blank = _blank(looked)
    if blank is not None and is_mixed(blank):
        told.insert(0, Sentence(_MIXED))
    if figures.get(Figure.TILT, 0) > TILTED_DEG:
        told.append(Sentence(_LEVEL))
    if figures.get(Figure.LENS, 0) > LENS_MOVES:
        told.append(Sentence(_BENDS))
    return list(dict.fromkeys(one for one in told if one))


def is_mixed(blank: Blank) -> bool:
    """Whether the colour of the light changes over the stage."""
    cells = blank.cells[np.isfinite(blank.cells[..., 0])]
    ratios = cells[:, [0, 2]] / cells[:, [1]]
    spread = np.percentile(ratios, 97, axis=0) / np.percentile(ratios, 3, axis=0) - 1
    return bool(spread.max() > MIXED)


def darkest_words(blank: Blank) -> Sentence:
    """Where the least light falls."""
    x, y = blank.darkest
    across = Sentence(marked("right")) if x > 0 else Sentence(marked("left"))
    down = Sentence(marked("bottom")) if y > 0 else Sentence(marked("top"))
    if abs(x) > 2 * abs(y):
        return across
    return down if abs(y) > 2 * abs(x) else Sentence("%(down)s %(across)s", down=down, across=across)


def _blank(looked: Sequence[Looked]) -> Blank | None:
    return next((one.blank for one in looked if one.blank is not None), None)


def _words(
    figure: Figure, value: float, looked: Sequence[Looked], profile: StandProfile | None
) -> Sentence | None:
    blank = _blank(looked)
    if figure is Figure.UNEVENNESS and blank is not None:
        return Sentence(_MOVE_LAMPS, place=darkest_words(blank))
    if figure is Figure.MTF50 and value > 65:  # too much contrast at fine detail, not too little
        return Sentence(_HARD)
    if figure is Figure.COLOUR_MEAN and profile is not None and profile.error_after is not None:
        left = FADGI.level_of(figure, profile.error_after)
        return Sentence(_BETTER_LAMPS) if left is not None and left < WANTED else None
    return Sentence(_ADVICE[figure]) if figure in _ADVICE else None


_MIXED = marked("Two kinds of light fall on the stage: shade the window and switch off the room's lamp.")
_LEVEL = marked("Level the camera: lay a small mirror on the stage and look for the lens in its middle.")
_BENDS = marked("The lens bends lines; views are straightened. Farther off with more zoom it bends less.")
_HARD = marked("Fine detail has hard contrast: switch off sharpening in the camera.")
_FOCUS = marked("Focus on the stage, clean the lens or the glass, and keep the stand from shaking.")
_BETTER_LAMPS = marked(
    "Use lamps with a colour rendering index (CRI) of 90 or more: these leave errors that no "
    "colour profile puts right."
)
_MOVE_LAMPS = marked(
    "Move the lamps: the least light falls at the %(place)s. Farther off and at 45° from two "
    "sides is most even; a flat field evens out the rest."
)

_ADVICE: Mapping[Figure, str] = {
    Figure.SAMPLING: marked("Bring the camera nearer, or zoom in: the print has too few pixels an inch."),
    Figure.TONE: marked("Set the exposure so that the white patch is just below white, and choose the camera's "
                        "neutral picture style: its tone curve bends the greys."),
    Figure.WHITE_BALANCE: marked("Set the white balance by hand from a grey patch, and keep it."),
    Figure.COLOUR_MEAN: marked("Keep the colour profile for this stand; if errors stay, use lamps with a "
                               "colour rendering index (CRI) of 90 or more."),
    Figure.NOISE: marked("Set the camera to its lowest ISO and give more light or a longer time."),
    Figure.MTF50: _FOCUS,
    Figure.MTF10: _FOCUS,
    Figure.AT_HALF: _HARD,
    Figure.SHARPENING: marked("Switch off sharpening in the camera."),
    Figure.MISREGISTRATION: marked("Close the aperture by two stops, or stay away from the frame's corners: "
                                   "red and blue lie beside green."),
}  # fmt: skip
