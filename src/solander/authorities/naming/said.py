"""What somebody said of one person, taken apart: title, kinship, given and family names, the name at birth."""

from __future__ import annotations

import re
from collections.abc import Iterator

from attrs import evolve, field, frozen

from solander.authorities.naming.address import (
    Generation,
    Title,
    generation_behind,
    generation_of,
    title_of,
    without_suffix,
)
from solander.authorities.naming.kinship import KinWord, kin_on_a_side, kin_word, without_side
from solander.authorities.naming.spelling import plain, words_of

__all__ = ["ME", "OWN_WORDS", "PARTICLES", "SELF_WORDS", "Said", "named", "readings_of"]

ME = "me"
"""The anchor of "my": the one from whom the tree is seen."""

_MY = """
my our mein meine meiner meinem meinen unser unsere mon ma mes notre nos mi mis mio mia nuestro nuestra mijn min
mitt moj moja moy moya
"""
_HER = "her ihr ihre ihrem ihrer ihren haar hennes hendes hennar"
_HIS = "his sein seine seinem seiner seinen zijn"
_THEIR = "their leur leurs son sa ses su sus suo sua deres"
OWN_WORDS = {
    word: anchor
    for words, anchor in ((_MY, ME), (_HER, "female"), (_HIS, "male"), (_THEIR, "any"))
    for word in words.split()
}
"""Whose a relative is: the teller's, or that of the man, the woman, the person named before."""

_SELF = "i me myself ich mich selbst moi yo ik jeg jag ja ya"
SELF_WORDS = frozenset(_SELF.split())
"""How tellers name themselves, in plain letters; from memory."""

_SMALL = """
von van de der den des di da dos do del della du la le las los el ten ter te zu zum zur af av til und y i e
of saint st san the
"""
PARTICLES = frozenset(_SMALL.split())
"""Small words in surnames, which are left out by one and kept by another."""

_BORN = re.compile(
    r"[\s,(]+(?:n[ée]e|geb(?:\.|oren)?e?|born|nacida|nata|z domu|f\.|född|født|fødd|урожд\w*\.?|rozená)\s+",
    re.IGNORECASE,
)
_MARRIED = re.compile(
    r"[\s,(]+(?:verh(?:\.|eiratete)|later|sp(?:ä|ae)ter|married|verw(?:\.|itwete)|gift)\s+", re.IGNORECASE
)
_OF = (
    re.compile(r"(?P<whose>.+?)(?:['’´`]s|(?<=s)['’´`])\s+(?P<who>.+)", re.IGNORECASE),
    re.compile(
        r"(?:(?:the|der|die|das|le|la|les|el|los|las|il|lo|de|het)\s+|l['’])?(?P<who>[^\W\d_][\w\s'’-]*?)\s+"
        r"(?:of|von|vom|de la|del|de|du|des|di|della|van)\s+(?P<whose>.+)",
        re.IGNORECASE,
    ),
    re.compile(
        r"(?:(?:the|le|la|les|el)\s+|l['’])?(?P<who>[^\W\d_][\w\s-]*?)\s+d['’](?P<whose>.+)", re.IGNORECASE
    ),
    re.compile(r"(?P<whose>\S+?)s\s+(?P<who>\S.*)", re.IGNORECASE),
)
"""Whose relative is meant: "Nan's sister", "die Schwester von Oma", "la sœur de Mamie", "Omas Schwester"."""

_BRACKETED = re.compile(r"(?P<name>[^()]+?)\s*\(\s*(?P<who>[^()]+?)\s*\)")

_THE = "the der die das den dem le la les el los las il lo gli de het een an"
_ARTICLES = frozenset(_THE.split())


@frozen
class Said:
    """One way to take what was said. All words are plain.

    `names` are given and family names in their order; `family` says of the last that it is a family name;
    `maiden` and `married` are what stood behind "née" and "later". `kin` is what the person is to the `anchor`:
    `ME`, a sex for who was named before, or empty; or to `whose`, words that name somebody else. `generation`
    tells which of two who are called alike.
    """

    names: tuple[str, ...] = ()
    family: bool = False
    maiden: tuple[str, ...] = ()
    married: tuple[str, ...] = ()
    title: Title | None = None
    kin: KinWord | None = None
    anchor: str = ""
    whose: str = ""
    generation: Generation | None = None
    phrase: str = field(default="")


def readings_of(said: str) -> list[Said]:
    """The ways to take what was said of one person, the most literal first."""
    said = said.strip(' ,;.:\t\n"“”„«»')
    by_name = (*_with_initial(said), named(said), *_of_a_generation(said))
    explained = [*_explained(said)]
    found = explained or [*_of_somebody(said)] or [*_relatives(said), *by_name]
    if explained or title_of(plain(said.partition(" ")[0])):
        found += by_name  # "Anna (Nan)" is called so, and "Frau von Holm" is her name as well as his wife
    return list(dict.fromkeys(each for each in found if each.names or each.kin))


def _of_somebody(said: str) -> Iterator[Said]:
    for form in _OF:
        told = form.fullmatch(said)
        if told and ((word := plain(told["whose"] + "s")) in OWN_WORDS or title_of(word)):
            continue  # "his brother" is no brother of "Hi", nor "Mrs Mari" a relative of "Mr"
        if told and (relative := _kin_then_name(_plain_words(told["who"]))):
            kin, names = relative
            yield Said(names, kin=kin, whose=told["whose"], phrase=said)
            return


def _relatives(said: str) -> Iterator[Said]:
    """ "Nan", "Uncle Joe", "my father", "her brother Tom"."""
    words = _plain_words(said)
    anchor = OWN_WORDS.get(words[0], "") if words else ""
    relative = _kin_then_name(words[1:] if anchor else words)
    if relative:
        kin, names = relative
        if names and not anchor and title_of(words[0]):
            return  # "Frau Weber" is a form of address and nobody's wife
        if not names or names[0] not in PARTICLES:
            yield Said(names, kin=kin, anchor=anchor or ME, phrase=said)
    elif not anchor and len(words) == 2 and words[0][-1] != "s" and (kin_behind := kin_word((words[1],))):
        yield Said((words[0],), kin=kin_behind, anchor=ME, phrase=said)  # "Lisbeth Oma", "Joe Onkel"


def _kin_then_name(words: list[str]) -> tuple[KinWord, tuple[str, ...]] | None:
    words, side = without_side([word for place, word in enumerate(words) if place or word not in _ARTICLES])
    for length in range(min(len(words), 5), 0, -1):
        kin = kin_word(tuple(words[:length]))
        if kin and side:
            kin = kin_on_a_side(kin, side)
        if kin:
            return kin, tuple(without_suffix(words[length:]))
    return None


def _explained(said: str) -> Iterator[Said]:
    """ "Nan (my mother)": a name, and in brackets who that is."""
    if found := _BRACKETED.fullmatch(said):
        for relative in (*_of_somebody(found["who"]), *_relatives(found["who"])):
            if relative.kin and not relative.names:
                yield evolve(relative, names=named(found["name"]).names, phrase=said)


def _with_initial(said: str) -> Iterator[Said]:
    """ "M. Weber" may be Monsieur Weber or Maria: what is a title by its letter alone is an initial as well."""
    words = _plain_words(said)
    if len(words) > 1 and len(words[0]) == 1 and title_of(words[0]):
        yield named(said, titles=False)


def _of_a_generation(said: str) -> Iterator[Said]:
    """ "Old Tom", "little Anna": the word before the name may be a name as well, so this is one more reading."""
    first, _, rest = said.partition(" ")
    if plain(first) in _ARTICLES:
        first, _, rest = rest.partition(" ")
    if rest and (generation := generation_of(plain(first))):
        yield evolve(named(rest), generation=generation, phrase=said)


def named(said: str, *, titles: bool = True) -> Said:
    """A name: with titles before it, and the name at birth behind it."""
    rest, maiden = _split(_BORN, said)
    rest, married = _split(_MARRIED, rest)
    if "(" in rest and rest.rstrip().endswith(")"):
        rest, _, bracket = rest.rstrip(" )").partition("(")
        maiden = maiden or tuple(_plain_words(bracket))
    words = _plain_words(rest.replace("-", " "))
    title: Title | None = None
    while titles and len(words) > 1 and (found := title_of(words[0])):
        title = found if title is None or found.sex else title
        words = words[1:]
    generation = generation_behind(words)
    words = without_suffix(
        [word for place, word in enumerate(words) if place or word not in _ARTICLES or len(words) == 1]
    )
    small = PARTICLES if title or rest.strip()[:1].islower() else frozenset[str]()
    first = tuple(word for word in words[:1] if word not in small)  # "Di Graham" begins with a name, "Frau di" not
    names = first + tuple(word for word in words[1:] if word not in PARTICLES) or tuple(words)
    family = len(names) > 1 or bool(title and title.surname_follows)
    return Said(names, family, maiden, married, title, generation=generation, phrase=said)


def _split(form: re.Pattern[str], said: str) -> tuple[str, tuple[str, ...]]:
    parts = form.split(said, maxsplit=1)
    if len(parts) == 1:
        return said, ()
    behind = [word for word in _plain_words(parts[1]) if word not in PARTICLES]
    return parts[0], tuple(behind)


def _plain_words(text: str) -> list[str]:
    spread = re.sub(r"(?<=\w)-(?=\w)", " ", text)
    apart = re.sub(r"\b(\w)\.(?=\w)", r"\1. ", spread)
    return [word for word in (plain(each) for each in words_of(apart)) if word]
