"""How every name of a collection sounds: by the dictionary, worked out from its letters, or as somebody told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import define, frozen

from solander.core.errors import InvalidValue
from solander.core.sentence import Sentence
from solander.reading.speech import (
    Names,
    Pronouncer,
    Reads,
    english_model,
    likeliest,
    pronouncer,
    respelt,
    said_as,
)
from solander.tasks.collection import Collection
from solander.tasks.names_said import names_said
from solander.tasks.sitting import Sitting
from solander.tasks.sounds_like import say_how_it_sounds, sounds_like

__all__ = ["LONGEST_S", "NameSound", "NameSounds", "Reads", "SoundsFound"]

LONGEST_S = 20
"""Seconds of a recording in which a name is said three times (our choice)."""
MOST_SPELLINGS = 5
"""Ways in which one name is spelt as it sounds (our choice)."""
_BYTES_S = 2 * 16_000
_ON_A_PAGE = 100


@frozen
class NameSound:
    """A name, how it is read, spelt plainly, from where that is known, and what somebody told."""

    name: str
    sounds: tuple[str, ...]
    reads: Reads
    told: tuple[str, ...] = ()


@frozen
class SoundsFound:
    """Some names of `total`; `after` is the last one where more follow, else empty."""

    names: tuple[NameSound, ...]
    total: int
    after: str = ""


@define
class NameSounds:
    """The desk at which a person sees and teaches how names sound, in English."""

    collection: Collection
    sitting: Sitting

    def page(self, said: str = "", after: str = "") -> SoundsFound:
        """Names that hold `said`, those that somebody told first, then as used; from behind `after` on."""
        told = sounds_like(self.collection.catalogue)
        names = [name for name in _every(names_said(self.collection)) if said.casefold() in name.casefold()]
        names.sort(key=lambda name: name.casefold() not in told)
        begins = names.index(after) + 1 if after in names else 0
        shown = names[begins : begins + _ON_A_PAGE]
        read = pronouncer(english_model(), told)
        is_more = begins + _ON_A_PAGE < len(names)
        return SoundsFound(tuple(_sound(read, one) for one in shown), len(names), shown[-1] if is_more else "")

    def one(self, name: str) -> NameSound:
        """How one name sounds."""
        return _sound(pronouncer(english_model(), sounds_like(self.collection.catalogue)), " ".join(name.split()))

    def teach(self, name: str, spellings: Sequence[str]) -> int | None:
        """Keeps how a name sounds; none forgets it. Gives the act.

        Raises
        ------
        InvalidValue
            When there is no name, more than `MOST_SPELLINGS`, or a spelling holds nothing that can be said.
        """
        if not name.strip():
            raise InvalidValue(
                Sentence("Nothing was kept"), Sentence("no name was given"), Sentence("Choose a name of the list")
            )
        if len(spellings) > MOST_SPELLINGS:
            raise InvalidValue(
                Sentence("Nothing was kept"),
                Sentence("a name is spelt as it sounds in at most %(number)s ways", number=MOST_SPELLINGS),
                Sentence("Leave out those that are nearly the same"),
            )
        return self.sitting.noted(say_how_it_sounds(self.collection, name, spellings))

    def heard(self, name: str, pcm: bytes) -> str:
        """The spelling nearest to what a person says who says the name several times; the sound is not kept.

        `pcm` is 16-bit little-endian, one channel, 16 kHz.

        Raises
        ------
        InvalidValue
            When nothing was heard in it, or it is too long.
        """
        if len(pcm) > LONGEST_S * _BYTES_S:
            why = Sentence("the recording is longer than %(number)s seconds", number=LONGEST_S)
            raise InvalidValue(
                Sentence("Nothing was proposed"), why, Sentence("Say the name three times, no more")
            )
        read = pronouncer(english_model(), {})
        way = likeliest(said_as(pcm[: len(pcm) // 2 * 2]), read.ways(name, is_name=True))
        if way is None:
            raise InvalidValue(
                Sentence("Nothing was proposed"),
                Sentence("no voice was heard"),
                Sentence("Go nearer to the microphone and say the name three times"),
            )
        return respelt(way)


def _every(names: Names) -> Iterator[str]:
    yield from dict.fromkeys((*names.people, *names.places, *names.occasions))


def _sound(read: Pronouncer, name: str) -> NameSound:
    told = tuple(read.sounds_like.get(name.casefold(), ()))
    ways = read.ways(name, is_name=True)
    return NameSound(name, tuple(dict.fromkeys(respelt(way) for way in ways))[:3], read.reads(name), told)
