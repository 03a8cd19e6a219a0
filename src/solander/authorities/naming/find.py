"""Finding a person by what is said: ranked candidates with reasons; nobody is chosen where two fit alike."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from copy import copy
from functools import cached_property
from itertools import chain

import numpy as np
from attrs import evolve, field, frozen

from solander.authorities.naming.address import Generation
from solander.authorities.naming.candidates import Candidate, Seen
from solander.authorities.naming.index import Index, Numbers
from solander.authorities.naming.kinship import KinWord
from solander.authorities.naming.lives import life_then
from solander.authorities.naming.reasons import called_words, is_doubtful, kin_reason, word_fits, word_reasons
from solander.authorities.naming.said import ME, SELF_WORDS, Said, readings_of
from solander.authorities.naming.spelling import plain, words_of
from solander.authorities.naming.twins import TWINS, births_of_several
from solander.authorities.naming.weights import LAST, SEX_OF, weighed
from solander.core.dates import parse_edtf
from solander.core.kin import Family
from solander.core.language import marked
from solander.core.people import Person
from solander.core.sentence import Sentence

__all__ = ["Finder", "find_people"]

_SURELY = 0.96
"""How well somebody fits who is meant by a kinship or as the teller, and not by a name."""
_WORTH_TELLING = 0.5
_LOOKED_AT = 16
_MOST = 12
_NEAREST = 0.04
"""What standing near in the tree adds to the order; it never makes a case clear."""
_ALIKE = 0.1
"""Who fits by so much less than the best is one of those among whom the elder or the younger is meant."""


def find_people(
    said: str,
    *,
    people: Iterable[Person],
    family: Family,
    seen_from: str | None = None,
    on: str | None = None,
) -> tuple[Candidate, ...]:
    """Who may be meant by `said`, the likeliest first; `on` is an EDTF date. A kept `Finder` is quicker."""
    seen = Seen(seen_from, parse_edtf(on).bounds() if on else None)
    return Finder(people, family).find(said, seen)


_OF_SEVERAL = {
    Generation.ELDER: marked("the elder of %(count)s who fit"),
    Generation.YOUNGER: marked("the younger of %(count)s who fit"),
}


@frozen
class _Scored:
    """How well everybody fits one reading, and what the kinship in it adds for whom."""

    reading: Said
    fits: Numbers
    kin: dict[int, str] = field(factory=dict)
    wives: dict[int, int] = field(factory=dict)


class Finder:
    """Finds people of one collection; made once, as it looks at every name, and from then on `with_people`."""

    def __init__(self, people: Iterable[Person], family: Family) -> None:
        self.index = Index(people, family)

    def with_people(self, changed: Iterable[Person]) -> Finder:
        """Another that knows these people as they are now, newcomers among them; their kin is as it was."""
        other = copy(self)
        other.__dict__.pop("_births", None)
        other.index = self.index.with_people(changed)
        return other

    @cached_property
    def _births(self) -> list[tuple[str, ...]]:
        return births_of_several(dict(self.index.relations.people), self.index.relations.family)

    def find(self, said: str, seen: Seen | None = None) -> tuple[Candidate, ...]:
        """Who may be meant, the likeliest first; nothing where nobody comes near."""
        seen = seen or Seen()
        if not self.index.people:
            return ()
        found: dict[str, Candidate] = {}
        readings = readings_of(said)
        told = chain(
            self._teller(said, seen), self._twins(said, seen), *(self._reading(each, seen) for each in readings)
        )
        for candidate in told:
            known = found.get(candidate.person.name)
            if known is None or known.score < candidate.score:
                found[candidate.person.name] = candidate
        if any(each.kin and not each.names for each in readings):
            # "Oma" is a word of its own, and nobody's misspelt name.
            found = {name: each for name, each in found.items() if not each.doubtful}
        best = max((each.fit for each in found.values()), default=0)
        worth = [each for each in found.values() if _is_worth_telling(each, best)]
        return tuple(sorted(worth, key=lambda each: (-each.score, each.person.name))[:_MOST])

    def _reading(self, reading: Said, seen: Seen) -> Iterator[Candidate]:
        if reading.whose:
            yield from self._of_somebody(reading, seen)
        elif reading.kin and not reading.names:
            yield from self._relatives(reading, reading.kin, seen)
        else:
            yield from self._named(reading, seen)

    def _teller(self, said: str, seen: Seen) -> Iterator[Candidate]:
        """Who says it, of "me" and "I"."""
        if seen.by in self.index.number and plain(said) in SELF_WORDS:
            yield self._candidate(self.index.number[seen.by], _SURELY, (Sentence("who tells it"),), seen)

    def _twins(self, said: str, seen: Seen) -> Iterator[Candidate]:
        """Twins of the family: those of who was named before, else the nearer the likelier."""
        if TWINS.isdisjoint(map(plain, words_of(said))):
            return
        for group in self._births:
            first, *others = (self.index.number[name] for name in group)
            ours = {*group, *self.index.relations.family.parents(group[0])}
            near = 1.0 if ours & set(seen.before) else float(self.index.near(seen.by)[[first, *others]].max())
            one = self._candidate(first, 0.9 + 0.06 * near, (Sentence("born on one day"),), seen)
            yield evolve(one, others=tuple(self.index.people[place] for place in others))

    # Relatives of somebody: "Nan's sister", "my father", "the children".

    def _of_somebody(self, reading: Said, seen: Seen) -> Iterator[Candidate]:
        assert reading.kin
        bases = self.find(reading.whose, evolve(seen, on=None, age=None))
        for base in bases[:5]:
            if base.fit < bases[0].fit - 0.15:
                continue
            for one in base.everybody:
                yield from self._relatives(reading, reading.kin, seen, anchor=one.name, trust=base.fit)

    def _relatives(
        self, reading: Said, kin: KinWord, seen: Seen, *, anchor: str | None = None, trust: float = 1.0
    ) -> Iterator[Candidate]:
        """Who is that to the anchor; with names, only who bears them counts fully."""
        start = anchor or self._anchor(reading.anchor, seen)
        related = self.index.relations.along(start, kin.ways) if start else ()
        places = [self.index.number[name] for name in related if name in self.index.number]
        if not places or start is None:
            return
        named = self._fits(reading) if reading.names else None
        told = []
        for place in places:
            fit = _SURELY * min(trust, 1.0) * (1.0 if named is None else named[place])
            named_so, doubtful = self._word_reasons(reading, place) if reading.names else ([], False)
            reasons = (kin_reason(kin.word, start), *named_so)
            told.append(self._candidate(place, fit, reasons, seen, doubtful=doubtful))
        if kin.several:
            alive = [each for each in told if each.fit >= 0.5] or told
            first, *rest = sorted(alive, key=lambda each: self._birth(each.person))
            yield evolve(first, others=tuple(each.person for each in rest), reasons=(first.reasons[0],))
        else:
            yield from told

    def _birth(self, person: Person) -> tuple[float, str]:
        return self.index.laid.born(self.index.number[person.name]), person.name

    def _anchor(self, anchor: str, seen: Seen) -> str | None:
        """Whose relative: the teller's, or that of who was named last and may be meant by "her" or "his"."""
        if anchor in ("male", "female", "any"):
            for name in reversed(seen.before):
                person = self.index.relations.people.get(name)
                if person and (anchor == "any" or person.sex in ("", anchor)):
                    return name
        return seen.by if anchor == ME or not seen.before else None

    # Names, with or without a title or a kinship: "J. Weber", "Frau Weber geb. Holm", "Uncle Joe".

    def _named(self, reading: Said, seen: Seen) -> Iterator[Candidate]:
        scored = self._scored(reading, seen)
        order = scored.fits * self.index.laid.living(seen.on, seen.age) + _NEAREST * self.index.near(seen.by)
        count = min(_LOOKED_AT, len(order))
        places = [int(place) for place in np.argpartition(-order, count - 1)[:count] if scored.fits[place] > 0.3]
        told = [self._told(scored, place, seen) for place in places]
        yield from self._of_generation(told, reading.generation) if reading.generation else told

    def _of_generation(self, told: list[Candidate], generation: Generation) -> Iterator[Candidate]:
        """With the eldest or the youngest of those who fit alike put first; which is meant stays a question."""
        best = max((each.fit for each in told), default=0)
        alike = [each for each in told if each.fit >= best - _ALIKE and np.isfinite(self._birth(each.person)[0])]
        pick = min if generation is Generation.ELDER else max
        meant = pick(alike, key=lambda each: self._birth(each.person), default=None)
        for each in told:
            if each is meant and len(alike) > 1:
                reasons = (*each.reasons, Sentence(_OF_SEVERAL[generation], count=len(alike)))
                yield evolve(each, score=each.score + _NEAREST, reasons=reasons)
            else:
                yield each

    def _told(self, scored: _Scored, place: int, seen: Seen) -> Candidate:
        reading = scored.reading
        reasons = [scored.kin[place]] if place in scored.kin else []
        doubtful = False
        if place in scored.wives:
            reasons.append(Sentence("married to %(name)s", name=self.index.people[scored.wives[place]].name))
        else:
            named_so, doubtful = self._word_reasons(reading, place)
            reasons += named_so
        grown = bool(reading.title and reading.title.sex)
        fit = float(scored.fits[place])
        return self._candidate(place, fit, reasons, seen, grown=grown, doubtful=doubtful)

    def _candidate(
        self,
        place: int,
        fit: float,
        reasons: Iterable[str],
        seen: Seen,
        *,
        grown: bool = False,
        doubtful: bool = False,
    ) -> Candidate:
        person = self.index.people[place]
        then = life_then(person, seen.on, life=self.index.laid.lives[place], grown=grown, age=seen.age)
        fit = round(float(fit) * then.factor, 4)
        near = float(self.index.near(seen.by)[place])
        told = tuple(dict.fromkeys(each for each in (*reasons, then.why) if each))
        return Candidate(person, fit, round(fit + _NEAREST * near, 4), told, (), doubtful, then.impossible)

    def _word_reasons(self, reading: Said, place: int) -> tuple[list[str], bool]:
        """Why the names of somebody fit, and whether a word of what was said is doubtful."""
        if place in self.index.called.plainly(_phrase(reading)):
            return [called_words(reading.phrase)], False
        fits = list(word_fits(reading, self.index.held[place], self.index))
        return list(word_reasons(reading, fits, self.index.called.spelt)), is_doubtful(fits)

    def _scored(self, reading: Said, seen: Seen) -> _Scored:
        fits = self._fits(reading)
        wives: dict[int, int] = {}
        if reading.title and reading.title.sex:
            if reading.title.sex == "female" and len(reading.names) > 1:
                wives = self._wives(fits)
            fits = fits * self.index.laid.of_sex(reading.title.sex)
            for wife, man in wives.items():
                fits[wife] = max(fits[wife], 0.97 * wives_fit(fits, man))
        if seen.lent and len(reading.names) == 1 and not reading.family:
            lent = np.mean([self.index.bearing(word, LAST) for word in seen.lent], axis=0)
            fits = fits * np.where(lent > 0.7, 1.0, 0.93)
        if _is_an_initial(reading):
            fits = fits * 0.84
        called = self.index.called.plainly(_phrase(reading))
        fits[list(called)] = np.maximum(fits[list(called)], 1.0) + 0.02
        written = self.index.called.written(reading.phrase)
        fits[list(written)] += 0.01  # with the same accents: first, but not clearly
        kin = self._kin_of(reading, seen, fits) if reading.kin else {}
        return _Scored(reading, fits, kin, wives)

    def _kin_of(self, reading: Said, seen: Seen, fits: Numbers) -> dict[int, str]:
        """Puts those forward to whom the kinship is true; who is only called uncle stays a little behind."""
        assert reading.kin
        sexes = {SEX_OF.get(way[-1], "") for way in reading.kin.ways}
        if len(sexes) == 1 and (sex := sexes.pop()):
            fits *= self.index.laid.of_sex(sex)
        start = self._anchor(reading.anchor, seen)
        related = self.index.relations.along(start, reading.kin.ways) if start else ()
        fits *= 0.94
        found: dict[int, str] = {}
        for name in related:
            if name in self.index.number and fits[place := self.index.number[name]] > 0.5:
                fits[place] = fits[place] / 0.94 + 0.06
                found[place] = kin_reason(reading.kin.word, start or "")
        return found

    def _wives(self, fits: Numbers) -> dict[int, int]:
        """The wives of men who fit: "Mrs Joseph Weber"."""
        found: dict[int, int] = {}
        for man in np.flatnonzero(fits > 0.75)[:200]:
            for name in self.index.relations.along(self.index.people[int(man)].name, ("W",)):
                if name in self.index.number:
                    found[self.index.number[name]] = int(man)
        return found

    def _fits(self, reading: Said) -> Numbers:
        """How well each person's names fit the words of a reading."""
        total, weights = np.zeros(len(self.index.people)), 0.0
        for word, parts, weight in weighed(reading):
            fit = self.index.bearing(word, parts)
            total += weight * np.where(fit > 0, fit, -0.12)
            weights += weight
        return np.maximum(total / weights, 0.0) if weights else total


def _is_worth_telling(candidate: Candidate, best: float) -> bool:
    """Whether somebody comes near: half as well as the best, or well but for the years."""
    return candidate.fit >= max(_WORTH_TELLING * best, 0.4) or (candidate.not_then and candidate.fit >= 0.4)


def _is_an_initial(reading: Said) -> bool:
    """Whether the title is a letter alone, "M. Weber": it may be an initial as well."""
    return bool(reading.title) and bool(re.match(r"\w\b", reading.phrase))


def wives_fit(fits: Numbers, man: int) -> float:
    """How well a husband fitted before his sex counted against him."""
    return float(fits[man]) / 0.55


def _phrase(reading: Said) -> str:
    return " ".join(word for word in map(plain, words_of(reading.phrase.replace("-", " "))) if word)
