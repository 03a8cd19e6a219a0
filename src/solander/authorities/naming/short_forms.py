"""Short and pet forms of given names, and one name in several languages.

English from the list "nicknames" (Apache-2.0, kept by hand) with a supplement; German, French, Spanish, Italian,
Dutch, Scandinavian, Polish and Russian from `short_forms/*.txt`, which are from memory.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from importlib.resources import files

from attrs import frozen
from nicknames import NickNamer

from solander.authorities.naming.spelling import plain, spellings

__all__ = ["GivenNames", "given_names"]

_LANGUAGES = ("en", "de", "fr", "es", "it", "nl", "nordic", "pl", "ru")

_SHORTENED = """
wm=william chas=charles thos=thomas jno=john geo=george jas=james robt=robert margt=margaret edw=edward
benj=benjamin saml=samuel richd=richard eliz=elizabeth alexr=alexander danl=daniel joh=johann fr=friedrich
mich=michael cath=catherine kath=katharina jos=joseph ma=maria fco=francisco anto=antonio
"""
_ABBREVIATED = dict(each.split("=") for each in _SHORTENED.split())
"""As clerks wrote them (common practice, no source)."""


@frozen
class GivenNames:
    """Full names by their short forms and the other way round, all in plain letters; `same` names what one name
    is in other languages."""

    full_of: Mapping[str, frozenset[str]]
    short_of: Mapping[str, frozenset[str]]
    same: Mapping[str, frozenset[str]]

    def related(self, name: str) -> dict[str, float]:
        """Names that may mean the same person as `name`, each with how close it is, 0 to 1.

        A short form and its full name .93; two short forms of one name .86; a short form and the name of the other
        sex ("Danny", Daniela) .84; one name in two languages .88, and the short form of one with the other .82.
        Our own scale, set so that nearer always comes first.
        """
        found: dict[str, float] = {}
        full = self.full_of.get(name, frozenset())
        for formal in full:
            _note(found, self.short_of[formal], 0.86)
            _note(found, self.same.get(formal, ()), 0.82)
            _note(found, _of_the_other_sex(formal), 0.84)
        for other in self.same.get(name, ()):
            _note(found, self.short_of.get(other, ()), 0.82)
        _note(found, self.same.get(name, ()), 0.88)
        _note(found, full, 0.93)
        _note(found, self.short_of.get(name, ()), 0.93)
        found.pop(name, None)
        return found

    @property
    def all_names(self) -> list[str]:
        """Every name that stands in a table."""
        return sorted({*self.full_of, *self.short_of, *self.same})


def _of_the_other_sex(name: str) -> tuple[str, ...]:
    """What a name may be for the other sex, whether it is one or not: "daniel", "daniela"."""
    stem = name[:-1] if name[-1] in "aeo" else name
    return tuple(stem + ending for ending in ("", "a", "e", "o", "ine", "ina") if stem + ending != name)


def _note(found: dict[str, float], names: Iterable[str], strength: float) -> None:
    for name in names:
        found[name] = max(found.get(name, 0), strength)


@cache
def given_names() -> GivenNames:
    """The tables of all languages together."""
    short_of: defaultdict[str, set[str]] = defaultdict(set)
    full_of: defaultdict[str, set[str]] = defaultdict(set)
    for full, shorts in (*_listed(), *_of_the_tables()):
        short_of[full] |= shorts - {full}
        for short in shorts - {full}:
            full_of[short].add(full)
    return GivenNames(_frozen(full_of), _frozen(short_of), _frozen(_same()))


def _listed() -> Iterator[tuple[str, set[str]]]:
    for full, shorts in NickNamer().nickname_lookup.items():
        yield plain(full), {plain(short) for short in shorts}
    for short, full in _ABBREVIATED.items():
        yield full, {short}


def _of_the_tables() -> Iterator[tuple[str, set[str]]]:
    for language in _LANGUAGES:
        for line in _lines(language):
            fulls, _, shorts = line.partition(":")
            told = {spelt for short in shorts.split() for spelt in spellings(short)}
            for full in fulls.split():
                for spelt in spellings(full):
                    yield spelt, told


def _same() -> defaultdict[str, set[str]]:
    found: defaultdict[str, set[str]] = defaultdict(set)
    for line in _lines("same_name"):
        names = {spelt for name in line.split() for spelt in spellings(name)}
        for name in names:
            found[name] |= names - {name}
    return found


def _lines(table: str) -> Iterator[str]:
    text = files("solander.authorities.naming").joinpath(f"short_forms/{table}.txt").read_text(encoding="utf-8")
    return (line for line in text.splitlines() if line and not line.startswith("#"))


def _frozen(table: Mapping[str, set[str]]) -> dict[str, frozenset[str]]:
    return {name: frozenset(others) for name, others in table.items()}
