"""Several people named in one breath: "Nan, Uncle Joe and the twins", "Mr and Mrs Weber", "Anna (6), baby Tom"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from attrs import evolve, field, frozen

from solander.authorities.naming.address import title_of
from solander.authorities.naming.candidates import Candidate, Seen, understood
from solander.authorities.naming.find import Finder
from solander.authorities.naming.names_held import Part
from solander.authorities.naming.said import readings_of
from solander.authorities.naming.spelling import plain, words_of
from solander.core.ages import NamedWithAge, read_name_and_age
from solander.core.people import Person

__all__ = ["Mention", "read_people", "split_people"]

_LEAD_IN = re.compile(
    r"^\s*(?:from\s+)?(?:left\s+to\s+right|(?:from\s+)?left|l\.?\s?(?:to|-)\s?r\.?|v\.?\s?l\.?\s?n\.?\s?r\.?"
    r"|von links(?: nach rechts)?"
    r"|de gauche à droite|de izquierda a derecha|standing|sitting|front row|back row)\s*:\s*",
    re.IGNORECASE,
)
_AND = r"and|und|u\.?|et|y|e|og|och|en|i|и|with|mit|avec|con|med|met|plus|sowie|samt"
_BETWEEN = re.compile(
    rf"\s*(?:[;+&\n]|,\s*(?:(?:{_AND})\s+)?(?![^()]*\))|\s/\s)\s*|\s+(?P<word>{_AND})\s+", re.IGNORECASE
)
_A_NAME = 200
"""Letters within which a name ends."""
_SURELY = 0.88
"""So like a name a word must be for the comma behind it to mean that the family name comes first."""
_MOST = 200
"""So many are looked for in one phrase, a school on its steps; who comes behind stays as written (our choice)."""
_OF_A_NAME = frozenset(("y", "e", "i", "en"))
"""Little words that also stand within surnames: "Ramón y Cajal"."""


@frozen
class Mention:
    """One of several who were named: as `said`, the `name` without the age, who may be meant, and who is."""

    said: str
    told: NamedWithAge
    candidates: tuple[Candidate, ...] = field(default=())

    @property
    def name(self) -> str:
        """What was said without age and question mark."""
        return self.told.name.rstrip(" ?").strip()

    @property
    def understood(self) -> Candidate | None:
        """Who is meant, where that is clear."""
        return understood(self.candidates)


def split_people(phrase: str) -> list[str]:
    """The people of a phrase one by one, as written."""
    rest = _LEAD_IN.sub("", phrase).strip(" .")
    parts: list[str] = []
    begun = 0
    for found in _BETWEEN.finditer(rest):
        part, after = rest[begun : found.start()].strip(), rest[found.end() : found.end() + _A_NAME]
        if not part or _within_a_name(found["word"], part, after) or part.count("(") != part.count(")"):
            continue
        parts.append(part)
        begun = found.end()
    parts.append(rest[begun:].strip())
    return list(_with_lent_names(_with_ages([part for part in parts if part])))


def _within_a_name(word: str | None, before: str, after: str) -> bool:
    if word is None or word.casefold() not in _OF_A_NAME:
        return False
    following = _BETWEEN.split(after)[0] or ""
    return len(words_of(before)) > 1 and len(words_of(following)) == 1


def _with_ages(parts: Sequence[str]) -> list[str]:
    """ "Anna, 6, and Tom, 3": a number behind a comma is the age of who stands before it."""
    found: list[str] = []
    for part in parts:
        together = f"{found[-1]}, {part}" if found and part[:1].isdigit() else ""
        if together and read_name_and_age(together).age:
            found[-1] = together
        else:
            found.append(part)
    return found


def _with_lent_names(parts: Sequence[str]) -> Iterator[str]:
    """ "Mr and Mrs Weber" is Mr Weber and Mrs Weber."""
    for place, part in enumerate(parts):
        words = words_of(part)
        if len(words) == 1 and title_of(plain(words[0])) and place + 1 < len(parts):
            name = [word for word in words_of(parts[place + 1]) if not title_of(plain(word))]
            yield " ".join([part, *name])
        else:
            yield part


def read_people(finder: Finder, phrase: str, seen: Seen | None = None) -> tuple[Mention, ...]:
    """Everybody whom a phrase names, in its order; who was named before is known to "her" and "his"."""
    seen = seen or Seen()
    mentions: list[Mention] = []
    before: tuple[str, ...] = ()
    if _turned_round(finder, phrase):
        family, _, given = phrase.partition(",")
        phrase = f"{given.strip()} {family.strip()}"
    parts = split_people(phrase)
    for place, part in enumerate(parts):
        told = read_name_and_age(part)
        lent = _lent(parts[place + 1 : place + 2])
        name = told.name.rstrip(" ?").strip()
        asked = name and place < _MOST
        found = finder.find(name, evolve(seen, age=told.age, before=before[-_MOST:], lent=lent)) if asked else ()
        mentions.append(Mention(part, told, found))
        before += tuple(one.name for one in _meant(mentions[-1]))
    return tuple(mentions)


def _meant(mention: Mention) -> tuple[Person, ...]:
    best = mention.understood or (mention.candidates[0] if mention.candidates else None)
    return best.everybody if best else ()


def _lent(parts: Sequence[str]) -> tuple[str, ...]:
    """The family name of whoever stands next: "Anna and Joe Weber"."""
    next_one = readings_of(parts[0])[-1:] if parts else []
    names = next_one[0].names if next_one and next_one[0].kin is None else ()
    return names[-1:] if len(names) > 1 else ()


def _turned_round(finder: Finder, words: str) -> bool:
    """Whether it is one name with the family name first: "Weber, Anna"."""
    family, comma, given = (part.strip() for part in words.partition(","))
    if not comma or "," in given or len(words_of(given)) > 3 or len(words_of(family)) > 2:
        return False
    before = [plain(word) for word in words_of(family)]
    if len(before) > 1 and _is_rather(finder, before[0], Part.GIVEN):
        return False  # “Nils Berg, Anna Lund” are two people
    first = next((plain(word) for word in words_of(given)), "")
    last = next((plain(word) for word in reversed(words_of(family))), "")
    return bool(first and last) and _is_rather(finder, last, Part.BORN) and _is_rather(finder, first, Part.GIVEN)


def _is_rather(finder: Finder, word: str, part: Part) -> bool:
    """Whether a word is rather that part of a name than the other, the given or the family name."""
    other = Part.BORN if part is Part.GIVEN else Part.GIVEN
    borne = finder.index.borne_as(word, part)
    return borne >= _SURELY and borne > finder.index.borne_as(word, other)
