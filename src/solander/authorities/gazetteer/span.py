"""The days from which a place is spoken of, and whether a name or a state was in use then."""

from __future__ import annotations

from attrs import frozen

from solander.core.dates import parse_edtf
from solander.core.evidence.years import first_day, last_day

__all__ = ["ANY_TIME", "Span"]


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


ANY_TIME = Span()
