"""How somebody says a name, heard from a recording in which it is said several times."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import pocketsphinx
from numpy.typing import NDArray

from solander.reading.speech.activity import Activity
from solander.reading.speech.model import english_model
from solander.reading.speech.phones import IPA, PHONES
from solander.reading.speech.pronounce import Phones
from solander.reading.speech.second import has_second, phones_heard

__all__ = ["apart", "likeliest", "said_as"]

_QUIET = b"\0\0" * 16_000
"""A second behind the recording, in which the last saying ends."""


def said_as(pcm: bytes) -> Sequence[Phones]:
    """The phones of each saying in a recording (16-bit little-endian, one channel, 16 kHz), as the recognisers
    hear them without any word in mind."""
    activity = Activity()
    spoken = [each.samples for each in activity.hear(pcm + _QUIET) if each.is_over]
    return [phones for samples in spoken for phones in _heard(samples) if len(phones) > 1]


def likeliest(sayings: Sequence[Phones], guesses: Sequence[Phones] = ()) -> Phones | None:
    """Of all sayings, and of the ways in which the name might be read, the one that is nearest to all sayings;
    None where nothing was said."""
    ways = [*guesses, *sayings]
    return min(ways, key=lambda way: sum(apart(way, said) for said in sayings)) if sayings else None


def apart(one: Phones, other: Phones) -> int:
    """By how many sounds two rows differ: put in, left out or changed (Levenshtein's distance)."""
    row = list(range(len(other) + 1))
    for place, sound in enumerate(one, 1):
        before, row[0] = row[0], place
        for at, heard in enumerate(other, 1):
            before, row[at] = row[at], min(row[at] + 1, row[at - 1] + 1, before + (sound != heard))
    return row[-1]


def _heard(samples: NDArray[np.int16]) -> Iterator[Phones]:
    yield _base(samples)
    if has_second():
        of_ipa = {ipa: phone for phone, ways in IPA.items() for ipa in ways}
        yield tuple(of_ipa[each] for each in phones_heard(samples) if each in of_ipa)


def _base(samples: NDArray[np.int16]) -> Phones:
    """The row of phones that the base recogniser finds likeliest."""
    model = english_model()
    decoder = pocketsphinx.Decoder(
        hmm=str(model.sounds),
        allphone=str(model.sounds.parent / "en-us-phone.lm.bin"),
        lm=None,
        lw=2.0,
        beam=1e-20,
        pbeam=1e-20,
        loglevel="FATAL",
    )
    noise = np.random.default_rng(0).normal(0, 8, len(samples))
    decoder.start_utt()
    decoder.process_raw(np.clip(samples + noise, -32768, 32767).astype(np.int16).tobytes(), False, True)
    decoder.end_utt()
    return tuple(each.word for each in decoder.seg() if each.word in PHONES)
