"""Recordings of voices that a collection keeps, and erasing one for good."""

from __future__ import annotations

from attrs import frozen

from solander.catalogue.history import utc_now
from solander.core.errors import NotFound
from solander.core.sentence import Sentence
from solander.core.sounds import Sound, SoundKind
from solander.tasks.collection import Collection
from solander.tasks.stand_words import prints_told
from solander.tasks.story_questions import asked_by_other_stories

__all__ = ["Recording", "erase_recording", "length_words", "recording_of"]


@frozen
class Recording:
    """A recording, and the prints that it goes with (none for what was not understood, or where it was taken
    off)."""

    sound: Sound
    prints: tuple[str, ...] = ()

    @property
    def is_story(self) -> bool:
        """Whether it is a told story."""
        return self.sound.what is SoundKind.ACCOUNT

    @property
    def length(self) -> str:
        """How long it is, in minutes and seconds."""
        return length_words(self.sound.seconds)


def length_words(seconds: float) -> str:
    """Minutes and seconds: 3:07."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def recording_of(collection: Collection, sound: Sound) -> Recording:
    """A recording with its prints."""
    return Recording(sound, tuple(collection.catalogue.prints_of_sound(sound.sha256)))


def erase_recording(collection: Collection, sha256: str, *, who: str = "archivist") -> int | None:
    """Erases a recording for good: its file, what was written down of it, who tells it, what was asked because of
    it and of no other story; from history too. That it was erased is noted as an act. Gives that act's number.

    Interrupted at any moment, it is done by doing it again.

    Raises
    ------
    NotFound
        When there is no such recording.
    Trouble
        When another program has the collection open, so that traces are left; or the file can't be deleted.
    """
    sound = collection.catalogue.sound(sha256)
    if sound is None:
        raise NotFound(Sentence("There is no such recording"))
    with collection.catalogue.act(who, _note(recording_of(collection, sound))) as act, act.work() as work:
        said = collection.catalogue.statements(subject=sha256)
        about = [
            one
            for accession in collection.catalogue.prints_of_sound(sha256)
            for one in collection.catalogue.statements(subject=accession)
            if one.value == sha256
        ]
        work.withdraw_all(one.id for one in (*said, *about))
        work.note_erased(sha256, utc_now())
        work.commit()
    collection.sounds.erase(sha256)  # first, for an erasing that was interrupted goes on by the row
    collection.catalogue.erase_sound(sha256, asked_elsewhere=asked_by_other_stories(collection, sha256))
    return act.number


def _note(recording: Recording) -> str:
    told = {"length": recording.length, "day": recording.sound.begun[:10]}
    if not recording.is_story:
        return Sentence("erased for good what was said on %(day)s and not understood (%(length)s minutes)", **told)
    if not recording.prints:
        return Sentence("erased for good a story told on %(day)s (%(length)s minutes)", **told)
    return Sentence(
        "erased for good a story told about %(prints)s on %(day)s (%(length)s minutes)",
        prints=prints_told(recording.prints),
        **told,
    )
