"""What was said at the stand and not understood: kept as sound where that is switched on, and typed once."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import define, evolve

from solander.catalogue.history import utc_now
from solander.catalogue.work import Work
from solander.core.errors import NotFound
from solander.core.language import _
from solander.core.sentence import Sentence
from solander.core.slips import PART_OF, Entry, KeptSound, Part, Slip
from solander.core.sounds import Sound, SoundKind
from solander.intake.sound import RATE, flac_of, wav_of
from solander.tasks.act_in_time import act_in_time
from solander.tasks.collection import Collection
from solander.tasks.slip_said import SlipSaid, read_slip_words
from solander.tasks.stand_enter import AT_THE_STAND, say_of_prints
from solander.tasks.stand_station import WHO, Station
from solander.tasks.stand_told import Told
from solander.tasks.stand_words import prints_told

__all__ = ["KEEPS_SOUND", "SlipSounds", "keeps_slip_sound", "switch_slip_sound"]

KEEPS_SOUND = "slip_sound"
"""The setting of a collection that tells that what was not understood is kept as sound."""

_ONE_AT_A_TIME = (Part.OCCASION, Part.DATE, Part.PLACE)
"""Parts of which a print has one from the stand: what is typed takes the place of what the slip said meanwhile."""

_SHORTEST_S = 0.3
"""What is shorter was a noise (our choice)."""


def keeps_slip_sound(collection: Collection) -> bool:
    """Whether sounds of slips are kept; off until somebody says yes."""
    return collection.catalogue.setting(KEEPS_SOUND) == "on"


def switch_slip_sound(collection: Collection, *, on: bool, who: str = WHO) -> int | None:
    """Switches it; sounds that were kept stay until they were typed."""
    what = Sentence("said that what was not understood is kept as sound")
    if not on:
        what = Sentence("said that what was not understood is not kept as sound")
    with collection.catalogue.act(who, what) as act, act.work() as work:
        work.set(KEEPS_SOUND, "on" if on else "off")
        work.commit()
    return act.number


@define
class SlipSounds:
    """The sounds on the slip of one station."""

    at: Station

    def keep(self, pcm: bytes, covers: Sequence[str] = ()) -> Told:
        """Keeps what was said and not understood, and puts it on the slip; tells nothing where that is off."""
        seconds = len(pcm) / 2 / RATE
        if not keeps_slip_sound(self.at.collection) or seconds < _SHORTEST_S:
            return Told("")
        kept = self.at.collection.sounds.put(flac_of(pcm), suffix=".flac")
        sound = Sound(kept.sha256, SoundKind.SLIP, utc_now(), round(seconds, 2), kept.size, self.at.name)
        what = Sentence("kept what was said and not understood")
        with self.at.collection.catalogue.act(WHO, what) as act, act.work() as work:
            work.keep_sound(sound)
            work.commit()
        self.at.did(self.at.in_hand)
        self.at.keep_slip(self.at.slip.heard(kept.sha256, covers))
        return Told(_("It was not understood, and is kept as sound: type it when you like."))

    def wav(self, sha256: str) -> bytes:
        """A sound of the slip, to be played.

        Raises
        ------
        NotFound
            When it is none of this slip.
        """
        self.on_slip(sha256)
        return wav_of(self.at.collection.sounds.path(sha256))

    def typed(self, sha256: str, words: str) -> tuple[SlipSaid, int | None]:
        """What a sound says, typed once: it serves every print that it covered, in one act, and goes on with the
        slip. Gives what was understood, and the act's number.

        Raises
        ------
        NotFound
            When it is none of this slip.
        """
        sound, before = self.on_slip(sha256), self.at.in_hand
        said = read_slip_words(self.at.understanding, self.at.slip, words)
        if not said.parts:
            return said, None
        alone = read_slip_words(self.at.understanding, Slip(), words)
        act = self._serve(sound, alone.slip, words) if sound.covers else None
        slip = self._going_on(sound, said)
        self.at.did(before, act)
        self.at.keep_slip(slip)
        return evolve(said, slip=slip), act

    def _serve(self, sound: KeptSound, typed: Slip, words: str) -> int | None:
        """Says of the covered prints what was typed, part by part."""
        collection = self.at.collection
        listed = collection.catalogue.listed_of(sound.covers)
        whom = prints_told([one for one in sound.covers if one in listed])
        what = Sentence("typed what was said of %(prints)s: “%(words)s”", prints=whom, words=words)
        with act_in_time(collection, WHO, what) as (act, work):
            for part in Part:
                prints = [one for one in sound.covered(part) if one in listed]
                entries = typed.part(part) if part is not Part.CONTAINER else ()
                if prints and entries:
                    self._say(work, part, entries, prints)
        return act.number

    def _say(self, work: Work, part: Part, entries: tuple[Entry, ...], prints: Sequence[str]) -> None:
        """Says a part of prints: instead of what the slip said there, or besides the people whom it named."""
        there = self.at.collection.catalogue.statements_about(prints)
        there = [one for one in there if one.source == AT_THE_STAND and PART_OF.get(one.says) is part]
        known = {(one.subject, one.says, one.value) for one in there}
        said = {(one.says, one.value) for one in entries}
        if part in _ONE_AT_A_TIME:
            work.withdraw_all(one.id for one in there if (one.says, one.value) not in said)
        for accession in prints:
            new = tuple(one for one in entries if (accession, one.says, one.value) not in known)
            slip = Slip(entries=new)
            say_of_prints(self.at.collection, self.at.understanding, work, [accession], slip)
            entries = tuple(evolve(one, asks=(), new=False) if one in new else one for one in entries)

    def _going_on(self, sound: KeptSound, said: SlipSaid) -> Slip:
        """The slip with what was typed, but for parts that were said anew since; its prints have it already."""
        slip = self.at.slip
        parts = [*said.parts, *((Part.DATE, Part.PLACE) if Part.OCCASION in said.parts else ())]
        for part in dict.fromkeys(parts):
            if not sound.holds(part):
                continue
            if part is Part.CONTAINER:
                slip = slip.in_container(said.slip.container)
                continue
            slip = slip.with_part(part, (_served(one, sound.covered(part)) for one in said.slip.part(part)))
        return slip.without_sound(sound.sha256)

    def on_slip(self, sha256: str) -> KeptSound:
        """A sound of this slip by its checksum.

        Raises
        ------
        NotFound
            When it is none, or no more.
        """
        found = next((one for one in self.at.slip.not_understood if one.sha256 == sha256), None)
        if found is None:
            why = Sentence("it was typed, or taken off the slip")
            raise NotFound(Sentence("This sound is no longer on the slip"), why)
        return found


def _served(entry: Entry, prints: Sequence[str]) -> Entry:
    """An entry that these prints have; where there are none, its names are still to be entered."""
    return evolve(entry, asks=(), new=False, served=tuple(prints)) if prints else entry
