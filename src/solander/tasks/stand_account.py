"""Told stories: recorded while they are told, kept for good, bound to the prints that they were told about."""

from __future__ import annotations

import threading
from collections.abc import Iterable, Sequence
from datetime import datetime
from pathlib import Path

from attrs import define, evolve, field

from solander.catalogue.history import utc_now
from solander.catalogue.store import Act
from solander.core.language import _, marked
from solander.core.sentence import Sentence
from solander.core.sounds import Sound, SoundKind
from solander.core.statements import About, Says, Statement, Sure
from solander.intake.sound import RATE, write_flac
from solander.tasks.claims import AT_THE_DESK
from solander.tasks.identity import statement_identity
from solander.tasks.recordings import length_words
from solander.tasks.stand_state import InHand, Telling
from solander.tasks.stand_station import WHO, Station
from solander.tasks.stand_told import Story, Told, Tone
from solander.tasks.stand_words import prints_told, prints_words
from solander.vault.store import ARRIVING

__all__ = ["Stories", "account_statement", "bind_stories"]

_SAMPLE = 2

LONGEST_S, ANNOUNCED_S = 60 * 60.0, 5 * 60.0
"""A recording is kept after so long, and that is told so long before (our choice): of one that is forgotten most
is safe, in pieces that can be listened to. Whoever still tells goes on in a next one; nothing is lost."""


_SOON = marked(
    "The story has become long: in %(minutes)s minutes it is kept, and goes on in a next recording. S ends it."
)


def _bytes_of(seconds: float) -> float:
    return seconds * RATE * _SAMPLE


def account_statement(sha256: str, accession: str, length: str = "") -> Statement:
    """That the story of that recording, so long in minutes, is told about a print."""
    said = Statement(
        "", About.PRINT, accession, Says.ACCOUNT, sha256, length, Sure.CERTAIN, AT_THE_DESK, utc_now()
    )
    return evolve(said, id=statement_identity(said))


def teller_statement(sha256: str, teller: str) -> Statement:
    """Who tells the story of that recording."""
    said = Statement("", About.SOUND, sha256, Says.TELLER, teller, teller, Sure.CERTAIN, AT_THE_DESK, utc_now())
    return evolve(said, id=statement_identity(said))


def bind_stories(act: Act, stories: Iterable[str], accession: str) -> None:
    """Binds stories that waited for a print to it, as a part of the act by which it was taken."""
    with act.work() as work:
        for sha256 in filter(work.has_sound, stories):  # one may have been erased meanwhile
            work.state(account_statement(sha256, accession))
        work.commit()


@define
class Stories:
    """The story that is told at one station, if one is."""

    at: Station
    _bytes: int = field(default=0, init=False)
    _writing: threading.Lock = field(factory=threading.Lock, init=False)

    def __attrs_post_init__(self) -> None:
        if self.at.in_hand.telling is not None:
            self.end()  # the program ended while it was told: what was recorded until then is kept

    @property
    def now(self) -> Story | None:
        """The story that is told just now."""
        telling = self.at.in_hand.telling
        if telling is None:
            return None
        began = datetime.fromisoformat(telling.began).timestamp()
        return Story(began, self._bytes / _SAMPLE / RATE, telling.prints)

    def begin(self, teller: str = "", prints: Sequence[str] = ()) -> Told:
        """Begins one, about `prints` or the print taken last, and those that are taken while it is told."""
        if self.at.in_hand.telling is not None:
            return Told(_("The story is being recorded already."))
        last = self.at.in_hand.last
        about = prints or ([last.accession] if last else [])
        there = self.at.collection.catalogue.listed_of(about) if about else ()
        self._recording.parent.mkdir(parents=True, exist_ok=True)
        self._recording.write_bytes(b"")
        self._bytes = 0
        self.at.keep(evolve(self.at.in_hand, telling=Telling(utc_now(), teller, tuple(there))))
        if not there:
            return Told(_("The story is recorded. It goes with the next print."))
        return Told(_("The story is recorded. It goes with %(prints)s.", prints=prints_words(tuple(there))))

    def sound(self, pcm: bytes) -> Told | None:
        """More of it; on the disk at once, so that no crash loses what was told. Gives a word about its length."""
        with self._writing:
            if self.at.in_hand.telling is None:
                return None
            with self._recording.open("ab") as file:
                file.write(pcm)
            before, self._bytes = self._bytes, self._bytes + len(pcm)
            now = self._bytes
        if before < _bytes_of(LONGEST_S) <= now:
            return self._go_on()
        if before < _bytes_of(LONGEST_S - ANNOUNCED_S) <= now:
            return Told(_(_SOON, minutes=round(ANNOUNCED_S / 60)))
        return None

    def _go_on(self) -> Told:
        """Keeps what was told so far, and goes on with the next recording, about the same prints."""
        with self.at.lock:
            telling = self.at.in_hand.telling
            if telling is None:
                return self.end()
            kept = self.end()
            self.begin(telling.teller, telling.prints)
            return Told(_("What was told so far is kept; the story goes on in a next recording."), act=kept.act)

    def end(self) -> Told:
        """Ends it: the recording is kept for good, and bound to its prints in one act."""
        with self._writing:
            return self._ended()

    def _ended(self) -> Told:
        telling = self.at.in_hand.telling
        if telling is None:
            return Told(_("No story is being recorded."), Tone.NOT_UNDERSTOOD)
        before = evolve(self.at.in_hand, telling=None)
        kept = self._kept(telling) if self._recording.is_file() and self._recording.stat().st_size else None
        if kept is None:
            self._end_with(before)
            return Told(_("Nothing was heard, and nothing is kept. Is the microphone open?"), Tone.NOT_UNDERSTOOD)
        prints = sorted(self.at.collection.catalogue.listed_of(telling.prints), key=telling.prints.index)
        number = self._entered(kept, telling, prints)
        if prints:
            self.at.did(before, number)
            self._end_with(before)
            return Told(_("The story is kept with %(prints)s.", prints=prints_words(prints)), act=number)
        self._end_with(evolve(before, stories=(*before.stories, kept.sha256)))
        return Told(_("The story is kept. It goes with the next print."), act=number)

    def _end_with(self, in_hand: InHand) -> None:
        self.at.keep(in_hand)
        self._recording.unlink(missing_ok=True)

    def _kept(self, telling: Telling) -> Sound:
        flac = self._recording.with_suffix(".flac.part")
        try:
            seconds = write_flac(self._recording, flac)
            kept = self.at.collection.sounds.put(flac, suffix=".flac")
        finally:
            flac.unlink(missing_ok=True)
        return Sound(kept.sha256, SoundKind.ACCOUNT, telling.began, round(seconds, 2), kept.size, self.at.name)

    def _entered(self, sound: Sound, telling: Telling, prints: Sequence[str]) -> int | None:
        what = Sentence("kept a told story")
        if prints:
            what = Sentence("kept a story told about %(prints)s", prints=prints_told(prints))
        with self.at.collection.catalogue.act(WHO, what) as act, act.work() as work:
            work.keep_sound(sound)
            for accession in prints:
                work.state(account_statement(sound.sha256, accession, length_words(sound.seconds)))
            if telling.teller:
                work.state(teller_statement(sound.sha256, telling.teller))
            work.commit()
        return act.number

    @property
    def _recording(self) -> Path:
        """Where the sound lies until the story ends."""
        return self.at.collection.root / "sound" / ARRIVING / f"story-{self.at.name}.pcm"
