"""Brings the message files of translators up to date with the sources: `.venv/bin/python tools/messages.py`.

New messages are added without a translation, those that nobody says any more are taken away, nothing is guessed.
Prints how many are missing in each language; the exit status is 1 when any is.
"""

from __future__ import annotations

import csv
import io
import os
import sys
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

from solander.look.languages import LANGUAGES, LOCALE

__all__ = ["collected", "kept", "missing"]

SOURCE = Path(__file__).parents[1] / "src" / "solander"

_KEYWORDS = {
    "_": None,
    "_n": (1, 2),
    "gettext": None,
    "ngettext": (1, 2),
    "marked": None,
    "worded": None,
    "Sentence": None,
    "Counted": (1, 2),
}
"""The functions that say messages; `worded` is that of page scripts."""

_TABLES = {"authorities/dating_evidence.csv": "evidence", "authorities/dating_seen.csv": "looks"}
"""Tables whose words are shown on pages: what dates a print, and how one sees it."""

_METHODS = [("**/static/vendor/**", "ignore"), ("**.py", "python"), ("**.html", "jinja2"), ("**.js", "javascript")]
_OPTIONS = {
    "**.html": {"trimmed": "true", "trim_blocks": "true", "lstrip_blocks": "true", "silent": "false"},
    "**.js": {"parse_template_string": "true"},
}


def collected(source: Path = SOURCE) -> Catalog:
    """Every message that the sources say, with the files that say it."""
    catalogue = Catalog(charset="utf-8")
    found = extract_from_dir(
        str(source), _METHODS, _OPTIONS, keywords=_KEYWORDS, comment_tags=("For translators:",)
    )
    for file, _, message, comments, context in sorted(found, key=lambda each: each[0]):
        if message:
            catalogue.add(message, None, [(file, 1)], auto_comments=comments, context=context)
    for file, column in _TABLES.items():
        for row in csv.DictReader((source / file).read_text(encoding="utf-8").splitlines()):
            catalogue.add(row[column].replace("%", "%%"), None, [(file, 1)])
    return catalogue


def kept(code: str) -> Catalog:
    """The message file of a language."""
    with (LOCALE / f"{code}.po").open("rb") as file:
        return read_po(file, locale=code)


def missing(catalogue: Catalog) -> list[str]:
    """The messages that have no translation, or only part of one."""
    return [str(message.id) for message in catalogue if message.id and not _is_told(message.string)]


def _is_told(said: object) -> bool:
    return all(said) if isinstance(said, (tuple, list)) else bool(said)


_HEAD = """\
# {} messages of Solander; tools/messages.py brings this file up to date.
# GPL-3.0-or-later, as Solander is."""


def bring_up_to_date(code: str, source: Catalog) -> Catalog:
    """Writes the message file of a language anew, with what was translated already."""
    before = kept(code)
    after = Catalog(locale=code, charset="utf-8", fuzzy=False, header_comment=_HEAD.format(LANGUAGES[code]))
    for message in source:
        if not message.id:
            continue
        old = before.get(message.id)
        told = old.string if old is not None else None
        after.add(message.id, told, locations=message.locations, auto_comments=message.auto_comments)
    # In its place at once: who reads it meanwhile, or does the same, gets a whole one.
    fresh = LOCALE / f".{code}.{os.getpid()}.po"
    fresh.write_bytes(b"".join(_without_dates(after)))
    fresh.replace(LOCALE / f"{code}.po")
    return after


def _without_dates(catalogue: Catalog) -> Iterator[bytes]:
    """The file as it is written, without the lines of its head that tell when and with what: they only differ."""
    written = io.BytesIO()
    write_po(written, catalogue, width=110, omit_header=False, include_lineno=False, sort_by_file=True)
    for line in written.getvalue().splitlines(keepends=True):
        if not line.startswith(_ONLY_DIFFER):
            yield line


_ONLY_DIFFER = tuple(
    f'"{name}'.encode()
    for name in ("POT-Creation", "PO-Revision", "Generated", "Last-", "Project-", "Report", "Language-Team")
)


def main() -> int:
    """Brings all of them up to date."""
    source = collected()
    left = {path.stem: missing(bring_up_to_date(path.stem, source)) for path in sorted(LOCALE.glob("*.po"))}
    for code, those in left.items():
        print(f"{code}: {len(source) - len(those)} of {len(source)} messages translated")
    return 1 if any(left.values()) else 0


if __name__ == "__main__":
    sys.exit(main())
