"""What holds at one stand, and what becomes of words, orders and pictures there.

A station is one surface with one camera. It has a slip that goes on from print to print, and remembers what it did
itself, so that "undo that" takes back its own last deed although another station worked meanwhile. Every function
may wait for a disk; a lock lets one of them run at a time, but for those that only tell how things stand: pages
that look do not wait while a picture is taken.
"""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve

from solander.core.errors import InvalidValue
from solander.core.language import _
from solander.core.orders import Order
from solander.core.prints import Print, View, container_code
from solander.core.sentence import Sentence
from solander.core.slips import KeptSound, Part, Slip
from solander.core.statements import Sure
from solander.tasks.collection import Collection
from solander.tasks.meant import meant_of
from solander.tasks.sitting import Sitting
from solander.tasks.slip_said import SUBJECT, SlipSaid, entries_of, read_slip_words, shared_of
from solander.tasks.stand_account import Stories
from solander.tasks.stand_amend import amend
from solander.tasks.stand_choice import again_of, keep_of_two
from solander.tasks.stand_faults import faults_told
from solander.tasks.stand_sounds import SlipSounds, keeps_slip_sound
from solander.tasks.stand_state import Laid
from solander.tasks.stand_station import WHO, Station
from solander.tasks.stand_take import SIDE_NAMES, Taking
from solander.tasks.stand_told import Again, Lately, Said, Story, Taken, Told, Tone
from solander.tasks.stand_words import part_words, parts_named, slip_sentence, words_of_prints
from solander.tasks.typed import Field, Typed

__all__ = ["AtStand"]

_FIELDS = {
    Part.OCCASION: Field.OCCASION,
    Part.DATE: Field.DATE,
    Part.PLACE: Field.PLACE,
    Part.PEOPLE: Field.PEOPLE,
}


class AtStand:
    """One station of a collection; see the module."""

    def __init__(self, collection: Collection, sitting: Sitting | None = None, station: str = "1") -> None:
        self._at = Station(collection, station, sitting or Sitting(collection))
        self._taking = Taking(self._at)
        self._sounds = SlipSounds(self._at)
        self._stories = Stories(self._at)

    # What holds.

    @property
    def station(self) -> str:
        """The station's name."""
        return self._at.name

    @property
    def slip(self) -> Slip:
        """What holds just now."""
        return self._at.slip

    def slip_words(self) -> str:
        """The slip as one line in the reader's language."""
        return slip_sentence(self.slip)

    def slip_parts(self) -> tuple[tuple[Part, str, Sure], ...]:
        """The parts of the slip of which something is said: in words, and how sure (the least sure of several)."""
        return _parts(self.slip)

    # Words.

    def say(self, words: str, *, sure: str = "sure") -> Said:
        """Changes the slip by words that were typed or spoken, in any order.

        `sure` is how sure the words themselves are: with "ask" or "not" nothing changes, and what they would mean
        is told. What was corrected ("no, nineteen sixty") is corrected for the prints that have it already.
        """
        with self._at.lock:
            said = read_slip_words(self._at.understanding, self.slip, words)
            if not said.parts:
                return Said("not", _("“%(words)s” was not understood.", words=words), left=said.left)
            if sure != "sure":
                return self._said(said, "ask")
            return self._changed(said)

    def put(self, part: str, words: str) -> Said:
        """Says one part anew, by words typed into its field; new names are taken as they are.

        Raises
        ------
        InvalidValue
            When nothing was understood that could be kept.
        """
        with self._at.lock:
            which = _part_of(part)
            return self._changed(SlipSaid(self._with(which, words), (which,)))

    def drop(self, part: str) -> Told:
        """Takes a part off the slip, or a sound by its checksum.

        Raises
        ------
        NotFound
            When it is neither.
        """
        with self._at.lock:
            if part in {one.value for one in Part}:
                self._put_slip(self.slip.drop(Part(part)).said_since([Part(part)]))
                return Told(_("No longer on the slip: %(parts)s.", parts=parts_named([Part(part)])))
            self._sounds.on_slip(part)
            self._put_slip(self.slip.without_sound(part))
            return Told(_("The sound is no longer on the slip."))

    # Orders.

    def order(self, order: Order) -> Told:
        """Does what was ordered; orders for the camera or the microphone are none of this desk's."""
        with self._at.lock:
            match order:
                case Order.UNDO:
                    return self._undone()
                case Order.CLEAR:
                    self._put_slip(self.slip.cleared())
                    return Told(_("The slip is empty; the container stays."))
                case Order.BACK | Order.TAKE_AGAIN:
                    return self._expect_of_last(order)
                case Order.TAKE | Order.EMPTY_STAGE:
                    self._at.expects = order
                    return Told(
                        _("The next picture is taken.") if order is Order.TAKE else _("The stage is looked at.")
                    )
                case Order.OWN_PRINT:
                    return self._taking.own_print()
                case Order.STORY:
                    return self._stories.begin()
                case Order.STORY_ENDS:
                    return self._stories.end()
                case _:
                    return Told("")

    @property
    def expects(self) -> Order | None:
        """What was ordered for the next picture, if anything was."""
        return self._at.expects

    # Pictures.

    def take(self, picture: bytes, name: str, *, route: str = "still") -> Taken:
        """Takes a picture: kept first, then found, straightened, numbered, described by the slip; one act.

        Ordered before, it is the back of the last print, or the same again, or the empty stage. Where no print is
        found nothing is taken unless it was ordered. `route` tells how it came: "frame", "still" or "file".

        Raises
        ------
        Trouble
            When it can't be read, or can't be kept.
        """
        with self._at.lock:
            return self._taking.take(picture, name or f"{route}-{self.station}.jpg")

    def answer_back(self, yes: bool) -> Told:
        """Answers whether the last print is the back of the one before it, as it looks.

        Raises
        ------
        NotFound
            When nothing of the kind is asked.
        """
        with self._at.lock:
            return self._taking.answer_back(yes)

    @property
    def again(self) -> Again | None:
        """The two pictures of one side of the last print, while a person must choose between them."""
        last = self._at.in_hand.last
        return again_of(self._at.collection, last.accession) if last else None

    def keep_of_two(self, which: str, accession: str = "") -> Told:
        """Shows the "new" or the "old" of two pictures of one side; the other stays in the collection, unused.

        Raises
        ------
        NotFound
            When there are no two to choose from.
        """
        with self._at.lock:
            again = again_of(self._at.collection, accession) if accession else self.again
            return keep_of_two(self._at, again, keep_new=which == "new")

    def last(self, n: int = 6) -> tuple[Lately, ...]:
        """The last pictures taken here, the newest first, each with its print's slip in words."""
        laid = self._at.in_hand.lately[:n]
        accessions = list(dict.fromkeys(one.accession for one in laid))
        prints = {one.accession: one for one in self._at.collection.catalogue.prints_of(accessions)}
        words = words_of_prints(self._at.collection, accessions)
        return tuple(
            _lately(one, prints[one.accession], words[one.accession]) for one in laid if one.accession in prints
        )

    # Sounds and stories.

    @property
    def keeps_sound(self) -> bool:
        """Whether what was not understood is kept as sound in this collection."""
        return keeps_slip_sound(self._at.collection)

    def keep_sound(self, pcm: bytes, covers: Sequence[str] = ()) -> Told:
        """Keeps what was said and not understood (16-bit PCM, one channel, 16 kHz), where that was switched on; it
        covers the prints that follow, and those of `covers`."""
        with self._at.lock:
            return self._sounds.keep(pcm, covers)

    def sounds(self) -> tuple[KeptSound, ...]:
        """The sounds on the slip, the oldest first, without those that were erased meanwhile."""
        kept = self._at.collection.catalogue.sound
        return tuple(one for one in self.slip.not_understood if kept(one.sha256) is not None)

    def sound_wav(self, sound: str) -> bytes:
        """One of them as WAV.

        Raises
        ------
        NotFound
            When it is not on the slip any more.
        """
        return self._sounds.wav(sound)

    def type_sound(self, sound: str, words: str) -> Said:
        """What one of them says, typed once: it serves every print that it covered.

        Raises
        ------
        NotFound
            When it is not on the slip any more.
        """
        with self._at.lock:
            said, act = self._sounds.typed(sound, words)
            if not said.parts:
                return Said("not", _("“%(words)s” was not understood.", words=words), left=said.left)
            return evolve(self._said(said, "understood"), act=act)

    @property
    def story(self) -> Story | None:
        """The story that is told just now; None where none is."""
        return self._stories.now

    def story_begins(self, teller: str = "") -> Told:
        """A told story begins; it changes no slip."""
        with self._at.lock:
            return self._stories.begin(teller)

    def story_sound(self, pcm: bytes) -> Told | None:
        """More of it: 16-bit PCM, one channel, 16 kHz. What is to be told once it has become long."""
        return self._stories.sound(pcm)

    def story_ends(self) -> Told:
        """It ends, and is kept with the prints that were on the stage meanwhile."""
        with self._at.lock:
            return self._stories.end()

    def finish(self) -> None:
        """Does what waits until hands are off the print, now."""
        self._at.after.finish()

    # How.

    def _with(self, part: Part, words: str) -> Slip:
        """The slip with one part said by words of its field; empty words take it off."""
        words = words.strip()
        if not words:
            return self.slip.drop(part)
        if part is Part.CONTAINER:
            return self.slip.in_container(container_code(words))
        meant = meant_of(self._at.understanding, Typed(SUBJECT, _FIELDS[part], words))
        if not meant.claims:
            why = meant.trouble or Sentence("nothing was understood")
            raise InvalidValue(Sentence("Nothing was changed"), why, Sentence("Say it in other words"))
        entries = entries_of(meant)
        if part is Part.OCCASION:
            return self.slip.at_occasion(entries[0], shared_of(self._at.understanding, entries[0].value))
        return self.slip.with_part(part, entries)

    def _changed(self, said: SlipSaid) -> Said:
        """Keeps the slip as it was said, and corrects what it corrects."""
        before, act = self._at.in_hand, None
        if said.corrects:
            act, slip = amend(self._at.collection, self._at.understanding, before.slip, said.slip, who=WHO)
            said = evolve(said, slip=slip)
        said = evolve(said, slip=said.slip.said_since(said.parts))
        if said.slip != before.slip:
            self._at.did(before, act)
            self._at.keep_slip(said.slip)
        return evolve(self._said(said, "understood"), act=act)

    def _put_slip(self, slip: Slip) -> None:
        if slip != self.slip:
            self._at.did(self._at.in_hand)
            self._at.keep_slip(slip)

    def _said(self, said: SlipSaid, state: str) -> Said:
        told = tuple(one for one in _parts(said.slip) if one[0] in said.parts)
        words = " · ".join(words for _part, words, _sure in told) or parts_named(said.parts)
        if said.left:
            left = ", ".join(f"“{one}”" for one in said.left)
            words = _("%(words)s; not understood: %(left)s", words=words, left=left)
        return Said(state, words, told, said.left)

    def _undone(self) -> Told:
        sentence = self._at.undo()
        self._at.expects = None
        return Told(
            _("Taken back: %(what)s.", what=sentence) if sentence else _("Taken back: what was said last.")
        )

    def _expect_of_last(self, order: Order) -> Told:
        last = self._at.in_hand.last
        if last is None or not self._at.collection.catalogue.listed_of([last.accession]):
            return Told(_("No print was taken here yet."), Tone.NOT_UNDERSTOOD)
        self._at.expects = order
        if order is Order.BACK:
            return Told(_("The next picture is the back of %(print)s.", print=last.accession))
        return Told(_("The next picture is %(print)s again.", print=last.accession))


_SURENESS = list(Sure)


def _part_of(name: str) -> Part:
    try:
        return Part(name)
    except ValueError:
        why = Sentence("a slip has no part “%(name)s”", name=name[:40])
        raise InvalidValue(Sentence("Nothing was changed"), why, Sentence("Load the page again")) from None


def _parts(slip: Slip) -> tuple[tuple[Part, str, Sure], ...]:
    found = []
    for part in Part:
        if words := part_words(slip, part):
            sure = max((one.sure for one in slip.part(part)), key=_SURENESS.index, default=Sure.CERTAIN)
            found.append((part, words, sure))
    return tuple(found)


def _lately(laid: Laid, print_: Print, words: str) -> Lately:
    view: View | None = next((one for one in print_.views if one.key == laid.key), None) or print_.view(laid.side)
    faults = faults_told(view) if view else ()
    key = view.key if view else laid.key
    return Lately(laid.accession, SIDE_NAMES[laid.side], key, laid.act, words, faults, laid.back_of)
