"""What becomes of a picture at a station: a print, the back of one, a second try, the empty stage, or nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from attrs import define, evolve, field

from solander.core.errors import NotFound, Trouble
from solander.core.language import _
from solander.core.orders import Order
from solander.core.prints import Print, Side, View
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.slips import Slip
from solander.imaging.decode import Unreadable
from solander.tasks.ask import ask
from solander.tasks.lens import KnownLenses
from solander.tasks.prepare import set_aside
from solander.tasks.seen_twice import duplicate_sentence
from solander.tasks.stand import Stage, stage_of
from solander.tasks.stand_account import bind_stories
from solander.tasks.stand_back import looks_like_back
from solander.tasks.stand_enter import SIDE_WORDS, Entered, enter_fronts, enter_view, keep_without_print, own_print
from solander.tasks.stand_faults import FaultTold, best_rise, faults_told
from solander.tasks.stand_state import InHand, Laid
from solander.tasks.stand_station import WHO, Station
from solander.tasks.stand_still import Still, keep_still, looks_like
from solander.tasks.stand_told import Taken, Told, Tone
from solander.tasks.stand_words import prints_words

__all__ = ["SIDE_NAMES", "Taking"]

SIDE_NAMES = {Side.RECTO: "front", Side.VERSO: "back", Side.DETAIL: "detail"}
"""The sides as they are called in messages."""

_OF_LAST = (Order.BACK, Order.TAKE_AGAIN)
_STILL_GOOD = ("few-pixels", "edge", "tilted", "uneven", "dust")
"""Faults that taking again at once would not mend: an edge that is not sure waits in Questions, lamp, camera and
glass are seen to between prints."""

_LATELY = 40
"""Pictures that tell how sharp this stage comes to be (our choice)."""

_LENSES_HOLD = 25
"""So many pictures are taken until the camera's lens is worked out anew (our choice)."""


@define
class Taking:
    """Takes pictures at one station."""

    at: Station
    _lenses: KnownLenses | None = field(default=None, init=False)
    _count: int = field(default=0, init=False)
    _stage: Stage | None = field(default=None, init=False)

    def take(self, picture: bytes, name: str) -> Taken:
        """Keeps a picture, and enters what was ordered of it: see `solander.tasks.at_stand.AtStand.take`."""
        order = self.at.expects
        if order is Order.EMPTY_STAGE:
            told = self.empty_stage(picture, name)
            return Taken(told.words, told.tone)
        last = self.at.in_hand.last if order in _OF_LAST else None
        side = Side.VERSO if order is Order.BACK else last.side if last else Side.RECTO
        still = keep_still(
            self.at.collection, picture, name, side, stage=self._stage_now(), lenses=self._lenses_now()
        )
        if still.prints:
            return self._known(still)
        if not still.is_found and order is None:
            keep_without_print(self.at.collection, still, who=WHO)
            words = _("No print was found on the stage, and nothing was taken. Say “take it” to take all of it.")
            return Taken(words, Tone.AGAIN)
        taken = self._of_last(still, last) if last else self._prints(still)
        self.at.expects = None
        return taken

    def empty_stage(self, picture: bytes, name: str) -> Told:
        """Keeps a picture of the stage without a print, by which those that follow are found and measured."""
        collection = self.at.collection
        still = keep_still(collection, picture, name, Side.DETAIL)
        try:
            stage = stage_of(still.path, still.capture.sha256, name)
        except Unreadable as reason:
            raise set_aside(name, reason) from reason
        keep_without_print(collection, still, who=WHO)
        self._stage, self.at.expects = stage, None
        self.at.keep(evolve(self.at.in_hand, stage=stage.sha256))
        has_sheet = stage.stand.plane is not None
        words = _("The stage is known, and how large things are on it.") if has_sheet else _("The stage is known.")
        return Told(words)

    def own_print(self) -> Told:
        """Makes a print of its own of what was taken last for the back of another."""
        before, last = self.at.in_hand, self.at.in_hand.last
        if last is None or last.side is not Side.VERSO:
            self.at.expects = None
            return Told(_("The last picture is a print of its own."))
        _accession, view = self._view_of(last)
        entered = own_print(self.at.collection, self.at.understanding, last.accession, view, self.at.slip, who=WHO)
        self._entered(entered, before=evolve(before, lately=before.lately), instead=last)
        words = _("It is a print of its own: %(print)s.", print=entered.accessions[0])
        return Told(words, Tone.TAKEN, entered.number)

    def answer_back(self, yes: bool) -> Told:
        """Answers whether what was taken last, and looks like it, is the back of the print before."""
        last = self.at.in_hand.last
        if last is None or not last.back_of:
            why = Sentence("nothing is asked about the last print")
            raise NotFound(Sentence("Nothing was changed"), why)
        return self._is_back(last) if yes else self._is_no_back(last)

    def _is_back(self, last: Laid) -> Told:
        """The print is taken back and entered as a back, so that its number is given to the next print."""
        collection, front = self.at.collection, last.back_of
        _accession, view = self._view_of(last)
        capture = collection.catalogue.capture(view.capture)
        assert capture is not None
        before = self.at.in_hand
        self.at.take_back(last.act)
        taken = self.at.forget(last.act)
        still = Still(capture, collection.vault.path(view.capture), capture.name, (view,))
        anew = partial(self._own_again, still, taken.before.slip if taken else before.slip, last)
        try:
            entered = enter_view(collection, still, front, evolve(view, side=Side.VERSO), who=WHO)
        except Trouble:  # the front went meanwhile
            self.at.keep(anew(before))
            raise
        self._entered(entered, before=before, instead=last, anew=anew)
        return Told(_("It is the back of %(print)s.", print=front), Tone.TAKEN, entered.number)

    def _own_again(self, still: Still, slip: Slip, last: Laid, in_hand: InHand) -> InHand:
        """Enters what was called a back by mistake as the print that it was, with what the slip said then."""
        entered = enter_fronts(self.at.collection, self.at.understanding, still, slip, who=WHO)
        others = tuple(one for one in in_hand.lately if one != last)
        self.at.did(evolve(in_hand, slip=slip, lately=others), entered.number)
        self.at.after.add(entered.act, entered.accessions)
        again = evolve(last, accession=entered.accessions[0], act=entered.number)
        return evolve(in_hand, lately=(again, *others))

    def _is_no_back(self, last: Laid) -> Told:
        collection, before = self.at.collection, self.at.in_hand
        what = Sentence("said that %(print)s is a print of its own", print=last.accession)
        with collection.catalogue.act(WHO, what) as act, act.work() as work:
            for question in collection.catalogue.questions_about([last.accession]):
                if question.asks is Asks.PAIR:
                    work.settle(question.key)
            work.commit()
        self.at.did(before, act.number)
        self.at.keep(evolve(before, lately=(evolve(last, back_of=""), *before.lately[1:])))
        return Told(_("%(print)s is a print of its own.", print=last.accession), act=act.number)

    def _prints(self, still: Still) -> Taken:
        """A new print, or each of several that lie apart in one picture."""
        collection, before = self.at.collection, self.at.in_hand
        entered = enter_fronts(collection, self.at.understanding, still, before.slip, who=WHO)
        first, view = entered.those[0]
        alone = len(entered.those) == 1
        frame = still.capture.width, still.capture.height
        twin = self._seen_before(entered, view, frame) if alone else ""
        back_of = self._back_of(entered, view) if alone and not twin and still.is_found else ""
        self._entered(entered, before=before, back_of=back_of, serving=True)
        faults = self._all_faults(entered, frame)
        words = [
            _("%(print)s is taken.", print=first)
            if alone
            else _(
                "Two prints or more lay there; each is taken: %(prints)s.", prints=prints_words(entered.accessions)
            ),
            *(fault.words for fault in faults),
        ]
        if twin:
            words.append(_("It looks like %(print)s, which was taken before.", print=twin))
        if back_of:
            words.append(_("It looks like the back of %(print)s. Is it?", print=back_of))
        tone = Tone.AGAIN if twin or _is_bad(faults) else Tone.TAKEN
        return self._taken(entered, words, tone, faults=faults, looks_like=twin, back_of=back_of)

    def _of_last(self, still: Still, last: Laid) -> Taken:
        """A further picture of the print before: its back, or a second try, which stands beside the first."""
        before, collection = self.at.in_hand, self.at.collection
        view = max(still.views, key=lambda one: one.width * one.height)
        there = self._print(last.accession, still)
        again = there.view(view.side) is not None
        entered = enter_view(collection, still, last.accession, view, who=WHO, again=again)
        self._entered(entered, before=before)
        faults = self._all_faults(entered, (still.capture.width, still.capture.height))
        side = SIDE_WORDS[view.side]
        told = (
            _(
                "The %(side)s of %(print)s is taken again: choose which picture is shown.",
                side=side,
                print=last.accession,
            )
            if again
            else _("The %(side)s of %(print)s is taken.", side=side, print=last.accession)
        )
        tone = Tone.AGAIN if _is_bad(faults) else Tone.TAKEN
        return self._taken(entered, [told, *(fault.words for fault in faults)], tone, faults=faults)

    def _print(self, accession: str, still: Still) -> Print:
        """The print; where it is gone meanwhile, the picture is kept all the same."""
        try:
            return self.at.collection.catalogue.print(accession)
        except NotFound:
            keep_without_print(self.at.collection, still, who=WHO)
            self.at.expects = None
            raise

    def _known(self, still: Still) -> Taken:
        """The same bytes again, as a phone sends them that heard no answer: nothing is taken twice."""
        self.at.expects = None
        accessions = tuple(one.accession for one in still.prints)
        words = _("This very picture was taken before: %(prints)s.", prints=prints_words(accessions))
        one = next(view for view in still.prints[0].views if view.capture == still.capture.sha256)
        return Taken(
            words, Tone.UNDERSTOOD, accessions[0], SIDE_NAMES[one.side], one.key, prints=accessions, known=True
        )

    def _seen_before(self, entered: Entered, view: View, frame: tuple[int, int]) -> str:
        """The print of which this is another picture, which is asked about."""
        collection = self.at.collection
        other = looks_like(collection, view, frame)
        if other is None:
            return ""
        accession = collection.catalogue.view(other.key)[0]
        with entered.act.work() as work:
            ask(work, Asks.DUPLICATE, entered.accessions[0], duplicate_sentence(entered.accessions[0], accession))
            work.commit()
        return accession

    def _back_of(self, entered: Entered, view: View) -> str:
        """The print before, where this looks like its back and it has none; it is asked about."""
        last = self.at.in_hand.last
        if last is None or last.side is not Side.RECTO or last.back_of:
            return ""
        front = self.at.collection.catalogue.prints_of([last.accession])
        if not front or front[0].verso or not looks_like_back(self.at.collection, view):
            return ""
        with entered.act.work() as work:
            sentence = Sentence(
                "Is %(print)s the back of %(front)s?", print=entered.accessions[0], front=last.accession
            )
            ask(work, Asks.PAIR, entered.accessions[0], sentence)
            work.commit()
        return last.accession

    def _entered(
        self,
        entered: Entered,
        *,
        before: InHand,
        back_of: str = "",
        serving: bool = False,
        instead: Laid | None = None,
        anew: Callable[[InHand], InHand] | None = None,
    ) -> None:
        """Remembers what was entered, and sets to work what can wait."""
        new = [Laid(accession, view.key, entered.number, view.side, back_of) for accession, view in entered.those]
        now = evolve(self.at.in_hand, lately=tuple(one for one in self.at.in_hand.lately if one != instead))
        if serving:
            now = evolve(now, slip=now.slip.serving(entered.accessions))
        if now.stories and serving:
            bind_stories(entered.act, now.stories, entered.accessions[0])
            now = evolve(now, stories=())
        if now.telling is not None:
            now = evolve(now, telling=now.telling.of(entered.accessions))
        self.at.did(before, entered.number, anew=anew)
        self.at.keep(now.taken(*new))
        self.at.after.add(entered.act, entered.accessions)

    def _taken(self, entered: Entered, words: Sequence[str], tone: Tone, **more: object) -> Taken:
        accession, view = entered.those[0]
        return Taken(
            " ".join(words),
            tone,
            accession,
            SIDE_NAMES[view.side],
            view.key,
            entered.number,
            ppi=view.ppi,
            prints=entered.accessions,
            **more,  # type: ignore[arg-type]
        )

    def _all_faults(self, entered: Entered, frame: tuple[int, int]) -> tuple[FaultTold, ...]:
        """The faults of what was entered, also against what this stage came to lately."""
        own = {view.key for _accession, view in entered.those}
        lately = self.at.collection.catalogue.latest_views(frame, _LATELY)
        best = best_rise([view for view in lately if view.key not in own])
        told = (fault for _accession, view in entered.those for fault in faults_told(view, best_rise=best))
        return tuple(dict.fromkeys(told))

    def _view_of(self, laid: Laid) -> tuple[str, View]:
        """A picture that was taken, as it is in use now: it may have been turned or cut out anew since."""
        print_ = self.at.collection.catalogue.print(laid.accession)
        view = next((one for one in print_.views if one.key == laid.key), None) or print_.view(laid.side)
        if view is None:
            what, why = Sentence("This picture is no longer in use"), Sentence("it was taken out since")
            raise NotFound(what, why, Sentence("Look at its print"))
        return print_.accession, view

    def _stage_now(self) -> Stage | None:
        sha256 = self.at.in_hand.stage
        if sha256 and (self._stage is None or self._stage.sha256 != sha256):
            try:
                self._stage = stage_of(self.at.collection.vault.path(sha256), sha256, sha256[:12])
            except (Unreadable, Trouble):
                self._stage = None
        return self._stage if sha256 else None

    def _lenses_now(self) -> KnownLenses:
        if self._lenses is None or self._count % _LENSES_HOLD == 0:
            self._lenses = KnownLenses(self.at.collection)
        self._count += 1
        return self._lenses


def _is_bad(faults: Sequence[FaultTold]) -> bool:
    return any(fault.key not in _STILL_GOOD for fault in faults)
