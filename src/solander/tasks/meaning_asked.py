"""What words may mean that are asked about, for an answer by one key: which date, which fact, whether then."""

from __future__ import annotations

import re

from attrs import frozen

from solander.core.dates import Dated
from solander.core.errors import NotFound
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.core.statements import Says
from solander.tasks.claims import AS_EVIDENCE, Claim
from solander.tasks.print_desk import PrintDesk
from solander.tasks.typed import Field, Meant, Option, Typed

__all__ = ["MeaningAsked", "meaning_asked", "take_meaning"]

_ON_A_SLIP = re.compile(r"“(.*)” on the slip of .+ was read as ", re.DOTALL)
_SEEN = re.compile(rf"“(.*)”{AS_EVIDENCE}", re.DOTALL)
_ON_THE_BACK = re.compile(r".* stands “(.*)”: wa", re.DOTALL)


@frozen
class MeaningAsked:
    """Words about a print that may mean one of several things; of an inscription one, to be said yes to."""

    typed: Typed
    name: str
    options: tuple[Option, ...]


def meaning_asked(desk: PrintDesk, question: Question) -> MeaningAsked | None:
    """What an answer may choose among; None where it has to be said in other words."""
    asked = str(question.sentence)
    if question.asks is Asks.INSCRIPTION and (found := _ON_THE_BACK.match(asked)):
        readings = desk.understanding.date(found[1]).readings
        options = tuple(Option(one.edtf, Dated(one.edtf)) for one in readings[:1])
        return MeaningAsked(Typed(question.subject, Field.DATE, found[1]), "", options) if options else None
    for field, form in ((Field.DATE, _ON_A_SLIP), (Field.EVIDENCE, _SEEN)):
        if question.asks is Asks.WORDS and (found := form.match(asked)):
            typed = Typed(question.subject, field, found[1])
            choices = desk.look(typed).meant.choices
            return MeaningAsked(typed, choices[0].name, choices[0].options) if choices else None
    return None


def take_meaning(desk: PrintDesk, key: str, value: str) -> int | None:
    """Keeps what a person chose, beside what is said of the print; the act's number.

    Raises
    ------
    NotFound
        When the question waits no more, or that was not offered.
    """
    question = desk.shown.collection.catalogue.question(key)
    asked = meaning_asked(desk, question) if question else None
    if question is None or asked is None or value not in {one.value for one in asked.options}:
        raise NotFound(
            Sentence("This question does not wait any more"),
            Sentence("it was answered meanwhile"),
            Sentence("Go on to the next"),
        )
    if question.asks is Asks.INSCRIPTION:
        return desk.keep(_as_on_the_back(desk, asked.typed), instead=False).act
    typed = Typed(asked.typed.accession, asked.typed.field, asked.typed.words, chosen={asked.name: value})
    return desk.say(typed, instead=False).act


def _as_on_the_back(desk: PrintDesk, typed: Typed) -> Meant:
    reading = desk.understanding.date(typed.words).readings[0]
    says = Says.PRINTING if reading.bounds == "printing" else Says.EXPOSURE
    return Meant(typed, (Claim(says, reading.edtf, typed.words, reading.sure),), edtf=reading.edtf)
