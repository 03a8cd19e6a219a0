"""A step of a treatment as a sentence with small fields in it, and what was put into those fields as a step again.

Percent and densities are shown with as many digits as a hand can mean; what nobody touched stays exact.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from attrs import evolve, field, frozen

from solander.core.language import _, marked
from solander.core.treatments import Step

__all__ = ["SENTENCES", "Field", "fields_of", "parts_of", "place_in", "read_step", "slug"]

Values = Mapping[str, str]
Parameters = Mapping[str, Any]


@frozen
class Field:
    """One field: a number from `low` to `high`, or one of `choices` (value, words); `label` is what it is called
    where its sentence is not seen."""

    name: str
    label: str
    low: float = 0
    high: float = 100
    step: float = 1
    choices: Sequence[tuple[str, str]] = ()
    value: str = ""
    wide: int = field(default=5)


@frozen
class _Sentence:
    """The sentence of a kind of step; `show` tells the values of its fields, `read` the parameters of values."""

    message: str
    fields: Sequence[Field]
    show: Callable[[Parameters], Mapping[str, float | str]]
    read: Callable[[Mapping[str, Any], Parameters], Parameters]


def slug(name: str) -> str:
    """The name of a kind of step in names of fields and addresses."""
    return name.replace(" ", "-")


def fields_of(step: Step) -> list[Field]:
    """The fields of a step with their values."""
    sentence = SENTENCES.get(step.name)
    if sentence is None:
        return []
    shown = sentence.show(step.parameters)
    return [evolve(each, value=_written(shown[each.name], each)) for each in sentence.fields]


def parts_of(step: Step) -> list[str | Field]:
    """The step's sentence in the reader's language, its fields where they stand in it."""
    fields = {each.name: each for each in fields_of(step)}
    if not fields:
        return [step.told]
    told = _(SENTENCES[step.name].message, **{name: f"\0{name}\0" for name in fields})
    pieces = told.split("\0")
    return [fields[piece] if number % 2 else piece for number, piece in enumerate(pieces) if piece]


def read_step(step: Step, given: Values) -> Step:
    """The step with what was put into its fields (`kind.field`); where none says anything new, it stays as it is.

    Raises
    ------
    InvalidValue
        When a value can't be.
    """
    fields = fields_of(step)
    put = {each.name: given.get(f"{slug(step.name)}.{each.name}", each.value).strip() for each in fields}
    on = f"{slug(step.name)}.on" in given
    if all(put[each.name] == each.value for each in fields):
        return evolve(step, on=on)
    read = {each.name: put[each.name] if each.choices else _number(put[each.name]) for each in fields}
    return evolve(step, parameters={**step.parameters, **SENTENCES[step.name].read(read, step.parameters)}, on=on)


def place_in(given: Values, name: str = "pick") -> tuple[float, float] | None:
    """The place that two fields tell in percent, as shares of the view; None where they tell none."""
    across, down = (_number(given.get(f"{name}.{axis}", "")) for axis in ("x", "y"))
    if not isinstance(across, float) or not isinstance(down, float):
        return None
    return (across / 100, down / 100) if 0 <= across <= 100 and 0 <= down <= 100 else None


def _number(text: str) -> float | str:
    """A number as it was typed, with a comma too; what is none stays text, and the step refuses it."""
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return text


def _written(value: float | str, field_: Field) -> str:
    if isinstance(value, str):
        return value
    digits = len(f"{field_.step:g}".partition(".")[2])
    return f"{value:.{digits}f}"


def _percent(name: str, label: str, step: float = 1) -> Field:
    return Field(name, label, 0, 100, step, wide=4 if step == 1 else 5)


def _share(value: Any) -> Any:
    return value / 100 if isinstance(value, float) else value


def _whole(value: Any) -> Any:
    """A number that is whole as one; what is none (or no number, or endless) is left for the step to refuse."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _minus(value: Any) -> Any:
    return -value if isinstance(value, float) else value


_ACROSS, _DOWN = marked("percent from the left"), marked("percent from the top")
_CORNERS = ("1", "2", "3", "4")
_EDGES = ("left", "top", "right", "bottom")


def _read_corners(put: Mapping[str, Any], _given: Parameters) -> Parameters:
    return {"corners": [[_share(put[f"x{at}"]), _share(put[f"y{at}"])] for at in _CORNERS]}


def _read_box(put: Mapping[str, Any], given: Parameters) -> Parameters:
    far = {"right": lambda cut: 1 - cut, "bottom": lambda cut: 1 - cut}
    sides = [_share(put[edge]) for edge in _EDGES]
    box = [
        far[edge](cut) if edge in far and isinstance(cut, float) else cut
        for edge, cut in zip(_EDGES, sides, strict=True)
    ]
    return {"box": box, "to": "box"}


def _points(given: Parameters) -> list[tuple[float, float]]:
    """The two points of a curve that are edited; a curve of another number of points is told alone."""
    inner = list(given["points"])[1:-1]
    return inner if len(inner) == 2 else [(0.25, 0.25), (0.75, 0.75)]


def _read_curve(put: Mapping[str, Any], given: Parameters) -> Parameters:
    inner = [[_share(put[f"from{at}"]), _share(put[f"to{at}"])] for at in (1, 2)]
    return {"points": [list(given["points"][0]), *inner, list(given["points"][-1])]}


def _signed(name: str, below: str, above: str) -> tuple[Callable[..., Any], Callable[..., Any]]:
    """How a signed number is shown as a word and its size, and read again."""

    def show(given: Parameters) -> Mapping[str, float | str]:
        return {"way": below if given[name] < 0 else above, "by": abs(given[name])}

    def read(put: Mapping[str, Any], _given: Parameters) -> Parameters:
        return {name: _minus(put["by"]) if put["way"] == below else put["by"]}

    return show, read


SENTENCES: Mapping[str, _Sentence] = {
    "texture": _Sentence(
        marked("texture of the paper taken out by %(strength)s %%"),
        (_percent("strength", marked("percent of the texture")),),
        lambda given: {"strength": 100 * given.get("strength", 1.0)},
        lambda put, _given: {"strength": _share(put["strength"])},
    ),
    "fading": _Sentence(
        marked("faded dyes restored: cyan %(cyan)s×, magenta %(magenta)s×, yellow %(yellow)s×"),
        (
            Field("cyan", marked("times cyan"), 0.25, 4.6, 0.01),
            Field("magenta", marked("times magenta"), 0.25, 4.6, 0.01),
            Field("yellow", marked("times yellow"), 0.25, 4.6, 0.01),
        ),
        lambda given: dict(zip(("cyan", "magenta", "yellow"), given["gain"], strict=True)),
        lambda put, _given: {"gain": [put["cyan"], put["magenta"], put["yellow"]]},
    ),
    "yellowing": _Sentence(
        marked("yellow stain taken off by %(share)s %%, the tone kept"),
        (_percent("share", marked("percent of the stain")),),
        lambda given: {"share": 100 * given.get("share", 1.0)},
        lambda put, _given: {"share": _share(put["share"])},
    ),
    "density": _Sentence(
        marked("mid-tones %(way)s by a density of %(by)s"),
        (
            Field(
                "way", marked("which way"), choices=(("lighter", marked("lighter")), ("darker", marked("darker")))
            ),
            Field("by", marked("by how much density"), 0, 0.4, 0.01),
        ),
        *_signed("by", "lighter", "darker"),
    ),
    "tone curve": _Sentence(
        marked("tones of %(from1)s %% shown as %(to1)s %%, tones of %(from2)s %% shown as %(to2)s %%"),
        tuple(
            _percent(name, label)
            for name, label in (
                ("from1", marked("percent of a dark tone")),
                ("to1", marked("percent that it is shown as")),
                ("from2", marked("percent of a light tone")),
                ("to2", marked("percent that it is shown as")),
            )
        ),
        lambda given: {
            f"{end}{at}": 100 * point[which]
            for at, point in enumerate(_points(given), start=1)
            for which, end in enumerate(("from", "to"))
        },
        _read_curve,
    ),
    "detail": _Sentence(
        marked("shadows opened by %(shadows)s %%, highlights held back by %(highlights)s %%"),
        (
            _percent("shadows", marked("percent of the shadows")),
            _percent("highlights", marked("percent of the highlights")),
        ),
        lambda given: {each: 100 * given.get(each, 0.0) for each in ("shadows", "highlights")},
        lambda put, _given: {each: _share(put[each]) for each in ("shadows", "highlights")},
    ),
    "keystone": _Sentence(
        marked(
            "straightened by its four corners: %(x1)s %% and %(y1)s %%, %(x2)s %% and %(y2)s %%, "
            "%(x3)s %% and %(y3)s %%, %(x4)s %% and %(y4)s %%"
        ),
        tuple(
            _percent(f"{axis}{at}", label, 0.1)
            for at in _CORNERS
            for axis, label in (("x", _ACROSS), ("y", _DOWN))
        ),
        lambda given: {
            f"{axis}{at}": 100 * corner[which]
            for at, corner in zip(_CORNERS, given["corners"], strict=True)
            for which, axis in enumerate(("x", "y"))
        },
        _read_corners,
    ),
    "fine turn": _Sentence(
        marked("turned %(way)s by %(by)s°"),
        (
            Field(
                "way",
                marked("which way"),
                choices=(("counter", marked("counter-clockwise")), ("clockwise", marked("clockwise"))),
            ),
            Field("by", marked("degrees"), 0, 15, 0.1),
        ),
        *_signed("degrees", "counter", "clockwise"),
    ),
    "crop": _Sentence(
        marked(
            "cropped: %(left)s %% off the left, %(top)s %% off the top, %(right)s %% off the right, "
            "%(bottom)s %% off the bottom"
        ),
        tuple(
            _percent(edge, label, 0.1)
            for edge, label in zip(
                _EDGES,
                (
                    marked("percent off the left"),
                    marked("percent off the top"),
                    marked("percent off the right"),
                    marked("percent off the bottom"),
                ),
                strict=True,
            )
        ),
        lambda given: {
            edge: 100 * (side if edge in ("left", "top") else 1 - side)
            for edge, side in zip(_EDGES, given["box"], strict=True)
        },
        _read_box,
    ),
    "quarter turn": _Sentence(
        marked("turned by %(turns)s"),
        (
            Field(
                "turns",
                marked("by how much"),
                choices=(
                    ("1", marked("a quarter clockwise")),
                    ("2", marked("half")),
                    ("3", marked("a quarter counter-clockwise")),
                ),
            ),
        ),
        lambda given: {"turns": str(given["turns"])},
        lambda put, _given: {"turns": {"1": 1, "2": 2, "3": 3}.get(put["turns"], 0)},
    ),
    "output": _Sentence(
        marked("made %(long_side)s pixels long, sharpened for that size by %(sharpening)s %%"),
        (
            Field("long_side", marked("pixels of the longer side"), 16, 65500, 1, wide=7),
            _percent("sharpening", marked("percent of sharpening")),
        ),
        lambda given: {"long_side": given["long_side"], "sharpening": 100 * given.get("sharpening", 0.5)},
        lambda put, _given: {
            "long_side": _whole(put["long_side"]),
            "sharpening": _share(put["sharpening"]),
        },
    ),
}
"""Kinds without fields (light, marks, neutral) are told as they are."""
