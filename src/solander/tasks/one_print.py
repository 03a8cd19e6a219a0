"""Makes one print of two that a person says are one, captured twice: what was said and asked of both is of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from attrs import evolve, frozen

from solander.catalogue.queries import Reading
from solander.catalogue.work import Work
from solander.core.evidence.laid import lies_after
from solander.core.negatives import of_one_negative
from solander.core.prints import Print, Side
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence, kept, read_kept
from solander.core.statements import About, Says, Statement
from solander.tasks.ask import ask, question_key
from solander.tasks.collection import Collection
from solander.tasks.enter_print import capture_sentences, edge_sentence
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.said_anew import say_all, say_instead
from solander.tasks.seen_twice import prints_asked_about, still_asked, tied
from solander.tasks.voices import FIELD_OF

__all__ = ["one_print"]

_OF_THE_PRINT = frozenset({*FIELD_OF, Says.ACCOUNT})
"""What is said of the print that stays too: what describes it, and the stories told about it."""

_ITS_PLACE = frozenset({Says.ROLL, Says.ORDER})
"""What tells its place on a film: of the print that stays only where nothing of the kind is said of it."""

_ASKED_OF_WORDS = frozenset({Asks.WORDS, Asks.WHO, Asks.INSCRIPTION, Asks.TOLD})
"""Questions about what was said or written: they are asked of the print that stays."""


def one_print(collection: Collection, key: str, keep: str, *, who: str = "archivist") -> int | None:
    """Makes one print of the two that a question asks about; the act's number.

    The picture of `keep` stays in use. What was said of the other is said of it, stories too; prints of the
    other's negative are prints of its negative, what was laid before and after the other is laid so beside it, and
    what waits about words of the other, or about its likeness with a third, waits about it. A back that only the
    other has becomes its back. All captures stay, and undo brings the other print back.

    Raises
    ------
    NotFound
        When the question waits no more, or one of the prints is not there.
    """
    catalogue = collection.catalogue
    pair = still_asked(collection, key, keep)
    stays, goes = (catalogue.print(one) for one in sorted(pair, key=lambda one: one != keep))
    brings_back = goes.verso is not None and stays.verso is None
    what = Sentence("said that %(gone)s is %(keep)s, captured twice", gone=goes.accession, keep=keep)
    with catalogue.act(who, what) as act:
        with act.work() as work:
            work.settle(key)
            change = _Change(catalogue, work, goes, keep)
            change.ties_follow()
            change.laid_follow()
            change.words_follow(with_back=brings_back)
            change.likeness_asked_follows()
            change.words_asked_follow()
            change.picture_asks_no_more()
            for view in goes.views:
                if not (brings_back and view.side is Side.VERSO):
                    work.take_out_view(goes.accession, view)
            if brings_back:
                work.join_back(goes.accession, keep)
            work.commit()
        ask_about_contradictions(collection, act, only_near=True)
    return act.number


@frozen
class _Change:
    """One print `goes`, the one of the number `keep` stays: what follows, each kind by itself."""

    catalogue: Reading
    work: Work
    goes: Print
    keep: str

    def ties_follow(self) -> None:
        """What ties other prints to the negative of the one ties them to the other."""
        every = self.catalogue.of_one_negative()
        ties = [said for said in every if self._names_it(said)]
        there = {frozenset((said.subject, said.value)) for said in every}
        moved = [tied(said, *self._instead(said)) for said in ties]
        new = {frozenset((said.subject, said.value)): said for said in moved if said.subject != said.value}
        say_instead(self.catalogue, self.work, ties, [said for both, said in new.items() if both not in there])

    def laid_follow(self) -> None:
        """What was laid before and after the one is laid so beside the other, but for what would go round."""
        every = self.catalogue.laid()
        old = [said for said in every if self._names_it(said)]
        pairs = {(said.subject, said.value) for said in every if not self._names_it(said)}
        new = []
        for said in old:
            later, earlier = self._instead(said)
            if later != earlier and (later, earlier) not in pairs and earlier not in lies_after(pairs, later):
                pairs.add((later, earlier))
                new.append(evolve(said, subject=later, value=earlier, words=f"after {earlier}"))
        say_instead(self.catalogue, self.work, old, new)

    def words_follow(self, *, with_back: bool) -> None:
        """What describes the one describes the other; where a back comes along, its words come with it."""
        said = [
            one
            for one in self.catalogue.statements(subject=self.goes.accession)
            if one.about is About.PRINT and one.says not in (Says.AFTER, Says.NEGATIVE)
        ]
        follow = _new(said, self.catalogue.statements(subject=self.keep))
        if with_back:
            self.work.withdraw_all(one.id for one in said if one not in follow)
        else:
            say_all(self.catalogue, self.work, [evolve(one, subject=self.keep) for one in follow])

    def likeness_asked_follows(self) -> None:
        """That the one looks like a third print is asked of the other, unless it was asked or said before."""
        every = self.catalogue.questions(settled=True)
        known = {frozenset(prints_asked_about(one)) for one in every}
        tied_to = of_one_negative(self.catalogue.of_one_negative()).get(self.keep, ())
        known |= {frozenset((self.keep, one)) for one in (self.keep, *tied_to)}
        for one in every:
            if not one.settled and self.goes.accession in prints_asked_about(one):
                self.work.settle(one.key)
                new = self._of_the_other(one)
                if frozenset(prints_asked_about(new)) not in known:
                    ask(self.work, new.asks, new.subject, new.sentence)

    def words_asked_follow(self) -> None:
        """What waits about words of the one waits about the other, unless it was asked before."""
        asked = {one.key for one in self.catalogue.questions(settled=True)}
        for one in self._waiting():
            if one.asks in _ASKED_OF_WORDS:
                self.work.settle(one.key)
                new = self._of_the_other(one)
                if new.key not in asked:
                    ask(self.work, new.asks, new.subject, new.sentence)

    def picture_asks_no_more(self) -> None:
        """What waits about the front that goes is settled, also where the back stays."""
        of_front = set(_asked_of_front(self.goes))
        for one in self._waiting():
            if one.asks is Asks.UPRIGHT or one.sentence in of_front:
                self.work.settle(one.key)

    def _waiting(self) -> list[Question]:
        return [one for one in self.catalogue.questions() if one.subject == self.goes.accession]

    def _of_the_other(self, question: Question) -> Question:
        """The same question about the print that stays."""
        number = re.compile(rf"(?<![\w/-]){re.escape(self.goes.accession)}(?![\w-])")
        sentence = read_kept(number.sub(lambda _: self.keep, kept(question.sentence)))
        subject = self.keep if question.subject == self.goes.accession else question.subject
        key = question_key(question.asks, subject, sentence)
        return evolve(question, key=key, subject=subject, sentence=sentence)

    def _names_it(self, said: Statement) -> bool:
        return self.goes.accession in (said.subject, said.value)

    def _instead(self, said: Statement) -> tuple[str, str]:
        """Subject and value, the print that stays in the place of the one that goes."""
        one, other = (self.keep if each == self.goes.accession else each for each in (said.subject, said.value))
        return one, other


def _new(said: Sequence[Statement], there: Iterable[Statement]) -> list[Statement]:
    """What is to be said of the print of which all that is `there` is said already."""
    known = [one for one in there if one.about is About.PRINT]
    claims, kinds = {_claim(one) for one in known}, {one.says for one in known}
    follow = _OF_THE_PRINT if kinds & _ITS_PLACE else _OF_THE_PRINT | _ITS_PLACE
    return [one for one in said if one.says in follow and _claim(one) not in claims]


def _asked_of_front(print_: Print) -> Iterable[str]:
    """What may wait about the picture of a front, which nobody needs to know once it is out of use."""
    front = print_.recto
    if front is not None:
        yield from capture_sentences(print_.accession, front)
        yield edge_sentence(print_.accession, front)


def _claim(said: Statement) -> tuple[str, ...]:
    return said.says, said.value, said.words, said.sure, said.source
