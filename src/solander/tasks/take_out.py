"""Takes a false find out: what looked like a print and is none. The capture stays; undo brings the find back."""

from __future__ import annotations

from solander.core.prints import Side
from solander.core.sentence import Sentence
from solander.look.words import side_of
from solander.tasks.collection import Collection
from solander.tasks.enter_print import ask_for_front
from solander.tasks.redraw import Done, ask_again_about_edges

__all__ = ["take_out"]


def take_out(collection: Collection, key: str, *, who: str = "archivist") -> Done:
    """Takes the view out of use; a print without another goes with it, and what was said of it is withdrawn.

    Raises
    ------
    NotFound
        When no view in use has that key.
    """
    accession, view = collection.catalogue.view(key)
    left = [other for other in collection.catalogue.print(accession).views if other.key != key]
    what = Sentence("took out %(side)s, which shows no print", side=side_of(view.side, accession))
    with collection.catalogue.act(who, what) as act, act.work() as work:
        work.take_out_view(accession, view)
        if left:
            ask_again_about_edges(collection, work, accession, left)
        if view.side is Side.RECTO and left and all(other.side is not Side.RECTO for other in left):
            ask_for_front(work, accession)
        work.commit()
    return Done(act.number, accession, key)
