"""Told stories as they are handed over: on a page of the family's site, and in the table of an archive."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from attrs import frozen

from solander.delivery.tables import guarded

__all__ = ["SiteStory", "StoryRow", "write_stories"]

_HEADINGS = ("file", "told on (UTC)", "minutes", "prints", "told by", "what is said", "written down by")


@frozen
class SiteStory:
    """A told story of a print: its file below `stories/`, who tells it and when in words, and what is said in it;
    `is_checked` tells that a person has read that."""

    file: str
    words: str
    heard: str = ""
    is_checked: bool = False


@frozen
class StoryRow:
    """One recording: its file, when it began, how long it is, the prints that it is told about, by whom, and what
    is said in it, written down by whom or what."""

    file: str
    begun: str
    length: str
    prints: tuple[str, ...]
    teller: str = ""
    said: str = ""
    said_by: str = ""


def write_stories(rows: Iterable[StoryRow]) -> bytes:
    """The table of an archive: CSV (RFC 4180) in UTF-8, one row a recording."""
    content = io.StringIO(newline="")
    table = csv.writer(content)
    table.writerow(_HEADINGS)
    for row in rows:
        cells = row.file, row.begun, row.length, " | ".join(row.prints), row.teller, row.said, row.said_by
        table.writerow([guarded(cell) for cell in cells])
    return content.getvalue().encode("utf-8", "replace")
