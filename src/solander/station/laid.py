"""Prints laid out for a page of the workbench, with the addresses that it serves them at."""

from __future__ import annotations

from collections.abc import Sequence

from solander.core.descriptions import DescribedPrint
from solander.core.prints import View
from solander.look.shown import PrintShown, show

__all__ = ["laid", "laid_one", "print_address"]


def print_address(accession: str) -> str:
    """The address of a print's page."""
    return f"/print/{accession}"


class _Addresses:
    """Where the workbench serves things."""

    def page(self, described: DescribedPrint) -> str:
        return print_address(described.print.accession)

    def small(self, described: DescribedPrint, view: View) -> str:
        return f"/thumb/{view.key}.jpg"

    def full(self, described: DescribedPrint, view: View) -> str:
        return f"/view/{view.key}.jpg"


_ADDRESSES = _Addresses()


def laid_one(described: DescribedPrint) -> PrintShown:
    """A print as a page shows it."""
    return show(described, _ADDRESSES)


def laid(prints: Sequence[DescribedPrint]) -> list[PrintShown]:
    """Several of them."""
    return [laid_one(one) for one in prints]
