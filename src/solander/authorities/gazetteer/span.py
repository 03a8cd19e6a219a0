"""The days from which a place is spoken of, and whether a name or a state was in use then."""

from __future__ import annotations

from typing import Protocol

from attrs import frozen

from solander.core.dates import parse_edtf
from solander.core.evidence.years import first_day, last_day

__all__ = ["ANY_TIME", "HasYears", "Span"]


class HasYears(Protocol):
    """What held for some years, from and to an EDTF value or open."""

    @property
    def valid_from(self) -> str:
        """The first year; empty where it is open."""

    @property
    def valid_to(self) -> str:
        """The last year; empty where it is open."""


@frozen
class Span:
    """First and last possible day, as ordinals; None is open."""

    first: int | None = None
    last: int | None = None

    @classmethod
    def of(cls, edtf: str | None) -> Span:
        """The span of an EDTF value; all time when there is none.

        Raises
        ------
        InvalidValue
            When it is no EDTF value.
        """
        if not edtf:
            return ANY_TIME
        bounds = parse_edtf(edtf).bounds()
        return cls(bounds.earliest, bounds.latest)

    @property
    def is_known(self) -> bool:
        """Whether anything is known of the time."""
        return self.first is not None or self.last is not None

    def meets(self, valid_from: str, valid_to: str) -> bool:
        """Whether a day of it lies in the years from `valid_from` to `valid_to` (EDTF; empty is open)."""
        begins, ends = first_day(valid_from), last_day(valid_to)
        too_early = self.last is not None and begins is not None and self.last < begins
        too_late = self.first is not None and ends is not None and self.first > ends
        return not (too_early or too_late)

    def within(self, name: HasYears) -> bool:
        """Whether all of it, known on both sides, lies in the years of the name."""
        begins, ends = first_day(name.valid_from), last_day(name.valid_to)
        if self.first is None or self.last is None:
            return False
        return (begins is None or begins <= self.first) and (ends is None or self.last <= ends)


ANY_TIME = Span()
