"""The text that tells a finder, decades from now, what lies before them and how to use it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

__all__ = ["LINE_LENGTH", "finder_readme"]

LINE_LENGTH = 66
"""Characters a line: the length that is read with ease (common practice in typography, no source)."""


def finder_readme(
    *,
    title: str,
    made_on: str,
    prints: int,
    captures: int,
    stories: int = 0,
    contact: str = "",
    rights: str = "",
    about: str = "",
) -> str:
    """README.txt of an archive release: plain words, at most 66 characters a line where words allow it.

    `made_on` is a day (`YYYY-MM-DD`). `contact` names who can be asked, `rights` who may use the pictures how,
    `about` what the collection is; where one is empty the text says that it was not written down.
    """
    sections = [
        _opening(title, made_on, about),
        _contents(prints, captures) + _stories(stories),
        _OPENING_WITHOUT_PROGRAMS,
        _DATES,
        _SURE,
        _WHOLE,
        _rights(contact, rights),
        _PAPER,
        _REBUILDING,
    ]
    return "\n".join(_set(section) for section in sections)


def _opening(title: str, made_on: str, about: str) -> str:
    return f"""\
# {" ".join(title.split())}

This folder holds digital copies of paper photographs, together with what was known of them. It was made on
{made_on}. It is meant to last, and needs no particular program.

{about or "What the collection is was not written down when this was made."}
"""


def _contents(prints: int, captures: int) -> str:
    return f"""\
# What is here

- views/ : the photographs, cut to the edge of the paper and set upright. "front" and "back" are the two sides of
one print, for instance B2-E5-0014_front.jpg: box 2, envelope 5, print 14. {_counted(prints, "print")} in all.
A "detail" is a close-up of a print, or a part of one that was too large to be taken at once.
- captures/ : the same photographs exactly as camera or scanner took them; nothing was ever changed in these.
{_counted(captures, "file")}. They are the masters: if you can keep one thing, keep this. Pages of albums are whole
here, with what is written on them; prints.csv says which file shows which page.
- prints.csv : a table with one row for each picture.
- statements.jsonl : everything that anybody said about the prints, with who said it and how sure they were.
"""


def _stories(stories: int) -> str:
    if not stories:
        return ""
    return f"""\
- sound/ : what was told about the prints, {_counted(stories, "recording")} in the teller's own voice, as FLAC
(RFC 9639), which loses nothing.
- stories.csv : a table with one row for each of them: the file, when it was told, by whom, how long it is, about
which prints, and what is said in it. Text that a program heard and nobody has read is marked so.
"""


_OPENING_WITHOUT_PROGRAMS = """\
# How to open it

The pictures are JPEG and whatever else a camera gave (TIFF, PNG). If nothing you have opens them, both are
described in public standards (JPEG: ISO/IEC 10918-1; TIFF: revision 6.0; PNG: ISO/IEC 15948).

prints.csv and statements.jsonl are plain text in UTF-8. The first is a table with commas between the cells and
quotation marks around cells that hold commas; any spreadsheet opens it (choose UTF-8 when asked). Several values
in one cell have an upright bar between them. A cell that starts with = + - or @ has an apostrophe before it, so
that no spreadsheet takes it for a formula; the apostrophe is not part of the text.

Each picture also carries its own description inside the file, in the fields that picture programs show as
caption, people, place and date.
"""

_DATES = """\
# How to read the dates

Dates are written in EDTF, which is part of the standard ISO 8601-2.

*   1952          some time in 1952
*   1952-07       July 1952
*   1952-07-03    3 July 1952
*   1952-22       summer 1952 (21 spring, 22 summer,
*                 23 autumn, 24 winter)
*   195X          some year from 1950 to 1959
*   1952~         about 1952
*   1952?         1952, but not sure
*   [1948..1952]  one day between 1948 and 1952
*   ../1952       in 1952 or before
*   (empty)       nothing is known

The winter of a year begins in its December. Prints without a date still have a place in time: it was worked out
from other evidence, and the reasons are with them.
"""

_SURE = """\
# How sure it is

Every statement is marked certain, likely or guess, by the person who made it. Names of people were given by
people, never by a machine.
"""

_WHOLE = """\
# Is it whole?

This folder lies in a "bag" (BagIt 1.0, RFC 8493): the folder above has a list of all files with their checksums.
There, on nearly any computer with a command line, type

*   sha256sum -c manifest-sha256.txt

Each line should end in OK. If one does not, that file has changed: look for another copy of this folder and take
the file from there. Keep at least two copies in two places, and check them every few years.
"""


def _rights(contact: str, rights: str) -> str:
    return f"""\
# Whom to ask

{f"Ask: {contact}" if contact else "Nobody was named who can be asked."}

{f"Rights: {rights}" if rights else "Nothing was written down about rights."} A photograph may still belong to its
photographer or to their heirs, and people who are shown may be alive: please think of them before you publish.
"""


_PAPER = """\
# If you have the paper too

Keep it: this copy does not replace it. Hold prints by their edges, with clean dry hands. Keep them cool, dry and
dark, in paper or polyester that is made for photographs.

- Film that smells sharp, is sticky, yellowed or crumbles may be cellulose nitrate. It burns fiercely and cannot be
put out. Do not scan or store it at home: ask a film archive or the fire service.
- Mould makes people ill. Keep such prints apart and dry, and ask a conservator.
- Do not force prints that stick together or flake. No glue, no tape, no pressure. A conservator decides.
"""

_REBUILDING = """\
# For whoever builds a catalogue from this

statements.jsonl holds one object a line (JSON, RFC 8259). The field "kind" says what it is: container, capture,
print (with the outlines by which its views were cut from the captures), person, place, occasion, statement or
question.
A view may have a "treatment": what was done to copies for looking at so that the print looks well again, never to
what lies here. It holds the steps with their parameters in the order in which they work, who wanted each and why,
and under "told" the same in words. By it, and the picture in views/, such a copy can be made again.
A capture is known by its SHA-256; sizes are pixels; corners are (x, y) from the centre of the first pixel of the
capture, clockwise from the print's own top left.
"""


def _counted(number: int, noun: str) -> str:
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"


def _set(section: str) -> str:
    return "\n".join(line for block in section.split("\n\n") for line in [*_block(block.strip("\n")), ""])


def _block(block: str) -> Iterator[str]:
    """Lines of a heading, of a table (each line starts with "*" and three blanks), of a list or of a paragraph."""
    if block.startswith("# "):
        heading = textwrap.wrap(block[2:].upper(), LINE_LENGTH, break_long_words=False)
        yield from [*heading, "-" * max(map(len, heading), default=0)]
    elif block.startswith("*"):
        yield from (f"  {line[4:]}" for line in block.splitlines())
    elif block.startswith("- "):
        for item in f"\n{block}".split("\n- ")[1:]:
            yield from _wrapped(f"- {item}", "  ")
    else:
        yield from _wrapped(block, "")


def _wrapped(text: str, indent: str) -> list[str]:
    # A word that is longer than a line stays whole: addresses are of no use in two parts.
    return textwrap.wrap(
        " ".join(text.split()),
        LINE_LENGTH,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )
