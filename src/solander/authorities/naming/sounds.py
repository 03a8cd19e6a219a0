"""How names sound, by four published codes, for names that were heard and written down.

Daitch–Mokotoff is the one for European surnames; NYSIIS and Metaphone (`jellyfish`) know more of English, where it
is weak ("Sean", "Shawn"); Soundex is what census indexes go by. Each alone joins names that nobody would take for
one another, so that it counts how many agree.
"""

from __future__ import annotations

from functools import lru_cache

import jellyfish

from solander.authorities.naming.daitch_mokotoff import daitch_mokotoff

__all__ = ["CODES", "codes_of", "sounds_alike"]

CODES = 4
"""So many kinds of code there are."""


@lru_cache(maxsize=1 << 17)
def codes_of(name: str) -> tuple[tuple[str, ...], ...]:
    """The codes of a name in plain Latin letters, kind by kind: each kind has its own first letter."""
    return (
        tuple(f"D{code}" for code in daitch_mokotoff(name)),
        (f"N{jellyfish.nysiis(name)}",),
        (f"M{jellyfish.metaphone(name)}",),
        (f"S{jellyfish.soundex(name)}",),
    )


def sounds_alike(name: str, other: str) -> int:
    """How many of the codes agree, 0 to `CODES`."""
    return sum(not set(one).isdisjoint(two) for one, two in zip(codes_of(name), codes_of(other), strict=True))
