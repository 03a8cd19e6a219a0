"""The other prints of a print's negative, with all that is known of them."""

from __future__ import annotations

from solander.core.descriptions import DescribedPrint
from solander.tasks.around import others_of_negatives
from solander.tasks.collection import Collection
from solander.tasks.described_some import described_some

__all__ = ["other_prints"]


def other_prints(collection: Collection, accession: str) -> list[DescribedPrint]:
    """Those that are still there, by their numbers."""
    others = others_of_negatives(collection.catalogue, [accession])
    return described_some(collection, sorted(others)) if others else []
