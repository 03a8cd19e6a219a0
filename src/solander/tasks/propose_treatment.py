"""One cautious proposal of a treatment for the view of a front, from what is measured; each step has a reason."""

from __future__ import annotations

from attrs import frozen

from solander.core.condition import Condition
from solander.core.sentence import Counted, Decimal, Joined, Kept, Sentence
from solander.core.treatments import Step, Treatment
from solander.imaging.condition_limits import DUSTY, FADED, GLARE, UNEVEN, YELLOWED
from solander.imaging.conventions import Rgb
from solander.imaging.treatment.blocks import Grid
from solander.imaging.treatment.fading import density_at, fading_from
from solander.imaging.treatment.needs import Needs, needs_of

__all__ = ["Offer", "Proposal", "offers_of", "propose_treatment", "with_neutral_dark"]

MEASURED = "measured"
"""Who wants a step that nobody asked for."""


@frozen
class Offer:
    """A step that is not proposed but offered first, by its `name`, and the `reason`."""

    name: str
    reason: Kept


@frozen
class Proposal:
    """What is proposed (nothing, for most prints), and what was `measured`. Where `asks_neutral` the print's
    colours have faded: a person shows a place that was a neutral dark, and `with_neutral_dark` says how far."""

    treatment: Treatment
    measured: Needs
    asks_neutral: bool = False


def propose_treatment(
    view: Rgb,
    *,
    grid: Grid | None = None,
    shows_writing: bool = False,
    condition: Condition | None = None,
) -> Proposal:
    """What the untreated view (uint8 sRGB) of a front needs; of one that `shows_writing` the paper's texture is
    left alone, and with the `grid` of the capture its file's own pattern (`imaging.treatment.blocks`). What its
    `condition` tells is not measured again. Backs and details are never proposed anything."""
    yellowness = condition.yellowing if condition else None
    needs = needs_of(view, grid=grid, shows_writing=shows_writing, yellowness=yellowness)
    steps = []
    if needs.texture:
        reason = Sentence("the surface of the paper repeats one pattern all over")
        steps.append(Step("texture", {"peaks": needs.texture}, who=MEASURED, reason=reason))
    if needs.stain:
        step = ("yellowing", {"stain": needs.stain}) if needs.monochrome else ("neutral", {"shift": needs.stain})
        steps.append(Step(*step, who=MEASURED, reason=_why_stained(max(needs.stain), condition)))
    asks = bool(needs.stain and not needs.monochrome)
    return Proposal(Treatment.of(steps), needs, asks_neutral=asks)


def offers_of(condition: Condition | None) -> tuple[Offer, ...]:
    """What the condition of a view speaks for and a person decides: dust, uneven light, a mirrored lamp."""
    if condition is None:
        return ()
    reasons = {
        "marks": (DUSTY, Counted("%(num)s speck of dust", "%(num)s specks of dust", condition.dust or 0)),
        "even light": (
            UNEVEN,
            Sentence("%(percent)s %% of the light is lost across it", percent=_percent(condition)),
        ),
        "two lights": (GLARE, Sentence("a lamp is mirrored in it")),
    }
    return tuple(Offer(name, reason) for name, (fault, reason) in reasons.items() if fault in condition.faults)


def _percent(condition: Condition) -> int:
    return round(100 * (condition.light_lost or 0))


def _why_stained(density: float, condition: Condition | None) -> Kept:
    """The reason, with what the condition tells of colour where it was measured."""
    stained = Sentence("the bare border is yellow by a density of %(density)s", density=Decimal(density, 2))
    told = [stained]
    if condition and YELLOWED in condition.states and condition.yellowing is not None:
        white = Decimal(condition.yellowing, 0)
        told.append(Sentence("its white has yellowed (b* %(white)s)", white=white))
    if condition and FADED in condition.states and condition.dye_balance is not None:
        percent = round(100 * condition.dye_balance)
        told.append(Sentence("the cyan dye of its darks has %(percent)s %% of the others", percent=percent))
    return stained if len(told) == 1 else Joined(told, "; ")


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
