"""What becomes of real recordings: talk that is not meant for the stand, and single digits.

    python benchmarks/hear_real.py

Hears `shared/data/speech`, where that folder is beside the project. Talk goes the whole way, as at the stand.
The digits (Free Spoken Digit Dataset, six men, 8 kHz, no quiet at either end) are nothing that is said alone
at the stand: each recogniser is given a grammar of the ten words for them, so that the sounds alone are judged.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hear import RATE, Count, begin, heard, noisy, read
from hear_sentences import NAMES
from solander.reading.speech import english_model
from solander.reading.speech.grammar import Any, Kind, Row, Word
from solander.reading.speech.listen import pronouncer
from solander.reading.speech.second import Second
from solander.reading.speech.sphinx import Sphinx

REAL = Path(__file__).resolve().parents[2] / "shared" / "data" / "speech"
DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
AROUND_S = 0.3
"""Quiet before and behind each digit, as the notes of the recordings advise."""


def main() -> None:
    """Prints what became of both."""
    if not REAL.is_dir():
        print(f"No recordings: {REAL} is not there.")
        return
    talk()
    digits()


def talk() -> None:
    """Prints what becomes of talk, none of which is meant for the stand."""
    begin(NAMES["judge"], False)
    counts = Count()
    for path in sorted([*(REAL / "read").glob("*.wav"), *(REAL / "phrases").glob("*.wav")]):
        told, _ = heard(noisy(np.concatenate([np.zeros(RATE // 2), read(path), np.zeros(RATE)]), "clean", 1))
        counts.said += 1
        certain = {each.understood.certainty for each in told}
        counts.acted_wrong += "sure" in certain
        counts.asked_wrong += "sure" not in certain and "ask" in certain
        print(f"  {path.name}: {[(each.understood.words, each.understood.certainty.value) for each in told]}")
    print(f"real talk {counts}")


def digits() -> None:
    """Prints how many digits each recogniser hears right, and both together."""
    ways = pronouncer(english_model(), {})
    words = [Word(f"digit_{number}", Kind.DATE, said, ways.ways(said)) for number, said in enumerate(DIGITS)]
    base, second = Sphinx(Any(tuple(words)), english_model()), Second(Any(tuple(words)))
    right = dict.fromkeys(("base", "second", "both"), 0)
    paths = sorted((REAL / "digits").glob("*.wav"))
    for path in paths:
        samples, number = _quiet_around(read(path)), int(path.name[0])
        one, other = base.hear(samples), second.hear(samples)
        right["base"] += one is not None and one.words == (words[number],)
        right["second"] += other is not None and other.words == (words[number],)
        right["both"] += best_of_both(base, second, words, samples) == words[number]
    for name, count in right.items():
        print(f"digits, {name}: {count} of {len(paths)} right ({100 * count / len(paths):.1f} %)")


def best_of_both(base: Sphinx, second: Second, words: list[Word], samples: NDArray[np.int16]) -> Word:
    """The word with the best margin of both together, as where the two differ at the stand."""

    def margin(word: Word) -> float:
        guess = base.hear_one_of(Row((word,)), samples)
        return second.fits((word,)) + (guess.margin if guess else -np.inf)

    return max(words, key=margin)


def _quiet_around(samples: NDArray[np.float64]) -> NDArray[np.int16]:
    around = np.zeros(int(AROUND_S * RATE))
    return np.clip(noisy(np.concatenate([around, samples, around]), "clean", 1), -32768, 32767).astype(np.int16)


if __name__ == "__main__":
    main()
