"""Adds a print that was missed in a capture, with an outline that a person drew."""

from __future__ import annotations

from collections.abc import Sequence

from solander.core.outlines import sound_outline
from solander.core.prints import View
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection
from solander.tasks.enter_print import ask_about_view, enter_print
from solander.tasks.prepare import cut_out
from solander.tasks.redraw import Done, drawn_outline, pixels_of

__all__ = ["add_print"]


def add_print(
    collection: Collection, beside: str, corners: Sequence[Sequence[float]], *, who: str = "archivist"
) -> Done:
    """Enters another print of the same capture: `beside` is the key of a view in use, whose page, side, scale and
    container the new print shares; `corners` are in pixels of the capture.

    Raises
    ------
    NotFound
        When no view in use has that key.
    InvalidValue
        When the corners bound no print; see `core.outlines`. Nothing has changed then.
    Trouble
        When the outline is another print's, or the capture can't be read.
    """
    accession, known = collection.catalogue.view(beside)
    rgb = pixels_of(collection, known.capture, known.page)
    outline = drawn_outline(rgb, sound_outline(corners, rgb.shape[1], rgb.shape[0]), known)
    drawn = View(
        known.capture, known.page, outline, known.side, width=0, height=0, ppi=known.ppi, stand=known.stand
    )
    cut = cut_out(rgb, drawn, collection.views_root)
    container = collection.catalogue.print(accession).container
    what = Sentence("added a print that was missed beside %(accession)s", accession=accession)
    with collection.catalogue.act(who, what) as act, act.work() as work:
        added = enter_print(work, cut, container)
        ask_about_view(work, added, cut)
        work.commit()
    return Done(act.number, added, cut.key)
