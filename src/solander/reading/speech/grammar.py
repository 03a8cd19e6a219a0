"""What may be said, as a tree of rules whose leaves are spoken words; both recognisers are built from it.

A grammar has no recursion, so that it is a finite network of words (a regular language). `jsgf` writes it in the
JSpeech Grammar Format (W3C note of 5 June 2000), which the base recogniser reads.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum

from attrs import field, frozen

__all__ = ["Any", "Kind", "Loop", "Maybe", "Row", "Rule", "Word", "jsgf", "words_of_rule"]

Phones = tuple[str, ...]


class Kind(StrEnum):
    """What a spoken word tells of."""

    ORDER = "order"
    CONTAINER = "container"
    OCCASION = "occasion"
    DATE = "date"
    PLACE = "place"
    PEOPLE = "people"
    KIN = "kin"  # "her brother": a person, or what a person's name follows
    JOINT = "joint"  # "with", "in": says nothing itself
    BACK = "back"  # "no", "I mean": takes back what was said before


@frozen
class Word:
    """A leaf: one or more words said as one; `written` is what a person would type, `ways` are the ways to say it
    in phones. `name` is its own in the grammar."""

    name: str
    kind: Kind
    written: str
    ways: tuple[Phones, ...]


@frozen
class Row:
    """One rule after the other."""

    rules: tuple[Rule, ...]


@frozen
class Any:
    """One of several rules."""

    rules: tuple[Rule, ...]


@frozen
class Maybe:
    """A rule, or nothing."""

    rule: Rule


@frozen
class Loop:
    """A rule, once or more often, with `between` between one and the next where it is given."""

    rule: Rule
    between: Rule | None = field(default=None)


Rule = Word | Row | Any | Maybe | Loop


def words_of_rule(rule: Rule) -> Iterator[Word]:
    """All leaves."""
    match rule:
        case Word():
            yield rule
        case Row(rules) | Any(rules):
            for each in rules:
                yield from words_of_rule(each)
        case Maybe(inner):
            yield from words_of_rule(inner)
        case Loop(inner, between):
            yield from words_of_rule(inner)
            if between is not None:
                yield from words_of_rule(between)


def jsgf(rule: Rule, name: str = "said") -> str:
    """The grammar as text of the JSpeech Grammar Format; one public rule."""
    return f"#JSGF V1.0;\ngrammar {name};\npublic <{name}> = {_text(rule)};\n"


def _text(rule: Rule) -> str:
    match rule:
        case Word(name=name):
            return name
        case Row(rules):
            return _joined(rules, " ")
        case Any(rules):
            return f"( {_joined(rules, ' | ')} )"
        case Maybe(inner):
            return f"[ {_text(inner)} ]"
        case Loop(inner, between):
            one = _text(inner)
            return f"{one} ( {'' if between is None else _text(between)} {one} )*"
    raise AssertionError(rule)


def _joined(rules: Iterable[Rule], joint: str) -> str:
    return joint.join(_text(each) for each in rules)
