"""The kinds of step that a treatment may have: their order, what their parameters may be, how each is told.

Places are shares (x, y) of the view, 0–1 from edge to edge; densities are red, green, blue. What a step does to
pixels is in `solander.imaging.treatment`, which knows each by the same name and parameters.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import Any

from attrs import frozen

from solander.core.errors import InvalidValue
from solander.core.sentence import Counted, Decimal, Joined, Listed, Sentence

__all__ = ["COLOUR", "KINDS", "MONOCHROME", "Kind", "checked", "is_idle", "kind_of"]

Check = Callable[[Any], Any]
"""Gives back the value as it is kept, or raises `_Unfit` with what it should be."""

COLOUR, MONOCHROME = "fading", "yellowing"
"""Steps for the one and the other kind of print; no print is both."""


class _Unfit(ValueError):
    """What a value should be, as a sentence's part."""

    def __init__(self, should: Sentence) -> None:
        super().__init__(should)
        self.should = should


def _number(low: float, high: float) -> Check:
    def check(value: Any) -> float:
        # Of no number is it true that it lies between; an integer may be too large to be a float.
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not low <= value <= high:
            raise _Unfit(Sentence("a number from %(low)s to %(high)s", low=f"{low:g}", high=f"{high:g}"))
        return round(float(value), 6) + 0.0

    return check


def _whole(low: int, high: int) -> Check:
    def check(value: Any) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            raise _Unfit(Sentence("a whole number from %(low)s to %(high)s", low=low, high=high))
        return value

    return check


def _several(each: Check, least: int, most: int) -> Check:
    def check(value: Any) -> tuple[Any, ...]:
        if not isinstance(value, (list, tuple)) or not least <= len(value) <= most:
            many = Sentence("%(least)s to %(most)s", least=least, most=most) if least < most else str(most)
            raise _Unfit(Sentence("a list of %(many)s", many=many))
        return tuple(each(one) for one in value)

    return check


def _exactly(each: Check, count: int) -> Check:
    return _several(each, count, count)


def _one_of(*words: str) -> Check:
    def check(value: Any) -> str:
        if value not in words or not isinstance(value, str):
            raise _Unfit(Sentence("one of %(words)s", words=Listed(words)))
        return value

    return check


def _name(value: Any) -> str:
    if not isinstance(value, str) or not value or len(value) > 200:
        raise _Unfit(Sentence("the name of a picture"))
    return value


def _rising(value: Any) -> tuple[Any, ...]:
    points: tuple[Any, ...] = _several(_exactly(_number(0, 1), 2), 2, 20)(value)
    if any(not (a[0] < b[0] and a[1] < b[1]) for a, b in pairwise(points)):
        raise _Unfit(Sentence("points that rise both ways"))
    return points


def _box(value: Any) -> tuple[float, ...]:
    left, top, right, bottom = box = _exactly(_number(0, 1), 4)(value)
    if left >= right or top >= bottom:
        raise _Unfit(Sentence("left, top, right and bottom of a box that holds something"))
    return tuple(box)


def _convex(value: Any) -> tuple[Any, ...]:
    corners = _exactly(_exactly(_number(0, 1), 2), 4)(value)
    turns = [
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        for a, b, c in zip(corners, corners[1:] + corners[:1], corners[2:] + corners[:2], strict=True)
    ]
    if min(turns) <= 1e-6:
        raise _Unfit(Sentence("four corners, clockwise from the top left"))
    return tuple(corners)


_DENSITIES = _exactly(_number(-1, 3), 3)
_SHARE = _number(0, 1)
_PLACE = _exactly(_SHARE, 2)


@frozen
class Kind:
    """A kind of step: the parameters that it needs, those it may have, and its sentence."""

    needs: Mapping[str, Check]
    may_have: Mapping[str, Check]
    tell: Callable[[Mapping[str, Any]], str]


def _tell_fading(given: Mapping[str, Any]) -> str:
    cyan, magenta, yellow = (Decimal(gain, 2) for gain in given["gain"])
    return Sentence(
        "faded dyes restored: cyan %(cyan)s×, magenta %(magenta)s×, yellow %(yellow)s×",
        cyan=cyan,
        magenta=magenta,
        yellow=yellow,
    )


def _tell_neutral(given: Mapping[str, Any]) -> str:
    return Sentence("picked place made neutral") if given.get("place") else Sentence("paper border made neutral")


def _tell_density(given: Mapping[str, Any]) -> str:
    by = Decimal(abs(given["by"]), 2)
    if given["by"] < 0:
        return Sentence("mid-tones lighter by a density of %(by)s", by=by)
    return Sentence("mid-tones darker by a density of %(by)s", by=by)


def _tell_detail(given: Mapping[str, Any]) -> str:
    shadows, highlights = (round(100 * given.get(each, 0)) for each in ("shadows", "highlights"))
    told = []
    if shadows or not highlights:
        told.append(Sentence("shadows opened by %(percent)s %%", percent=shadows))
    if highlights:
        told.append(Sentence("highlights held back by %(percent)s %%", percent=highlights))
    return Joined(told, ", ")


def _tell_texture(given: Mapping[str, Any]) -> str:
    percent = round(100 * given.get("strength", 1))
    if percent == 100:
        return Sentence("texture of the paper taken out")
    return Sentence("texture of the paper taken out by %(percent)s %%", percent=percent)


def _tell_fine_turn(given: Mapping[str, Any]) -> str:
    degrees = Decimal(abs(given["degrees"]), 1)
    if given["degrees"] < 0:
        return Sentence("turned counter-clockwise by %(degrees)s°", degrees=degrees)
    return Sentence("turned clockwise by %(degrees)s°", degrees=degrees)


_CROPPED = {
    "picture": Sentence("cropped to the picture"),
    "border": Sentence("cropped, its paper border kept"),
    "box": Sentence("cropped by hand"),
}

KINDS: Mapping[str, Kind] = {
    "two lights": Kind(
        {"second": _name},
        {},
        lambda _: Sentence("glare taken out with a second capture, the lamp on the other side"),
    ),
    "even light": Kind({"field": _name}, {}, lambda _: Sentence("light evened by a blank sheet")),
    "marks": Kind(
        {"strokes": _several(_exactly(_SHARE, 5), 1, 2000)},
        {},
        lambda given: Counted(
            "a mark of dust or a scratch painted over",
            "%(num)s marks of dust or scratches painted over",
            len(given["strokes"]),
        ),
    ),
    "texture": Kind(
        {"peaks": _several(_exactly(_number(-0.5, 0.5), 2), 1, 200)}, {"strength": _SHARE}, _tell_texture
    ),
    COLOUR: Kind(
        {"stain": _DENSITIES, "gain": _exactly(_number(0.25, 4.6), 3)},
        {"side_absorptions": _exactly(_number(-1, 2), 9), "place": _PLACE},
        _tell_fading,
    ),
    MONOCHROME: Kind(
        {"stain": _DENSITIES}, {"share": _SHARE}, lambda _: Sentence("yellow stain taken off, the tone kept")
    ),
    "neutral": Kind({"shift": _DENSITIES}, {"place": _PLACE}, _tell_neutral),
    "density": Kind({"by": _number(-0.4, 0.4)}, {}, _tell_density),
    "tone curve": Kind(
        {"points": _rising},
        {},
        lambda given: Sentence("tone curve through %(points)s points", points=len(given["points"])),
    ),
    "detail": Kind({}, {"shadows": _SHARE, "highlights": _SHARE}, _tell_detail),
    "keystone": Kind({"corners": _convex}, {}, lambda _: Sentence("straightened by its four corners")),
    "fine turn": Kind({"degrees": _number(-15, 15)}, {}, _tell_fine_turn),
    "crop": Kind({"box": _box}, {"to": _one_of(*_CROPPED)}, lambda given: _CROPPED[given.get("to", "box")]),
    "quarter turn": Kind(
        {"turns": _whole(1, 3)},
        {},
        lambda given: Counted("turned a quarter clockwise", "turned %(num)s quarters clockwise", given["turns"]),
    ),
    "output": Kind(
        {"long_side": _whole(16, 65500)},
        {"sharpening": _SHARE},
        lambda given: Sentence("made %(pixels)s pixels long, sharpened for that size", pixels=given["long_side"]),
    ),
}
"""In the order in which they work: light first, then the paper, colour, tone, the frame, the size it goes out in.
A step measures what the ones before have left, and places are shares of the view until something moves it."""


def _is_nothing(*names: str, unsaid: float) -> Callable[[Mapping[str, Any]], bool]:
    """Whether each of these numbers is 0; one that is not given is `unsaid`."""
    return lambda given: not any(given.get(name, unsaid) for name in names)


_WHOLE_VIEW = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))

_IDLE: Mapping[str, Callable[[Mapping[str, Any]], bool]] = {
    "texture": _is_nothing("strength", unsaid=1),
    COLOUR: lambda given: not any(given["stain"]) and set(given["gain"]) == {1.0},
    MONOCHROME: lambda given: not any(given["stain"]) or given.get("share", 1) == 0,
    "neutral": lambda given: not any(given["shift"]),
    "density": _is_nothing("by", unsaid=0),
    "tone curve": lambda given: all(tone == shown for tone, shown in given["points"]),
    "detail": _is_nothing("shadows", "highlights", unsaid=0),
    "keystone": lambda given: given["corners"] == _WHOLE_VIEW,
    "fine turn": _is_nothing("degrees", unsaid=0),
    "crop": lambda given: given["box"] == (0.0, 0.0, 1.0, 1.0),
}
"""Steps with parameters that leave every pixel as it is, as a step begins that a hand is going to move."""


def is_idle(name: str, parameters: Mapping[str, Any]) -> bool:
    """Whether a step with these parameters (as `checked` gives them) changes nothing of any view."""
    return name in _IDLE and _IDLE[name](parameters)


def kind_of(name: str) -> Kind:
    """The kind of step of that name.

    Raises
    ------
    InvalidValue
        When there is none.
    """
    if not isinstance(name, str) or name not in KINDS:
        raise InvalidValue(
            Sentence("“%(name)s” is no step of a treatment", name=str(name)[:60]),
            "",
            Sentence("Steps are %(names)s", names=Listed(KINDS)),
        )
    return KINDS[name]


def checked(name: str, parameters: Mapping[str, Any]) -> dict[str, Any]:
    """The parameters of a step as they are kept: numbers rounded, lists as tuples, in the order of the kind.

    Raises
    ------
    InvalidValue
        When one is missing, unknown or can't be.
    """
    kind = kind_of(name)
    known = {**kind.needs, **kind.may_have}
    for each in parameters:
        if each not in known:
            raise _invalid(name, Sentence("it has no “%(parameter)s”", parameter=str(each)[:60]))
    for each in kind.needs:
        if each not in parameters:
            raise _invalid(name, Sentence("“%(parameter)s” is missing", parameter=each))
    kept = {}
    for each in (one for one in known if one in parameters):
        try:
            kept[each] = known[each](parameters[each])
        except _Unfit as unfit:
            why = Sentence("“%(parameter)s” must be %(should)s", parameter=each, should=unfit.should)
            raise _invalid(name, why) from unfit
    return kept


def _invalid(name: str, why: Sentence) -> InvalidValue:
    return InvalidValue(
        Sentence("The step “%(name)s” can't be done", name=name),
        why,
        Sentence("Put it right or leave the step out"),
    )
