"""Says something of one print, beside what others said, and takes one thing back; each is one act."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve, frozen

from solander.catalogue.work import Work
from solander.core.errors import InvalidValue, NotFound
from solander.core.language import marked
from solander.core.occasions import Occasion
from solander.core.people import Person
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement
from solander.tasks.ask import ask
from solander.tasks.claims import AS_EVIDENCE, AT_THE_DESK, Claim
from solander.tasks.collection import Collection
from solander.tasks.identity import statement_identity
from solander.tasks.proposed_inscriptions import is_about, is_read_by_machine
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.typed import Field, Meant, Typed
from solander.tasks.voices import FIELD_OF, fellows_of

__all__ = ["ONE_AT_A_TIME", "SaidDone", "said_before", "say", "statements_of", "take_back"]

ONE_AT_A_TIME = (Field.DATE, Field.PLACE, Field.OCCASION, Field.CAPTION, Field.NOTE, Field.TRANSCRIPTION)
"""Fields of which one person holds one view: a new one may come in the place of their own earlier one."""

_NAMES = {
    Field.DATE: marked("date"),
    Field.PLACE: marked("place"),
    Field.PEOPLE: marked("people"),
    Field.OCCASION: marked("occasion"),
    Field.CAPTION: marked("caption"),
    Field.NOTE: marked("note"),
    Field.TRANSCRIPTION: marked("writing on the back"),
    Field.EVIDENCE: marked("what is seen on it"),
}


@frozen
class SaidDone:
    """What was done: the act's number for undo, None where nothing changed, and the print."""

    act: int | None
    accession: str


def say(
    collection: Collection,
    *meant: Meant,
    instead: bool = True,
    who: str = AT_THE_DESK,
    answers: Sequence[str] = (),
) -> SaidDone:
    """Keeps what was understood, as statements of whoever says so, beside those of all others; of several fields
    of one print all in one act.

    With `instead` an earlier view of the same person on the same field is withdrawn in the same act, where a
    person holds one view at a time. Saying the same again changes nothing. `answers` are keys of questions that
    this answers.

    Raises
    ------
    InvalidValue
        When nothing was understood that could be kept.
    NotFound
        When there is no such print.
    """
    for one in meant:
        _refuse_nothing(one)
    accession = meant[0].typed.accession
    collection.catalogue.print(accession)
    with collection.catalogue.act(who, _act_sentence([one.typed for one in meant])) as act:
        with act.work() as work:
            for one in meant:
                _enter(collection, work, one, instead=instead)
            for key in answers:
                work.settle(key)
            work.commit()
        if act.number is not None:
            ask_about_contradictions(collection, act)
    return SaidDone(act.number, accession)


def _refuse_nothing(meant: Meant) -> None:
    if not meant.claims:
        raise InvalidValue(
            Sentence("Nothing was kept"),
            meant.trouble or Sentence("nothing was typed"),
            Sentence("Type it in other words"),
        )


def _act_sentence(typed: Sequence[Typed]) -> Sentence:
    first, *more = typed
    message = marked("said of %(print)s: %(field)s “%(words)s”")
    if more:
        message = marked("said of %(print)s: %(field)s “%(words)s”, and %(field_too)s “%(words_too)s”")
    elif first.by:
        message = marked("said of %(print)s: %(field)s “%(words)s”, as %(who)s says")
    told = {"print": first.accession, "who": first.by}
    for one, ending in zip(typed, ("", "_too"), strict=False):
        told |= {f"field{ending}": Sentence(_NAMES[one.field]), f"words{ending}": _short(one.words)}
    return Sentence(message, **told)


def _enter(collection: Collection, work: Work, meant: Meant, *, instead: bool) -> None:
    _enter_names(work, meant)
    new = statements_of(collection, meant)
    for old in [*said_before(collection, meant), *_said_blank(collection, meant)] if instead and new else ():
        work.withdraw(old.id)
    for said in new:
        work.state(said)
    for kind, sentence in meant.asks:
        # What is asked about a place is about its name, wherever it is said.
        ask(work, kind, meant.claims[0].value if kind is Asks.PLACE else meant.typed.accession, sentence)
    _settle_answered(collection, work, meant)


def statements_of(collection: Collection, meant: Meant) -> list[Statement]:
    """The statements that keeping would add; none for what the same person says already as surely."""
    typed = meant.typed
    source = typed.by or AT_THE_DESK
    there = collection.catalogue.statements(subject=typed.accession, withdrawn=True)
    taken = {one.id for one in there}
    live = {(one.says, one.value, one.words, one.sure, one.source) for one in there if not one.withdrawn}
    new = []
    for claim in dict.fromkeys(meant.claims):
        if (claim.says, claim.value, claim.words, claim.sure, source) not in live:
            new.append(_statement(claim, typed.accession, source, taken))
    return new


def _statement(claim: Claim, accession: str, source: str, taken: set[str]) -> Statement:
    said = claim.about(About.PRINT, accession, source)
    said = evolve(said, id=statement_identity(said, taken=taken))
    taken.add(said.id)
    return said


def said_before(collection: Collection, meant: Meant) -> list[Statement]:
    """What the same person said before in that field, where a person holds one view at a time; of an occasion what
    anybody said, for a print lies in one at a time."""
    typed = meant.typed
    if typed.field not in ONE_AT_A_TIME:
        return []
    kinds = {claim.says for claim in meant.claims} | {Says.UNREAD_DATE}
    there = collection.catalogue.statements(subject=typed.accession)
    before = (one for one in there if FIELD_OF.get(one.says) is typed.field and one.says in kinds)
    anybody, source = typed.field is Field.OCCASION, typed.by or AT_THE_DESK
    return [one for one in before if one.about is About.PRINT and (anybody or one.source == source)]


def _said_blank(collection: Collection, meant: Meant) -> list[Statement]:
    """What the same person said of a back on which nothing was written, where something is written down now."""
    typed = meant.typed
    if typed.field is not Field.TRANSCRIPTION:
        return []
    source = typed.by or AT_THE_DESK
    there = collection.catalogue.statements(subject=typed.accession)
    return [one for one in there if one.says is Says.BLANK and one.source == source]


def _enter_names(work: Work, meant: Meant) -> None:
    """Enters the place, the people and the occasion that are new here."""
    if meant.place is not None and meant.is_new_place:
        work.keep_place(meant.place)
    for name in meant.people:
        work.keep_person(Person(name))
    for claim in meant.claims:
        if claim.says is Says.OCCASION:
            work.keep_occasion(Occasion(claim.value))


def _settle_answered(collection: Collection, work: Work, meant: Meant) -> None:
    """Asks no more about words of this print that a date, or a fact seen on it, answers now."""
    dated = any(claim.says in (Says.EXPOSURE, Says.PRINTING) for claim in meant.claims)
    seen = any(claim.says is Says.EVIDENCE for claim in meant.claims)
    asked_now = {sentence for _, sentence in meant.asks}
    for question in collection.catalogue.questions_about([meant.typed.accession]):
        if question.sentence in asked_now:
            continue
        if is_read_by_machine(question):
            if any(is_about(question, claim.says) for claim in meant.claims):
                work.settle(question.key)
            continue
        about_seen = question.asks is Asks.WORDS and AS_EVIDENCE in question.sentence
        about_date = question.asks is Asks.INSCRIPTION or _asks_when(question)
        if (dated and about_date) or (seen and about_seen):
            work.settle(question.key)


def _asks_when(question: Question) -> bool:
    others = AS_EVIDENCE in question.sentence or "” an age?" in question.sentence
    return question.asks is Asks.WORDS and not others


def take_back(collection: Collection, accession: str, ident: str, *, who: str = AT_THE_DESK) -> SaidDone:
    """Withdraws one view of the print, with the age that came in with a person; it stays readable in history.

    Raises
    ------
    NotFound
        When nothing of that id is said of the print any more.
    """
    there = collection.catalogue.statements(subject=accession)
    said = next((one for one in there if one.id == ident and one.about is About.PRINT), None)
    if said is None:
        raise NotFound(
            Sentence("Nothing was taken back"),
            Sentence("it is not said of this print any more"),
            Sentence("Look at it again"),
        )
    with collection.catalogue.act(
        who,
        Sentence("not so any more, of %(print)s: “%(words)s”", print=accession, words=_short(said.words)),
    ) as act:
        with act.work() as work:
            for one in fellows_of(said, there):
                work.withdraw(one.id)
            for question in collection.catalogue.questions_about([accession]):
                is_about_words = question.asks in _ABOUT_WORDS and not is_read_by_machine(question)
                if is_about_words and f"“{said.words}”" in question.sentence:
                    work.settle(question.key)
            work.commit()
        ask_about_contradictions(collection, act)
    return SaidDone(act.number, accession)


_ABOUT_WORDS: Sequence[Asks] = (Asks.WORDS, Asks.WHO, Asks.INSCRIPTION)


def _short(words: str, most: int = 60) -> str:
    plain = " ".join(words.split())
    return plain if len(plain) <= most else f"{plain[: most - 1].rstrip()}…"
