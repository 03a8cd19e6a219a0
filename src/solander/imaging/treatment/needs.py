"""What a view tells of the treatment that it needs, and how sure that is: measured, not yet done.

Convention (see `solander.imaging.conventions` and `deep`). Cautious on purpose: what could as well be the print's
own look (cream paper, a toned print, a sunset) is no damage. Without a bare border nothing tells a stain from a
tone, nor fading from the colours of the day, so that nothing is said of colour.
"""

from __future__ import annotations

from attrs import frozen

from solander.imaging.conventions import Rgb
from solander.imaging.treatment.blocks import Grid
from solander.imaging.treatment.border import Border, find_border
from solander.imaging.treatment.fading import Fading, darkest_density, fading_from
from solander.imaging.treatment.texture import Peaks, texture_peaks
from solander.imaging.treatment.tone import neutral_shift
from solander.imaging.treatment.yellowing import is_monochrome

__all__ = ["STAINED", "Needs", "needs_of"]

Triple = tuple[float, float, float]

STAINED = 0.065
"""Density between the channels of bare paper from which it is stained: cream stock as it was made has 0.05."""

CLEAN = 4.0
"""b* of a white (at L* 95) below which paper is not stained by `STAINED`, which is 5.9; cream stock has 4.7."""

FADED = 1.3
"""Gain of one dye over another from which darkest places tell of fading, where the paper is stained as well."""


@frozen
class Needs:
    """`border`: where the paper's border lies, if there is one and it was looked at; `monochrome`: whether one
    colourant made the picture, as far as that was looked at; `stain`: what the paper has too much of, None where
    it is clean or nothing tells; `fading`: what the darkest places tell of it, a guess until a person shows a
    neutral dark; `texture`: the peaks of its pattern."""

    border: Border | None
    monochrome: bool
    stain: Triple | None
    fading: Fading | None
    texture: Peaks


def needs_of(
    rgb: Rgb, *, grid: Grid | None = None, shows_writing: bool = False, yellowness: float | None = None
) -> Needs:
    """What the view of a front needs. Where it `shows_writing` no texture is looked for: lines of writing repeat
    themselves, too; the `grid` of the capture keeps its file's own pattern apart. Where its white was measured
    before (`yellowness`: b* at L* 95) and is `CLEAN`, its border is not looked at again."""
    texture = () if shows_writing else texture_peaks(rgb, grid=grid)
    if yellowness is not None and yellowness < CLEAN:
        return Needs(None, False, None, None, texture)
    border = find_border(rgb)
    monochrome = is_monochrome(rgb, border)
    stain = neutral_shift(border.density) if border else None
    stained = stain if stain and max(stain) >= STAINED else None
    return Needs(
        border,
        monochrome,
        stained,
        _likely_fading(rgb, border) if border and stained and not monochrome else None,
        texture,
    )


def _likely_fading(rgb: Rgb, border: Border) -> Fading | None:
    fading = fading_from(border.density, darkest_density(rgb, border))
    return fading if fading and max(fading.gain) >= FADED * min(fading.gain) else None
