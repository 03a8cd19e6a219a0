"""Records of the catalogue from plain values, by the types that their fields declare."""

from __future__ import annotations

import types
from collections.abc import Mapping
from enum import Enum
from functools import cache
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

from attrs import fields_dict, has

from solander.core.kin import Kin
from solander.core.occasions import Occasion
from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Capture, Container, Print
from solander.core.questions import Question
from solander.core.sounds import Sound
from solander.core.statements import Statement
from solander.core.treatments import UNTREATED, Treatment, read_treatment

__all__ = ["KINDS", "Record", "kind_of", "record_from"]

Record = Container | Capture | Print | Person | Kin | Place | Occasion | Statement | Question | Sound

KINDS: Mapping[str, type[Record]] = {
    "container": Container,
    "capture": Capture,
    "print": Print,
    "person": Person,
    "kin": Kin,
    "place": Place,
    "occasion": Occasion,
    "statement": Statement,
    "question": Question,
    "sound": Sound,
}
"""What a line of records may hold, by the word that it has for `kind`."""

_KIND_OF = {kept: kind for kind, kept in KINDS.items()}

R = TypeVar("R")


def kind_of(record: Record) -> str:
    """The word for the kind of the record."""
    return _KIND_OF[type(record)]


def record_from(kept: type[R], values: Mapping[str, Any]) -> R:
    """The record whose fields have the values.

    Raises
    ------
    ValueError
        When a field is unknown, is missing, or has a value that it cannot have.
    """
    made: Any = kept
    hints = _hints(made)
    unknown = set(values) - set(hints)
    if unknown:
        raise ValueError(f"{kept.__name__} has no {', '.join(sorted(unknown))}")
    try:
        record: R = made(**{name: _value(hints[name], value) for name, value in values.items()})
    except TypeError as error:
        raise ValueError(f"{kept.__name__} cannot be made of these values: {error}") from error
    return record


@cache
def _hints(kept: Any) -> dict[str, Any]:
    hints = get_type_hints(kept)
    return {name: hints[name] for name in fields_dict(kept)}


def _value(hint: Any, value: Any) -> Any:
    """The value in the type that the hint names."""
    if hint is Treatment:
        return UNTREATED if value is None else read_treatment(value)
    if isinstance(hint, types.UnionType):
        return (
            None if value is None else _value(next(arg for arg in get_args(hint) if arg is not type(None)), value)
        )
    if get_origin(hint) is tuple:
        return _tuple(get_args(hint), value)
    if isinstance(value, dict) and has(hint):
        return record_from(hint, value)
    if isinstance(value, str) and issubclass(hint, Enum):
        return hint(value)
    if hint is float and type(value) is int:
        return float(value)
    if type(value) is not hint:
        raise ValueError(f"{value!r} should be {hint.__name__}")
    return value


def _tuple(hints: tuple[Any, ...], values: Any) -> tuple[Any, ...]:
    if not isinstance(values, list):
        raise ValueError(f"{values!r} should be a list")
    each = [hints[0]] * len(values) if hints[-1] is Ellipsis else hints
    if len(each) != len(values):
        raise ValueError(f"{len(values)} values should be {len(each)}")
    return tuple(_value(hint, value) for hint, value in zip(each, values, strict=True))
