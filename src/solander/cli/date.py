"""`solander date`."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
from attrs import evolve

from solander.cli.paper import json_line, say
from solander.core.customs import Customs
from solander.core.dates import day_text, parse_edtf, words
from solander.core.errors import InvalidValue
from solander.tasks.collection import Collection
from solander.tasks.date import DateReader, date_reader

__all__ = ["date"]


@click.command()
@click.argument("phrases", nargs=-1, required=True, metavar="PHRASE...")
@click.option(
    "--language", metavar="L", help="The language of the phrase: en, de, fr…; told by its words otherwise."
)
@click.option(
    "--collection",
    type=click.Path(path_type=Path),
    metavar="COLLECTION",
    help="Read as its people do: their customs, lives and occasions (“when Nan was six”).",
)
@click.option("--edtf", is_flag=True, help="The values are EDTF (ISO 8601-2), not phrases.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def date(
    phrases: tuple[str, ...], language: str | None, collection: Path | None, edtf: bool, as_json: bool
) -> None:
    """Read dates as people say them: “summer 58”, “between 1948 and 1952”.

    A value that begins with a minus goes after two hyphens: solander date --edtf -- -0044
    """
    reader = _reader(collection, language)
    read: Callable[[str], dict[str, Any]] = _edtf_record if edtf else lambda phrase: _phrase_record(phrase, reader)
    records = [read(phrase) for phrase in phrases]
    for record in records:
        json_line(record) if as_json else _say(record)
    if any("error" in record for record in records):
        sys.exit(1)


def _reader(collection: Path | None, language: str | None) -> DateReader:
    if collection is None:
        return DateReader(Customs(language=language))
    with Collection.open(collection) as opened:
        reader = date_reader(opened.catalogue)
    return evolve(reader, customs=evolve(reader.customs, language=language)) if language else reader


def _phrase_record(phrase: str, reader: DateReader) -> dict[str, Any]:
    understood = reader(phrase)
    readings = [
        {"edtf": reading.edtf, "earliest": _day(reading.earliest), "latest": _day(reading.latest)}
        for reading in understood.readings
    ]
    return {"phrase": phrase, "readings": readings, "unused": list(understood.unused)}


def _edtf_record(value: str) -> dict[str, Any]:
    try:
        parsed = parse_edtf(value)
    except InvalidValue as trouble:
        # An invalid value is an answer here, not a failure: the question was whether it is valid.
        return {
            "value": value,
            "valid": False,
            "level": None,
            "earliest": None,
            "latest": None,
            "why": trouble.why,
        }
    bounds = parsed.bounds()
    return {
        "value": value,
        "valid": True,
        "level": parsed.level,
        "earliest": _day(bounds.earliest),
        "latest": _day(bounds.latest),
    }


def _day(ordinal: int | None) -> str | None:
    return None if ordinal is None else day_text(ordinal)


def _say(record: dict[str, Any]) -> None:
    if "value" in record:
        _say_value(record)
        return
    if not record["readings"]:
        say(f"“{record['phrase']}”: no date was understood")
    for reading in record["readings"]:
        say(f"“{record['phrase']}”: {words(reading['edtf'])}   {_span(reading)}   {reading['edtf']}")
    if record["unused"]:
        say(f"  not understood: {' '.join(record['unused'])}")


def _say_value(record: dict[str, Any]) -> None:
    if record["valid"]:
        say(f"{record['value']}: {words(record['value'])}   {_span(record)}   level {record['level']}")
    else:
        say(f"{record['value'] or '(nothing)'}: not a valid value: {record['why']}")


def _span(record: dict[str, Any]) -> str:
    return f"{record['earliest'] or '…'} to {record['latest'] or '…'}"
