"""What relatives are called, and the way through the tree to those whom a word means.

Tables for English, German, French and Spanish, and the nearest relatives in more languages, from memory. The way
is written in the letters of kinship studies (`kin_words/en.txt` names them): an uncle is `PB`, a parent's brother,
or `PZH`, the husband of a parent's sister.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files

from attrs import frozen

from solander.authorities.naming.spelling import plain, words_of

__all__ = ["KinWord", "kin_on_a_side", "kin_word", "kin_words", "without_side"]

_LANGUAGES = ("en", "de", "fr", "es", "others")

_GREAT = {"great", "ur", "arriere"}
_FOND = """
big little old older elder eldest younger youngest baby late dear dearest poor young own
lieber liebe alte alter junge junger kleine kleiner grosse grosser jungere alteste petit petite cher chere vieux
vieille ainee aine cadet cadette querido querida viejo vieja mayor menor pequeno pequena
"""
_FOND_WORDS = frozenset(_FOND.split())
"""What stands before a relative and tells nothing of who it is."""


@frozen
class KinWord:
    """A word for relatives: `ways` lead to them, `several` when it means all of them together."""

    word: str
    ways: tuple[str, ...]
    several: bool = False


@cache
def kin_words() -> Mapping[str, KinWord]:
    """All words, in plain letters with single spaces."""
    found: dict[str, KinWord] = {}
    for ways, word in _told():
        several = "+" in ways
        told = tuple(way for way in re.split(r"[|+]", ways) if way)
        known = found.get(word)
        if known and known.several == several:
            told = tuple(dict.fromkeys((*known.ways, *told)))
        found[word] = KinWord(word, told, several)
    return found


def _told() -> Iterator[tuple[str, str]]:
    for language in _LANGUAGES:
        for line in _lines(language):
            ways, _, said = line.partition(":")
            for word in _phrases(said):
                yield ways, word


def _lines(table: str) -> Iterator[str]:
    text = files("solander.authorities.naming").joinpath(f"kin_words/{table}.txt").read_text(encoding="utf-8")
    return (line for line in text.splitlines() if line and not line.startswith("#"))


_TOGETHER = re.compile(
    r"(?:mum|mom|father|mother|mama|papa|vater|oma|opa|brothers|frères) (?:and|und|et) (?:dad|mother|father|papa"
    r"|mutter|maman|opa|oma|sisters|sœurs)|(?:father|mother|parents|son|daughter|brother|sister) in law|in laws"
    r"|old man"
    r"|late (?:husband|wife)"
    r"|(?:step|great|grand|second|third) (?:father|mother|uncle|aunt|auntie|cousin|oncle|tante)"
    r"|(?:arrière )?(?:grand|petit|petite|petits|grands|beau|belle|beaux|bon|bonne) (?:père|mère|papa|maman|fils"
    r"|fille|enfants|parents|frère|sœur|soeur)|arrière (?:grand|petite?) (?:père|mère|fils|fille)"
    r"|t[íi][oa] abuel[oa]"
    r"|двоюродн\w+ \w+"
)
"""What stands as one word in the tables, though it is written as several."""


def _phrases(said: str) -> Iterator[str]:
    rest = said.strip()
    for found in _TOGETHER.findall(rest):
        yield _plain_phrase(found)
    for word in _TOGETHER.sub(" ", rest).split():
        yield _plain_phrase(word)


def _plain_phrase(said: str) -> str:
    return " ".join(plain(word) for word in words_of(said.replace("-", " ")))


def kin_word(words: tuple[str, ...]) -> KinWord | None:
    """What plain words mean as a relative: "great great aunt", "big brother", "ur oma"; None where nothing."""
    while len(words) > 1 and words[0] in _FOND_WORDS and " ".join(words) not in kin_words():
        words = words[1:]
    known = kin_words().get(" ".join(words))
    if known or not words:
        return known
    if len(words) > 1 and words[0] in _GREAT:
        nearer = kin_word(words[1:])
        return nearer and _farther(nearer, words)
    for joined in ("ur", "gross", "great"):
        rest = words[0].removeprefix(joined)
        if rest != words[0] and joined != "gross" and (nearer := kin_word((rest, *words[1:]))):
            return _farther(nearer, words)
    return None


_ON_A_SIDE = re.compile(
    r"(?P<rest>.+?) (?:on|from) (?:(?:my|our|his|her|their|the) )?(?P<side>mother|mum|mom|father|dad)s? side"
    r"|(?P<rest2>.+?) (?:du cote|por parte|per parte) (?:de |di )?(?P<side2>mere|madre|pere|padre)"
)
_MOTHERS = "mutterlicherseits maternal maternel maternelle materno materna mother mum mom mere madre"
_FATHERS = "vaterlicherseits paternal paternel paternelle paterno paterna father dad pere padre"
_SIDES = dict.fromkeys(_MOTHERS.split(), "M") | dict.fromkeys(_FATHERS.split(), "F")
"""In plain letters, from memory: on the mother's side (M) or the father's (F)."""


def without_side(words: list[str]) -> tuple[list[str], str]:
    """Plain words without "on mother's side", "maternal", "mütterlicherseits", and which side: M, F or empty."""
    if found := _ON_A_SIDE.fullmatch(" ".join(words)):
        return (found["rest"] or found["rest2"]).split(), _SIDES[found["side"] or found["side2"]]
    for place, word in enumerate(words):
        if word in _SIDES and word.endswith(("seits", "nal", "nel", "nelle", "no", "na")):
            return words[:place] + words[place + 1 :], _SIDES[word]
    return words, ""


def kin_on_a_side(kin: KinWord, side: str) -> KinWord | None:
    """The relatives of that word on the mother's side (M) or the father's (F); None where it has no sides."""
    ways = tuple(side + way[1:] for way in kin.ways if len(way) > 1 and way[0] in ("P", side))
    whose = "mother" if side == "M" else "father"
    return KinWord(f"{kin.word} on the {whose}'s side", ways, kin.several) if ways else None


def _farther(nearer: KinWord, words: tuple[str, ...]) -> KinWord:
    """One generation more: "great-uncle", "great-grandson", "great-nephew"."""
    return KinWord(" ".join(words), tuple(_one_more(way) for way in nearer.ways), nearer.several)


def _one_more(way: str) -> str:
    if way[0] in "GBZ":
        return f"{way[0]}C{way[1:]}"
    return f"P{way}" if way[0] in "PFM" else f"C{way}"
