"""`solander inscription`."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from solander.cli.paper import json_line, say, watched
from solander.core.errors import CannotBegin, Trouble
from solander.core.inscriptions import Fact, Line
from solander.core.inscriptions.records import UNREAD
from solander.engine.local import local_executor
from solander.look.words import counted
from solander.tasks.ask_inscriptions import ask_inscriptions
from solander.tasks.collection import Collection
from solander.tasks.hand_folder import hand_folder, use_hand
from solander.tasks.inscription import Readers, Written, readers
from solander.tasks.inscription import inscription as read
from solander.tasks.read_collection import by_models, read_collection
from solander.tasks.turn_by_writing import turn_by_writing

__all__ = ["inscription"]


@click.command()
@click.argument("images", type=click.Path(path_type=Path), nargs=-1, required=True, metavar="IMAGE...")
@click.option("--front", "is_front", is_flag=True, help="They are fronts: read what the border bears.")
@click.option("--languages", default="", metavar="L+L", help="Read with Tesseract, in these: rus+ukr.")
@click.option(
    "--hand",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="A recogniser of handwriting that you have: docs/reading-backs.md.",
)
@click.option("--always", is_flag=True, help="Of a COLLECTION: with this --hand, or without one, from now on.")
@click.option("--threads", type=click.IntRange(1), default=1, help="Threads that read a picture; 1 as a rule.")
@click.option("--again", is_flag=True, help="Of a COLLECTION: also what was read already.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def inscription(
    images: tuple[Path, ...],
    is_front: bool,
    languages: str,
    hand: Path | None,
    always: bool,
    threads: int,
    again: bool,
    as_json: bool,
) -> None:
    """Read what is written on the backs of prints.

    Stamps, print and type are read well, old handwriting badly: take what is
    read as a suggestion. Of pictures nothing is changed or kept. Where a
    COLLECTION stands in the place of an image, its backs and the borders of
    its fronts are read, and what was read is kept beside them; it can be
    stopped at any time and goes on from there.
    """
    if as_json and any(image.is_dir() for image in images):
        raise CannotBegin(
            "Nothing was read", "of a collection nothing is printed as JSON", "Leave --json out, or name pictures"
        )
    who = readers(languages=languages, hand=hand, threads=threads)
    went_well = [
        _collection(image, languages, hand, always=always, again=again)
        if image.is_dir()
        else _picture(image, who, is_front, as_json)
        for image in images
    ]
    if not all(went_well):
        sys.exit(1)


def _picture(image: Path, who: Readers, is_front: bool, as_json: bool) -> bool:
    """Tells what stands on a picture; and whether it went well."""
    try:
        found = read(image, who, is_front=is_front)
    except Trouble as trouble:
        json_line({"image": str(image), "error": trouble.sentence}) if as_json else say(trouble.sentence)
        return False
    json_line(_record(image, found)) if as_json else _say(image, found)
    return True


def _collection(folder: Path, languages: str, hand: Path | None, *, always: bool, again: bool) -> bool:
    """Reads what is not read yet of a collection, and asks what it means; tells whether all of it could be."""
    reader = f"Tesseract {languages}" if languages else "PP-OCRv6"
    with Collection.open(folder) as opened, local_executor() as executor, watched() as watch:
        if always:
            use_hand(opened, hand)
        who = by_models(languages=languages, hand=hand or hand_folder(opened))
        done = read_collection(opened, who=who, reader=reader, again=again, executor=executor, watch=watch)
        turned = turn_by_writing(opened)
        asked = ask_inscriptions(opened)
    if done.read:
        say(f"{counted(done.read, 'side')} read, something is written on {done.written} of them.")
    elif not done.set_aside:
        say("Every side was read already; --again reads them anew.")
    if turned.backs or turned.fronts:
        say(f"Which way is up: told by the writing of {turned.backs} backs, and so of {turned.fronts} fronts.")
    if asked:
        say(f"{counted(asked, 'question waits', 'questions wait')} about what it may mean.")
    for sentence in done.set_aside:
        say(sentence)
    return not done.set_aside


def _record(image: Path, found: Written) -> dict[str, Any]:
    told = found.inscription
    return {
        "image": str(image),
        "width": found.width,
        "height": found.height,
        "written": told.is_written,
        "turn": found.turn,
        "text": told.text,
        "lines": [_line_record(line) for line in told.lines],
        "left": told.left,
        "repeated": [_line_record(line) for line in told.repeated],
        "facts": [_fact_record(fact, (*told.lines, *told.repeated)) for fact in found.facts],
        "ms": round(found.ms, 1),
    }


def _line_record(line: Line) -> dict[str, Any]:
    return {
        "text": line.text,
        "corners": _corners(line),
        "angle_deg": round(line.angle_deg, 1),
        "sure": round(line.sure, 3),
        "agreed": line.agreed,
        "also": line.also,
        "words": [
            {
                "text": word.text,
                "sure": round(word.sure, 3),
                "begins": round(word.begins, 3),
                "ends": round(word.ends, 3),
            }
            for word in line.words
        ],
    }


def _fact_record(fact: Fact, lines: Sequence[Line]) -> dict[str, Any]:
    return {
        "kind": fact.kind.value,
        "value": fact.value,
        "words": fact.words,
        "line": fact.line,
        "corners": _corners(lines[fact.line]),
        "sure": fact.sure.value,
        "ignored": list(fact.ignored),
    }


def _corners(line: Line) -> list[list[float]]:
    return [[round(value, 1) for value in corner] for corner in line.corners]


def _say(image: Path, found: Written) -> None:
    told = found.inscription
    say(f"{image}: {len(told.lines) or 'no'} line{'' if len(told.lines) == 1 else 's'} of writing")
    for line in told.lines:
        doubt = "" if line.agreed else f"   or “{line.also}”" if line.also else ""
        say(f"  {line.sure:4.0%} sure   {line.text or UNREAD}{doubt}")
    if told.left:
        say(f"  and {told.left} more, which were not read: too many for one side")
    if told.repeated:
        say(f"  the maker of the paper, {len(told.repeated)} times: {told.repeated[0].text}")
    for fact in found.facts:
        say(f"  {fact.kind.value}: {fact.value} ({fact.sure.value})")
