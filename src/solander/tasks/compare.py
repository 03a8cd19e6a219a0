"""Looks for two captures of one print; a person decides, nothing is ever deleted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from solander.catalogue.store import Act
from solander.core.prints import Print, View
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.imaging.compare import same_picture
from solander.imaging.decode import decode
from solander.tasks.ask import ask
from solander.tasks.collection import Collection
from solander.tasks.prepare import remake_view, view_paths

__all__ = ["NEAR", "ask_about_duplicates", "duplicate_sentence", "picture_of"]

NEAR = 12
"""Bits of 64 in which two fingerprints may differ to be worth a closer look; the closer look decides."""


def ask_about_duplicates(collection: Collection, act: Act, new: Sequence[str]) -> None:
    """Asks about each new print whose front looks like another's."""
    if not new:
        return
    prints = [print_ for print_ in collection.catalogue.prints() if print_.recto and print_.recto.condition]
    with act.work() as work:
        for one, other in _near(prints, set(new)):
            if _same(collection, one, other):
                sentence = duplicate_sentence(one.accession, other.accession)
                ask(work, Asks.DUPLICATE, one.accession, sentence)
        work.commit()


def duplicate_sentence(later: str, earlier: str) -> str:
    """What is asked about two prints that look alike."""
    return Sentence(
        "%(later)s looks like %(earlier)s: is it one print, captured twice?", later=later, earlier=earlier
    )


def _near(prints: Sequence[Print], new: set[str]) -> Iterator[tuple[Print, Print]]:
    """Pairs of prints with near fingerprints, at least one of them new, the later one first."""
    codes = np.array([int(_fingerprint(print_), 16) for print_ in prints], dtype=np.uint64)
    for index, print_ in enumerate(prints):
        distances = np.bitwise_count(codes[:index] ^ codes[index])
        for other in np.flatnonzero(distances <= NEAR).tolist():
            if print_.accession in new or prints[other].accession in new:
                yield print_, prints[other]


def _fingerprint(print_: Print) -> str:
    assert print_.recto is not None
    assert print_.recto.condition is not None
    return print_.recto.condition.fingerprint


def _same(collection: Collection, one: Print, other: Print) -> bool:
    assert one.recto is not None
    assert other.recto is not None
    return same_picture(picture_of(collection, one.recto), picture_of(collection, other.recto)).is_same


def picture_of(collection: Collection, view: View) -> NDArray[np.uint8]:
    """The pixels of a view, made again where its file is gone."""
    path = view_paths(collection.views_root, view.key)[0]
    if not path.is_file():
        remake_view(collection.vault.path(view.capture), view, collection.views_root)
    return decode(path)
