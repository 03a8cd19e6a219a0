"""How the letters of a language sound, learnt from a pronouncing dictionary of it.

Each word of the dictionary is laid beside its phones, a letter taking none, one or two of them, so that what
letters mostly stand for is likeliest; a few rounds of that settle it (hard expectation-maximisation). A word that
the dictionary does not hold is then read letter by letter, each as it mostly sounded between the same neighbours.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from math import log

from attrs import frozen

__all__ = ["Letters", "learnt_letters"]

Phones = tuple[str, ...]
Pairs = list[tuple[str, Phones]]

_WORDS, _ROUNDS, _LONGEST = 4000, 3, 16
"""So many words are learnt from, in so many rounds, none longer than this: about two seconds (our choice)."""
_SEEN = 2
"""So often a letter was seen between the same neighbours, if that is to count."""
_CONTEXTS = ((2, 2), (1, 2), (1, 1), (0, 1), (1, 0), (0, 0))
"""Letters before and behind, the closest first."""


@frozen
class Letters:
    """What each letter between its neighbours mostly sounds like."""

    sounds: Mapping[str, Phones]

    def read(self, word: str) -> Phones:
        """How a word sounds; letters that were never seen are silent."""
        framed = f"##{word}##"
        return tuple(phone for at in range(2, len(framed) - 2) for phone in self._letter(framed, at))

    def _letter(self, framed: str, at: int) -> Phones:
        found = (self.sounds.get(_key(framed, at, *context)) for context in _CONTEXTS)
        return next((phones for phones in found if phones is not None), ())


def learnt_letters(dictionary: Mapping[str, tuple[Phones, ...]]) -> Letters:
    """What the words of a dictionary tell of letters."""
    words = [
        (word, ways[0]) for word, ways in sorted(dictionary.items()) if word.isalpha() and len(word) <= _LONGEST
    ]
    words = words[:: max(len(words) // _WORDS, 1)]
    chances: dict[tuple[str, Phones], float] = {}
    for _ in range(_ROUNDS):
        laid = [pairs for word, phones in words if (pairs := _laid(word, phones, chances))]
        chances = _chances(laid)
    return Letters(_mostly(laid))


def _laid(word: str, phones: Phones, chances: Mapping[tuple[str, Phones], float]) -> Pairs:
    """The likeliest way to lay a word beside its phones; empty where there is none."""
    best: dict[int, tuple[float, Pairs]] = {0: (0.0, [])}
    for done, letter in enumerate(word, 1):
        further: dict[int, tuple[float, Pairs]] = {}
        for at, (score, pairs) in best.items():
            for taken in range(min(2, len(phones) - at) + 1):
                part = phones[at : at + taken]
                total = score + (
                    chances.get((letter, part), -12.0) if chances else _even(done, len(word), at, phones)
                )
                if at + taken not in further or total > further[at + taken][0]:
                    further[at + taken] = total, [*pairs, (letter, part)]
        best = further
    return best[len(phones)][1] if len(phones) in best else []


def _even(done: int, letters: int, at: int, phones: Phones) -> float:
    """Before anything is known letters and phones run along evenly."""
    return -abs(done / letters - at / max(len(phones), 1))


def _chances(laid: list[Pairs]) -> dict[tuple[str, Phones], float]:
    counts = Counter(pair for pairs in laid for pair in pairs)
    totals: Counter[str] = Counter()
    for (letter, _), count in counts.items():
        totals[letter] += count
    return {pair: log(count / totals[pair[0]]) for pair, count in counts.items()}


def _mostly(laid: list[Pairs]) -> dict[str, Phones]:
    seen: defaultdict[str, Counter[Phones]] = defaultdict(Counter)
    for pairs in laid:
        framed = f"##{''.join(letter for letter, _ in pairs)}##"
        for at, (_, phones) in enumerate(pairs, 2):
            for key in _keys(framed, at):
                seen[key][phones] += 1
    commonest = ((key, counts.most_common(1)[0]) for key, counts in seen.items())
    return {key: phones for key, (phones, count) in commonest if count >= _SEEN}


def _keys(framed: str, at: int) -> Iterator[str]:
    return (_key(framed, at, *context) for context in _CONTEXTS)


def _key(framed: str, at: int, before: int, behind: int) -> str:
    return f"{framed[at - before : at]}<{framed[at]}>{framed[at + 1 : at + 1 + behind]}"
