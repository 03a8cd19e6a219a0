"""What may be said, as a tree of rules whose leaves are spoken words; both recognisers are built from it.

A grammar has no recursion, so that it is a finite network of words (a regular language); `drawing` draws it.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum

from attrs import frozen

__all__ = ["Any", "Kind", "Loop", "Maybe", "Row", "Rule", "Word", "words_of_rule"]

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
    """A rule, once or more often, with `between` between one and the next."""

    rule: Rule
    between: Rule


@frozen
class Turns:
    """Several of the rules in any order, none twice in a row unless `again` stands between; `between` else."""

    rules: tuple[Rule, ...]
    between: Rule
    again: Rule


Rule = Word | Row | Any | Maybe | Loop | Turns


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
            yield from words_of_rule(between)
        case Turns(rules, between, again):
            for each in (*rules, between, again):
                yield from words_of_rule(each)
