"""`solander who`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from solander.authorities.naming import Candidate, Mention
from solander.cli.paper import json_line, say
from solander.core.dates import Bounds, parse_edtf
from solander.core.errors import CannotBegin, InvalidValue
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.known_people import KnownPeople, candidate_words, known_people
from solander.tasks.who_is_it import ask_who_is_who

__all__ = ["who"]

_TOLD = 5
"""So many candidates are told to a person; `--json` gives all."""


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("phrases", nargs=-1, metavar="PHRASE...")
@click.option("--from", "by", default="", metavar="NAME", help="Through whose eyes the family is seen.")
@click.option("--on", metavar="EDTF", help="The date of the print: who lived then comes first.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def who(collection: Path, phrases: tuple[str, ...], by: str, on: str | None, as_json: bool) -> None:
    """Find people of COLLECTION by what is said of them: “Nan, Uncle Joe and the twins”.

    Without a PHRASE, looks through the names on prints and asks about those that may
    be people of the trees and lists taken in since. The family is seen from the
    person whose photographs these are, or from NAME.
    """
    bounds = _bounds(on)
    with Collection.open(collection) as opened:
        if not phrases:
            say(f"{counted(ask_who_is_who(opened), 'name')} asked about.")
            return
        known = known_people(opened.catalogue)
    _check(known, by)
    for phrase in phrases:
        mentions = known.read(phrase, by=by, on=bounds)
        json_line(_record(phrase, mentions)) if as_json else _say(phrase, mentions)


def _bounds(on: str | None) -> Bounds | None:
    try:
        return parse_edtf(on).bounds() if on else None
    except InvalidValue as trouble:
        what = f"--on {on} is no date"
        raise CannotBegin(what, trouble.why, "Write it as EDTF: 1952, 1952-07, 1948/1952") from trouble


def _check(known: KnownPeople, by: str) -> None:
    if by and by not in known.by_heading and known.seen_from(by) == known.teller:
        raise CannotBegin(
            f"It is not clear who --from {by} is",
            f"{counted(len(known.by_heading), 'person', 'people')} are known",
            "Give the name under which the person is listed",
        )


def _record(phrase: str, mentions: tuple[Mention, ...]) -> dict[str, Any]:
    return {"phrase": phrase, "people": [_mention_record(mention) for mention in mentions]}


def _mention_record(mention: Mention) -> dict[str, Any]:
    meant, age = mention.understood, mention.told.age
    return {
        "said": mention.said,
        "age": [age.youngest, age.oldest] if age else None,
        "understood": [person.name for person in meant.everybody] if meant else None,
        "candidates": [_candidate_record(candidate) for candidate in mention.candidates],
    }


def _candidate_record(candidate: Candidate) -> dict[str, Any]:
    return {
        "people": [person.name for person in candidate.everybody],
        "score": candidate.score,
        "reasons": list(candidate.reasons),
    }


def _say(phrase: str, mentions: tuple[Mention, ...]) -> None:
    if not mentions:
        say(f"“{phrase}”: nobody is named")
    for mention in mentions:
        if mention.understood:
            say(f"“{mention.said}” is {candidate_words(mention.understood)}")
        elif mention.candidates:
            say(f"“{mention.said}” may be")
            for candidate in mention.candidates[:_TOLD]:
                say(f"  {candidate_words(candidate)}")
        else:
            say(f"“{mention.said}”: nobody is known by that name")
