"""Two pictures of one side of a print, of which a person chooses the one that is shown; nothing is deleted."""

from __future__ import annotations

from attrs import evolve

from solander.core.errors import NotFound
from solander.core.language import _
from solander.core.prints import Side, View
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection
from solander.tasks.stand_faults import faults_told
from solander.tasks.stand_station import WHO, Station
from solander.tasks.stand_take import SIDE_NAMES
from solander.tasks.stand_told import Again, Told

__all__ = ["again_of", "answer_which_picture", "keep_of_two"]


def again_of(collection: Collection, accession: str) -> Again | None:
    """The two pictures of one side of a print, while a person must choose between them."""
    waiting = collection.catalogue.questions_about([accession])
    prints = collection.catalogue.prints_of([accession])
    if not prints or all(one.asks is not Asks.WHICH_PICTURE for one in waiting):
        return None
    for side in (Side.VERSO, Side.RECTO, Side.DETAIL):
        views = [view for view in prints[0].views if view.side is side]
        if len(views) > 1:
            old, new = views[0], views[-1]
            return Again(accession, SIDE_NAMES[side], old.key, new.key, faults_told(old), faults_told(new))
    return None


def keep_of_two(at: Station, again: Again | None, *, keep_new: bool) -> Told:
    """Shows the one, and takes the other out of use; one act of the station.

    Raises
    ------
    NotFound
        When there are no two to choose from.
    """
    if again is None:
        why = Sentence("there are no two pictures to choose from")
        raise NotFound(Sentence("Nothing was changed"), why, Sentence("Look at its print"))
    before = at.in_hand
    gone = {view.key for view in _all_but(at.collection, again, again.new if keep_new else again.old)}
    act = _choose(at.collection, again, keep_new=keep_new)
    at.did(before, act)
    at.keep(evolve(before, lately=tuple(one for one in before.lately if one.key not in gone)))
    return Told(_("The new picture is shown.") if keep_new else _("The first picture stays."), act=act)


def answer_which_picture(collection: Collection, key: str, *, keep_new: bool) -> int | None:
    """Answers a question which picture is to be shown; the act's number.

    Raises
    ------
    NotFound
        When it waits no more.
    """
    question = collection.catalogue.question(key)
    again = again_of(collection, question.subject) if question else None
    if again is None:
        why = Sentence("it was answered meanwhile")
        raise NotFound(Sentence("This question does not wait any more"), why, Sentence("Go on to the next"))
    return _choose(collection, again, keep_new=keep_new)


def _choose(collection: Collection, again: Again, *, keep_new: bool) -> int | None:
    """Takes the other pictures of the side out of use; they stay in the collection, and so do their captures."""
    kept = again.new if keep_new else again.old
    whose = {"side": Sentence(again.side), "print": again.accession}
    what = Sentence("kept the first picture of the %(side)s of %(print)s", **whose)
    if keep_new:
        what = Sentence("showed the new picture of the %(side)s of %(print)s", **whose)
    with collection.catalogue.act(WHO, what) as act, act.work() as work:
        for view in _all_but(collection, again, kept):
            work.take_out_view(again.accession, view)
        for question in collection.catalogue.questions_about([again.accession]):
            if question.asks is Asks.WHICH_PICTURE:
                work.settle(question.key)
        work.commit()
    return act.number


def _all_but(collection: Collection, again: Again, kept: str) -> list[View]:
    """The other pictures of the side: more than one where it was taken again more than once."""
    (print_,) = collection.catalogue.prints_of([again.accession])
    side = next(view.side for view in print_.views if view.key == kept)
    return [view for view in print_.views if view.side is side and view.key != kept]
