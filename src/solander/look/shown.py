"""A described print laid out for a page: which picture file, how large on the table, what it says.

Prints lie at their true relative sizes: paper twice as wide is shown twice as wide.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import groupby
from typing import Protocol

from attrs import frozen

from solander.core.descriptions import DescribedPrint
from solander.core.language import _
from solander.core.prints import Side, View
from solander.core.treatment_size import treated_size
from solander.look.words import edge_unsure, picture_words, prints_in_words, side_word, slip_words

__all__ = ["Addresses", "PictureShown", "PrintShown", "Stretch", "laid_size", "show", "stretches"]

PX_PER_MM = 2.5
"""CSS pixels for a millimetre of paper on the table: a 150 mm print is then 375 px wide, so that three lie
beside each other on a 1440 px screen (looked at, not measured)."""

MM_WHERE_UNKNOWN = 127.0
"""Long side taken for prints without a scale: the middle of the common sizes 9 × 13 and 10 × 15 cm, about 5 inches
(common practice, no source)."""

SHORTEST_PX, LONGEST_PX = 170, 480
"""Bounds of the long side on the table, so that a contact print is seen and a large one leaves room."""

PRINTS_IN_A_DECADE = 30
"""Decades with more prints are parted into years, so that no heading is further away than about ten rows."""


class Addresses(Protocol):
    """Where a page finds things: the page of a print, and a view in small or in full."""

    def page(self, described: DescribedPrint) -> str: ...
    def small(self, described: DescribedPrint, view: View) -> str: ...
    def full(self, described: DescribedPrint, view: View) -> str: ...


@frozen
class PictureShown:
    """One view: addresses, CSS pixels on the table, pixels of the file in full, what it says, what it is called:
    `front`, `back`, `detail 2`."""

    small: str
    full: str
    table_width: int
    table_height: int
    width: int
    height: int
    words: str
    side: str
    called: str
    unsure: bool
    view: View

    @property
    def share(self) -> float:
        """Width over height."""
        return self.width / self.height


@frozen
class PrintShown:
    """A print with its pictures in the order front, back, details; `extent` is how much of the table it takes."""

    described: DescribedPrint
    href: str
    front: PictureShown | None
    back: PictureShown | None
    details: tuple[PictureShown, ...]

    @property
    def top(self) -> PictureShown | None:
        """What lies on top: the front, the back where there is no front yet, or the first part of a print that was
        captured in parts."""
        return self.front or self.back or next(iter(self.details), None)

    @property
    def under(self) -> PictureShown | None:
        """The second sheet: the back, where there is a front on top of it."""
        return self.back if self.front else None

    @property
    def pictures(self) -> tuple[PictureShown, ...]:
        """All pictures that are there."""
        return tuple(picture for picture in (self.front, self.back, *self.details) if picture)

    @property
    def extent(self) -> str:
        """`narrow`, `middle` or `wide`: how many columns of the table the paper needs."""
        width = self.top.table_width if self.top else 0
        return "narrow" if width <= 275 else "middle" if width <= 385 else "wide"

    @property
    def slip(self) -> str:
        """The slip as one sentence."""
        return slip_words(self.described)


@frozen
class Stretch:
    """A stretch of time on the table: its heading, the decade's first year for links, the prints in it."""

    heading: str
    anchor: str
    decade: int | None
    prints: tuple[PrintShown, ...]

    @property
    def count(self) -> str:
        """ "14 prints"."""
        return prints_in_words(len(self.prints))


def laid_size(view: View) -> tuple[int, int]:
    """Width and height in CSS pixels at which a view lies on the table; the long side is the paper's, also where
    its treatment shows less of it."""
    width, height = treated_size(view.treatment, (view.width, view.height))
    long_px = max(width, height)
    long_mm = max(view.size_mm) if view.size_mm else MM_WHERE_UNKNOWN
    laid = min(LONGEST_PX, max(SHORTEST_PX, long_mm * PX_PER_MM))
    return max(1, round(width / long_px * laid)), max(1, round(height / long_px * laid))


def show(described: DescribedPrint, addresses: Addresses) -> PrintShown:
    """The print with all its pictures laid out."""

    def laid(view: View | None) -> PictureShown | None:
        return _picture(described, view, addresses) if view else None

    details = (_picture(described, view, addresses) for view in described.print.views if view.side is Side.DETAIL)
    own = described.print
    return PrintShown(described, addresses.page(described), laid(own.recto), laid(own.verso), tuple(details))


def _picture(described: DescribedPrint, view: View, addresses: Addresses) -> PictureShown:
    table_width, table_height = laid_size(view)
    width, height = treated_size(view.treatment, (view.width, view.height))
    own = described.print
    several = view.side is Side.DETAIL and sum(other.side is Side.DETAIL for other in own.views) > 1
    return PictureShown(
        small=addresses.small(described, view),
        full=addresses.full(described, view),
        table_width=table_width,
        table_height=table_height,
        width=width,
        height=height,
        words=picture_words(described, view),
        side=side_word(view.side),
        called=side_word(view.side) + (f" {own.number_of(view)}" if several else ""),
        unsure=edge_unsure(view),
        view=view,
    )


def stretches(prints: Sequence[PrintShown]) -> list[Stretch]:
    """The prints, already in time order, by decade; by year where a decade holds many."""
    return [
        stretch
        for decade, group in _grouped(prints, lambda year: None if year is None else year // 10 * 10)
        for stretch in _parted(decade, group)
    ]


def _parted(decade: int | None, prints: tuple[PrintShown, ...]) -> list[Stretch]:
    if decade is None:
        return [Stretch(_("No date yet"), "no-date", None, prints)]
    if len(prints) <= PRINTS_IN_A_DECADE:
        return [Stretch(_("%(decade)ss", decade=decade), f"y{decade}", decade, prints)]
    return [
        Stretch(str(year), f"y{year}", decade if i == 0 else None, group)
        for i, (year, group) in enumerate(_grouped(prints, lambda year: year))
    ]


def _grouped(
    prints: Iterable[PrintShown], key: Callable[[int | None], int | None]
) -> list[tuple[int | None, tuple[PrintShown, ...]]]:
    return [(found, tuple(group)) for found, group in groupby(prints, lambda shown: key(_year(shown)))]


def _year(shown: PrintShown) -> int | None:
    guess = shown.described.when.guess
    return int(guess.rsplit("-", 2)[0]) if guess else None
