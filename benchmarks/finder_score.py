"""What is counted when prints are searched for, and the targets that it is held against.

A corner error is the mean distance of four corners in % of the print's diagonal (`imaging.conventions`); an
overlap is the intersection over the union. A print is missed when no find overlaps it by half.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.core.prints import SURE_ENOUGH
from solander.imaging.conventions import Quad, area, corner_error, iou
from solander.imaging.locate import Found

__all__ = ["ROWS", "Outcome", "Seen", "Target", "calibration", "outcome", "row", "sureness", "verdict"]

HIT = 0.5
GOOD = 0.3
"""Corner error, in %, that an outline taken without a person looking may have."""

INNER = 0.97
"""A find within a print, of less than this share of its area, is a frame inside the print taken for its edge."""


@frozen
class Seen:
    """What became of one print: `overlap` with its find, and that find's error and confidence (NaN if missed)."""

    overlap: float
    error: float = float("nan")
    confidence: float = float("nan")
    inner: bool = False

    @property
    def missed(self) -> bool:
        """Whether no find is the print's."""
        return self.overlap < HIT


@frozen
class Outcome:
    """What came of one capture: its prints, the confidences of false finds, hands, seconds of processor time."""

    row: str
    seed: int
    prints: tuple[Seen, ...]
    false: tuple[float, ...]
    hand: bool
    hand_told: bool
    seconds: float

    @property
    def counted_right(self) -> bool:
        """Whether there are as many finds as prints."""
        return len(self.false) == sum(one.missed for one in self.prints)

    @property
    def confidences(self) -> list[float]:
        """Those of all finds."""
        return [one.confidence for one in self.prints if not one.missed] + list(self.false)

    @property
    def is_sure(self) -> bool:
        """Whether nobody is asked about it: something was found, and every find is sure enough."""
        return bool(self.confidences) and min(self.confidences) >= SURE_ENOUGH


def outcome(
    name: str, seed: int, found: Sequence[Found], truths: Sequence[Quad], *, hand: bool, seconds: float
) -> Outcome:
    """Pair finds and prints, the pair that overlaps most first, and count."""
    pairs = sorted(
        ((iou(f.corners, truth), i, j) for i, f in enumerate(found) for j, truth in enumerate(truths)),
        reverse=True,
    )
    seen, used = [Seen(0.0)] * len(truths), set()
    taken: set[int] = set()
    for overlap, i, j in pairs:
        if overlap >= HIT and i not in used and j not in taken:
            used.add(i)
            taken.add(j)
            inner = area(found[i].corners) < INNER * area(truths[j]) and overlap < INNER
            seen[j] = Seen(overlap, corner_error(found[i].corners, truths[j]), found[i].confidence, inner)
        elif j not in taken and seen[j].overlap < overlap < HIT:
            seen[j] = Seen(overlap, inner=_within(found[i].corners, truths[j]))
    false = tuple(f.confidence for i, f in enumerate(found) if i not in used)
    return Outcome(name, seed, tuple(seen), false, hand, any(f.hand for f in found), seconds)


def _within(inner: Quad, outer: Quad) -> bool:
    """Whether nearly all of the one lies in the other."""
    overlap = iou(inner, outer)
    shared = overlap / (1 + overlap) * (area(inner) + area(outer))
    return bool(shared > 0.95 * area(inner))


@frozen
class Target:
    """One figure of a row and the bound that it has to keep."""

    name: str
    figure: Callable[[Sequence[Outcome]], float]
    bound: float
    at_least: bool = False

    def told(self, outcomes: Sequence[Outcome]) -> tuple[str, bool]:
        """The figure beside its bound, and whether it keeps it; a figure that can't be formed keeps nothing."""
        value = self.figure(outcomes)
        met = value >= self.bound if self.at_least else value <= self.bound
        return (
            f"{self.name} {value:.4g} ({'≥' if self.at_least else '≤'} {self.bound:g}){'' if met else ' !'}",
            met,
        )


def _prints(outcomes: Iterable[Outcome]) -> list[Seen]:
    return [one for each in outcomes for one in each.prints]


def _share(flags: Iterable[bool]) -> float:
    counted = list(flags)
    return 100 * sum(counted) / len(counted) if counted else float("nan")


def errors(outcomes: Iterable[Outcome]) -> NDArray[np.float64]:
    """Corner errors of all prints that were found; one NaN where there are none."""
    return np.array([one.error for one in _prints(outcomes) if not one.missed] or [np.nan])


def _overlapping(least: float) -> Callable[[Sequence[Outcome]], float]:
    return lambda outcomes: _share(one.overlap >= least for one in _prints(outcomes))


def _missed(bound: float) -> Target:
    return Target("missed %", lambda outcomes: _share(one.missed for one in _prints(outcomes)), bound)


def _p95_of(values: Iterable[float]) -> float:
    """The 95th percentile; between two values the higher, so that one without end can stand among them."""
    return float(np.percentile(list(values), 95, method="higher"))


def _p95(bound: float, *, with_missed: bool = True) -> Target:
    """Of all prints, missed ones being wrong without end; or of those found, where misses have their own bound."""

    def figure(outcomes: Sequence[Outcome]) -> float:
        missed = sum(one.missed for one in _prints(outcomes)) if with_missed else 0
        return _p95_of([*errors(outcomes), *[np.inf] * missed])

    return Target("p95 %", figure, bound)


def _reach(overlap: float, bound: float) -> Target:
    return Target(f"IoU≥{overlap} %", _overlapping(overlap), bound, at_least=True)


def _counted(bound: float) -> Target:
    return Target(
        "count right %", lambda outcomes: _share(one.counted_right for one in outcomes), bound, at_least=True
    )


def _false(outcomes: Sequence[Outcome]) -> float:
    return 100 * sum(len(one.false) for one in outcomes) / len(outcomes)


def _mean_overlap(outcomes: Sequence[Outcome]) -> float:
    return float(np.mean([one.overlap for one in _prints(outcomes)]))


_MEDIAN = Target("median %", lambda outcomes: float(np.median(errors(outcomes))), 0.10)
_HAND = Target(
    "hand told %", lambda outcomes: _share(one.hand_told for one in outcomes if one.hand), 100, at_least=True
)
_NEVER_INNER = Target("inner frames", lambda outcomes: sum(one.inner for one in _prints(outcomes)), 0)
_PLAIN = (_missed(0), _reach(0.98, 99), _reach(0.99, 95), _MEDIAN, _p95(0.30))
_HOUSEHOLD = (Target("mean IoU", _mean_overlap, 0.95, at_least=True), _missed(0))
_APART = (_counted(99), _reach(0.98, 98))
_TOUCHING = (_counted(90), _reach(0.98, 85))

REAL = "real (quads)"
WITH_EMPTY = "dark on black, with the empty stage"

ROWS: dict[str, tuple[Target, ...]] = {
    "grey stage": _PLAIN,
    "blue stage": _PLAIN,
    "green stage": _PLAIN,
    "black felt": _PLAIN,
    "borderless": _PLAIN,
    "wood": (_reach(0.98, 97), _p95(0.4)),
    "white on white": (_missed(2), _reach(0.98, 90), _p95(0.8, with_missed=False)),
    "dark on black": (_missed(15), _p95(0.8, with_missed=False)),
    WITH_EMPTY: (_missed(3), _p95(0.8, with_missed=False)),
    "doors and mounts": (_reach(0.98, 97), _NEVER_INNER),
    "glare": (_reach(0.98, 97), _NEVER_INNER),
    "curl": (_p95(0.8),),
    "rounded": (_p95(0.35),),
    "deckle": (_p95(0.5),),
    "finger": (_reach(0.98, 85), _p95(1.0), _HAND),
    "stage edge": (_missed(3), Target("false % of captures", _false, 3)),
    "apart": _APART,
    "flatbed": _APART,
    "touching": _TOUCHING,
    "flatbed touching": _TOUCHING,
    "album page": _APART,
    "household": _HOUSEHOLD,
    "empty": (Target("false finds", lambda outcomes: sum(len(one.false) for one in outcomes), 0),),
    REAL: _HOUSEHOLD,
}
"""Targets by row. "album page" and "household" are ours: an album's leaf as prints apart, a household as the real
pictures of one."""


def row(name: str, outcomes: Sequence[Outcome]) -> tuple[str, bool]:
    """One line: what was counted, figures beside their targets, "met" or "not met"; and whether it is met."""
    told = [target.told(outcomes) for target in ROWS[name]]
    met = all(kept for _, kept in told)
    prints = _prints(outcomes)
    counted = f"{len(outcomes):5} captures {len(prints):5} prints"
    errs = errors(outcomes)
    usual = (
        f"missed {sum(one.missed for one in prints)}, false {sum(len(one.false) for one in outcomes)},"
        f" ≥.98 {_overlapping(0.98)(outcomes):.1f}, ≥.99 {_overlapping(0.99)(outcomes):.1f},"
        f" median {np.median(errs):.3f}, p95 {_p95_of(errs):.3f}"
    )
    return (
        f"{name:36}{counted}  {'met    ' if met else 'not met'}  {'; '.join(text for text, _ in told)}  [{usual}]",
        met,
    )


def verdict(outcomes: Sequence[Outcome]) -> list[str]:
    """What holds over all simulated captures: sureness, confidence, hands told where there are none."""
    told_wrongly = sum(one.hand_told for one in outcomes if not one.hand)
    without = sum(not one.hand for one in outcomes)
    return [
        sureness("all captures with prints", [one for one in outcomes if one.prints]),
        f"hand told where there is none: {told_wrongly} of {without} captures (0 wanted)",
        *calibration(outcomes),
    ]


def sureness(name: str, outcomes: Sequence[Outcome]) -> str:
    """What is taken without asking, against: at least 90 % of captures, p95 of the corner error at most .3 %."""
    sure = [one for one in outcomes if one.is_sure]
    share, p95 = (
        _share(one.is_sure for one in outcomes),
        _p95_of(errors(sure)) if sure else float("nan"),
    )
    wrong = sum(len(one.false) for one in sure)
    met = "met" if share >= 90 and p95 <= GOOD else "not met"
    return (
        f"accepted (confidence ≥ {SURE_ENOUGH}), {name}: {share:.1f} % (≥ 90), p95 {p95:.3f} % (≤ {GOOD}),"
        f" false finds among them {wrong}: {met}"
    )


_BINS = (0.0, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 1.0)


def calibration(outcomes: Sequence[Outcome]) -> list[str]:
    """Confidence by bins against the share of finds that are a print's with an error of at most .3 %."""
    finds = [(one.confidence, one.error <= GOOD) for one in _prints(outcomes) if not one.missed]
    finds += [(confidence, False) for each in outcomes for confidence in each.false]
    lines = ["confidence     finds   mean confidence   error ≤ .3 %"]
    for low, high in pairwise(_BINS):
        inside = [f for f in finds if low <= f[0] < high or f[0] == high == 1.0]
        if inside:
            mean = np.mean([f[0] for f in inside])
            lines.append(
                f"{low:.2f}–{high:.2f}  {len(inside):8}  {mean:16.3f}  {_share(f[1] for f in inside):12.1f} %"
            )
    return lines
