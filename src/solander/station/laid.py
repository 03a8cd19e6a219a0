"""Prints laid out for a page of the workbench, with the addresses that it serves them at."""

from __future__ import annotations

from collections.abc import Sequence

from solander.core.descriptions import DescribedPrint
from solander.core.prints import View
from solander.look.shown import PrintShown, show

__all__ = ["laid", "laid_one", "picture_address", "print_address"]


def print_address(accession: str) -> str:
    """The address of a print's page."""
    return f"/print/{accession}"


def picture_address(view: View, *, small: bool = False) -> str:
    """The address of a view as it is to be shown: treated, where a step of its treatment is on.

    What a treatment does is named in the address, so that a browser never keeps another picture for it.
    """
    treated = f"/{view.treatment.key}" if view.treatment.key else ""
    return f"/{'thumb' if small else 'view'}/{view.key}{treated}.jpg"


class _Addresses:
    """Where the workbench serves things."""

    def page(self, described: DescribedPrint) -> str:
        return print_address(described.print.accession)

    def small(self, described: DescribedPrint, view: View) -> str:
        return picture_address(view, small=True)

    def full(self, described: DescribedPrint, view: View) -> str:
        return picture_address(view)


_ADDRESSES = _Addresses()


def laid_one(described: DescribedPrint) -> PrintShown:
    """A print as a page shows it."""
    return show(described, _ADDRESSES)


def laid(prints: Sequence[DescribedPrint]) -> list[PrintShown]:
    """Several of them."""
    return [laid_one(one) for one in prints]
