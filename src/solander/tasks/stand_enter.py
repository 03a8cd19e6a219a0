"""Enters what a station took: prints with all that the slip says, backs, pictures taken again. Each is one act."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from attrs import evolve, frozen

from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.core.occasions import Occasion
from solander.core.people import Person
from solander.core.prints import Side, View, accession_number
from solander.core.questions import Asks
from solander.core.sentence import Sentence, read_kept
from solander.core.slips import Entry, Part, Slip
from solander.core.statements import About, Says, Statement
from solander.tasks.ask import ask
from solander.tasks.claims import AT_THE_DESK
from solander.tasks.collection import Collection
from solander.tasks.enter_print import ask_about_view, capture_sentences, edge_sentence, enter_print
from solander.tasks.place_said import enter_place
from solander.tasks.said_anew import say_all
from solander.tasks.slip_said import SUBJECT
from solander.tasks.stand_still import Still
from solander.tasks.understood import Understanding

__all__ = [
    "AT_THE_STAND",
    "SIDE_WORDS",
    "Entered",
    "enter_fronts",
    "enter_names",
    "enter_view",
    "keep_without_print",
    "own_print",
    "say_of_prints",
]

AT_THE_STAND = AT_THE_DESK
"""The source of what is said at a station: whoever works there and at the desk is one person, who corrects the
one by the other."""


SIDE_WORDS = {Side.RECTO: Sentence("front"), Side.VERSO: Sentence("back"), Side.DETAIL: Sentence("detail")}
"""What the sides are called in sentences."""


@frozen
class Entered:
    """What was entered: the act, which may go on with what is worked out later, and each print with its view."""

    act: Act
    those: tuple[tuple[str, View], ...]

    @property
    def number(self) -> int:
        """The number of the act, by which it is taken back."""
        return self.act.number or 0

    @property
    def accessions(self) -> tuple[str, ...]:
        """The prints."""
        return tuple(accession for accession, _ in self.those)


def enter_fronts(
    collection: Collection, understanding: Understanding, still: Still, slip: Slip, *, who: str
) -> Entered:
    """Each print of a picture under the next number of the slip's container, with all that the slip says."""
    container = slip.container or None
    with collection.catalogue.act(who, "") as act, act.work() as work:
        first = accession_number(container, work.next_number(container))
        more = len(still.views) - 1
        act.call(
            Sentence("took %(print)s and %(more)s more at the stand", print=first, more=more)
            if more
            else Sentence("took %(print)s at the stand", print=first)
        )
        _keep_capture(work, still)
        those = []
        for view in still.views:
            accession = enter_print(work, view, container)
            ask_about_view(work, accession, view)
            those.append((accession, view))
        say_of_prints(collection, understanding, work, [accession for accession, _ in those], slip)
        work.commit()
    return Entered(act, tuple(those))


def enter_view(
    collection: Collection, still: Still, accession: str, view: View, *, who: str, again: bool = False
) -> Entered:
    """A further picture of a print: its back, or the same side `again`, which leaves the one before as it is."""
    whose = {"side": SIDE_WORDS[view.side], "print": accession}
    what = Sentence("took the %(side)s of %(print)s at the stand", **whose)
    if again:
        what = Sentence("took the %(side)s of %(print)s again at the stand", **whose)
    with collection.catalogue.act(who, what) as act, act.work() as work:
        _keep_capture(work, still)
        work.add_view(accession, view)
        ask_about_view(work, accession, view)
        if again:
            ask(work, Asks.WHICH_PICTURE, accession, which_sentence(accession, view.side))
        work.commit()
    return Entered(act, ((accession, view),))


def which_sentence(accession: str, side: Side) -> str:
    """What is asked about two pictures of one side."""
    return Sentence(
        "The %(side)s of %(print)s was captured again: which picture is to be shown?",
        side=SIDE_WORDS[side],
        print=accession,
    )


def own_print(
    collection: Collection, understanding: Understanding, accession: str, view: View, slip: Slip, *, who: str
) -> Entered:
    """Makes a print of its own of a picture that was taken for the back of another."""
    container = slip.container or None
    front = evolve(view, side=Side.RECTO)
    with collection.catalogue.act(who, "") as act, act.work() as work:
        new = accession_number(container, work.next_number(container))
        whose = {"side": SIDE_WORDS[view.side], "print": accession}
        act.call(Sentence("made a print of its own, %(new)s, of the %(side)s of %(print)s", new=new, **whose))
        work.take_out_view(accession, view)
        asked = {edge_sentence(accession, view), *capture_sentences(accession, view)}
        for question in collection.catalogue.questions_about([accession]):
            if question.sentence in asked:
                work.settle(question.key)
        enter_print(work, front, container)
        ask_about_view(work, new, front)
        say_of_prints(collection, understanding, work, [new], slip)
        work.commit()
    return Entered(act, ((new, front),))


def keep_without_print(collection: Collection, still: Still, *, who: str) -> None:
    """Enters a capture in which no print was found; nothing of it can be taken back, for nothing was taken."""
    with (
        collection.catalogue.act(who, Sentence("kept a picture of the stage without a print")) as act,
        act.work() as work,
    ):
        _keep_capture(work, still)
        work.commit()


def _keep_capture(work: Work, still: Still) -> None:
    work.keep_capture(still.capture)
    work.keep_arrival(still.name, still.capture.sha256)


def say_of_prints(
    collection: Collection, understanding: Understanding, work: Work, accessions: Sequence[str], slip: Slip
) -> None:
    """Says of these prints what the slip says. What its occasion shares is said of the occasion, once; where that
    is known to be otherwise, of the prints."""
    enter_names(collection, understanding, work, slip)
    of_occasion = set(_new_of_occasion(collection, slip))
    shared = _known_of_occasion(collection, slip)
    entries = [one for one in slip.entries if one not in of_occasion and (one.says, one.value) not in shared]
    said = [_stated(one, About.OCCASION, slip.occasion) for one in slip.entries if one in of_occasion]
    said += [_stated(one, About.PRINT, accession) for accession in accessions for one in entries]
    say_all(collection.catalogue, work, said)
    for one in slip.entries:
        for kind, sentence in one.asks:
            ask(work, kind, accessions[0], read_kept(sentence.replace(SUBJECT, accessions[0])))


def enter_names(collection: Collection, understanding: Understanding, work: Work, slip: Slip) -> None:
    """Enters who and what is new here, unless another station did so meanwhile."""
    catalogue = collection.catalogue
    if slip.occasion:
        work.keep_occasion(Occasion(slip.occasion))
    new = [one for one in slip.entries if one.new]
    people = [one.value for one in new if one.says is Says.PERSON]
    known = {person.name for person in catalogue.people_of(people)} if people else set()
    for name in dict.fromkeys(people):
        if name not in known:
            work.keep_person(Person(name))
    for name in (one.value for one in new if one.says is Says.PLACE):
        if not catalogue.places_named([name]):
            enter_place(work, name, understanding.places, on=slip.date)


def _new_of_occasion(collection: Collection, slip: Slip) -> Iterator[Entry]:
    """Date and place that nobody has said of the occasion yet."""
    if not slip.occasion:
        return
    said = {one.says for one in collection.catalogue.said_of_occasion(slip.occasion)}
    dated = bool(said & {Says.EXPOSURE, Says.PRINTING})
    for one in slip.part(Part.DATE):
        if one.value and not dated:
            yield one
    for one in slip.part(Part.PLACE):
        if Says.PLACE not in said:
            yield one


def _known_of_occasion(collection: Collection, slip: Slip) -> set[tuple[Says, str]]:
    """What is said of the occasion already."""
    said: Iterable[Statement] = collection.catalogue.said_of_occasion(slip.occasion) if slip.occasion else ()
    return {(one.says, one.value) for one in said}


def _stated(entry: Entry, about: About, subject: str) -> Statement:
    return Statement("", about, subject, entry.says, entry.value, entry.words, entry.sure, AT_THE_STAND, "")
