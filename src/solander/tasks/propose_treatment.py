"""One cautious proposal of a treatment for the view of a front, from what is measured; each step has a reason."""

from __future__ import annotations

from attrs import frozen

from solander.core.sentence import Decimal, Sentence
from solander.core.treatments import Step, Treatment
from solander.imaging.conventions import Rgb
from solander.imaging.treatment.fading import density_at, fading_from
from solander.imaging.treatment.needs import Needs, needs_of

__all__ = ["Proposal", "propose_treatment", "with_neutral_dark"]

MEASURED = "measured"
"""Who wants a step that nobody asked for."""


@frozen
class Proposal:
    """What is proposed (nothing, for most prints), and what was `measured`. Where `asks_neutral` the print's
    colours have faded: a person shows a place that was a neutral dark, and `with_neutral_dark` says how far."""

    treatment: Treatment
    measured: Needs
    asks_neutral: bool = False


def propose_treatment(view: Rgb, *, shows_writing: bool = False) -> Proposal:
    """What the untreated view (uint8 sRGB) of a front needs; of one that `shows_writing` the paper's texture is
    left alone. Backs and details are never proposed anything."""
    needs = needs_of(view, shows_writing=shows_writing)
    steps = []
    if needs.texture:
        reason = Sentence("the surface of the paper repeats one pattern all over")
        steps.append(Step("texture", {"peaks": needs.texture}, who=MEASURED, reason=reason))
    if needs.stain:
        reason = Sentence(
            "the bare border is yellow by a density of %(density)s", density=Decimal(max(needs.stain), 2)
        )
        step = ("yellowing", {"stain": needs.stain}) if needs.monochrome else ("neutral", {"shift": needs.stain})
        steps.append(Step(*step, who=MEASURED, reason=reason))
    asks = bool(needs.stain and not needs.monochrome)
    return Proposal(Treatment.of(steps), needs, asks_neutral=asks)


def with_neutral_dark(
    proposal: Proposal, view: Rgb, place: tuple[float, float], *, who: str = "archivist"
) -> Treatment | None:
    """The proposal with the faded dyes brought back, as the place (x, y, shares of the view) that a person shows
    tells; None where there is no border or that place is too light to tell."""
    border = proposal.measured.border
    fading = fading_from(border.density, density_at(view, place)) if border else None
    if fading is None:
        return None
    reason = Sentence("a place was shown that was a neutral dark")
    step = Step("fading", {"stain": fading.stain, "gain": fading.gain, "place": place}, who=who, reason=reason)
    return proposal.treatment.without("neutral").with_step(step)
