"""What one access picture has to tell: its print, its side, its capture, in the forms that the fields need."""

from __future__ import annotations

import re
import uuid
from datetime import datetime, timedelta
from fractions import Fraction

from attrs import frozen

from solander.core.dates import truncated
from solander.core.descriptions import DescribedPrint, When
from solander.core.errors import InvalidValue
from solander.core.faces import NamedFace
from solander.core.prints import Capture, Side, View
from solander.core.statements import Sure
from solander.core.treatment_size import treated_ppi, treated_size
from solander.core.treatments import UNTREATED, Treatment
from solander.delivery.embed_words import file_identifier

__all__ = ["AccessCopy", "certain_date", "identifier_of", "moment_of_capture", "stand_in"]

_NAMES = uuid.UUID("c7bee87d-ab97-44c9-880c-b61c3ac96afc")
"""The name space of our identifiers (RFC 9562, version 5): equal views get equal identifiers everywhere."""

_PLAIN_DATE = re.compile(r"[0-9]{4}(-[0-9]{2}){0,2}")
_SORTABLE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}")
_LAST_SECOND_AFTER_NOON = 12 * 3600 - 1


@frozen
class AccessCopy:
    """One access picture: what it shows and where it comes from.

    `pixels` is its own width and height. `sortable` is a stand-in date (`YYYY-MM-DDTHH:MM:SS`) or None.
    `treatment` is what was done to it. `capture_path` says where the capture lies in the release. `faces` are
    the named ones that may be told.
    """

    described: DescribedPrint
    side: Side
    view: View
    pixels: tuple[int, int]
    capture: Capture | None = None
    capture_path: str = ""
    sortable: str | None = None
    treatment: Treatment = UNTREATED
    rights: str = ""
    collection: str = ""
    changed: str = ""
    faces: tuple[NamedFace, ...] = ()

    def __attrs_post_init__(self) -> None:
        if self.sortable is not None and not _is_sortable(self.sortable):
            raise InvalidValue(
                f"“{self.sortable}” is no stand-in date", "a whole date and time is needed", "Use stand_in()"
            )

    @property
    def identifier(self) -> str:
        """Of this picture: `B2-E5-0014_front`."""
        own = self.described.print
        return file_identifier(own.accession, self.side, own.number_of(self.view))

    @property
    def plain_date(self) -> str:
        """What ordinary readers may be told of the date: `1952`, `1952-07`, `1952-07-03` or ""."""
        return certain_date(self.described.when)

    @property
    def ppi(self) -> Fraction | None:
        """Pixels of this picture per inch of the paper, where the scale is known, in hundredths."""
        if not self.view.ppi:
            return None
        size = self.view.width, self.view.height
        ppi = treated_ppi(self.treatment, size, self.view.ppi)
        return Fraction(round(ppi * self.pixels[0] / treated_size(self.treatment, size)[0] * 100), 100)

    @property
    def document(self) -> uuid.UUID:
        """The identifier of the view."""
        return identifier_of("view", self.view.key)

    @property
    def instance(self) -> uuid.UUID:
        """The identifier of this file: the view with its treatment, which makes other pixels of it."""
        return identifier_of("file", "\n".join(filter(None, [self.view.key, self.treatment.key])))


def certain_date(when: When) -> str:
    """The part of the date that is certain, in the form `1952`, `1952-07` or `1952-07-03`; "" when none is.

    A guess gives nothing: these fields cannot say that it is one. Years that do not have four digits neither:
    EXIF, IIM and XMP dates have no form for them.
    """
    if when.sure is Sure.GUESS or not when.edtf:
        return ""
    date = truncated(when.edtf)
    return date if _PLAIN_DATE.fullmatch(date) else ""


def stand_in(described: DescribedPrint) -> str | None:
    """A date and time by which ordinary viewers sort the print into its place: `1952-07-03T12:00:14`.

    The day is the one that the order is made with; the time is noon and one second for each print before this
    one in the collection, so prints of one day keep their order, and no time zone moves them to another day.
    From the 43,200th print on, prints of one day share their last second and the file name decides. None where
    there is no day, or none with a year of four digits.
    """
    day = described.when.guess
    if day is None or not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", day):
        return None
    seconds = min(described.order, _LAST_SECOND_AFTER_NOON)
    return f"{day}T{timedelta(hours=12, seconds=seconds)}"


def identifier_of(kind: str, name: str) -> uuid.UUID:
    """The same UUID for the same kind and name, always and everywhere."""
    return uuid.uuid5(_NAMES, f"{kind} {name}")


def moment_of_capture(copy: AccessCopy) -> datetime | None:
    """When the capture was taken as its file says it; None where it says nothing that is a time."""
    if copy.capture is None or not copy.capture.taken:
        return None
    try:
        return datetime.fromisoformat(copy.capture.taken)
    except ValueError:  # a camera's clock that was never set writes blanks or zeros
        return None


def _is_sortable(text: str) -> bool:
    if not _SORTABLE.fullmatch(text):
        return False
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True
