"""Invented family trees, and ways in which people are spoken of: an examination that knows nothing of the finder.

Names: given names with their countries and short forms from `nam_dict.txt` (J. Michael, GNU FDL 1.2, in the
package gender-guesser), surnames and Russian names from Faker. Corruptions:

* slips of the finger: a neighbouring key of the QWERTY board, a letter left out, doubled, or two changed over
  (the four single errors of F. J. Damerau, 1964);
* misreadings: "Commonly Misread Letters", FamilySearch Research Wiki, Spelling Substitution Tables for the United
  States and Canada, single lower-case letters, as read in November 2026;
* mishearings: "Table of Substitutes" of old spelling books (edsanders.com, phonics), letters that stand for one
  sound, as read in November 2026, those that stand for the sound in any place of a name.
* Cyrillic names are said as passports write them (ICAO Doc 9303, from memory).
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Callable, Iterator
from functools import cache
from importlib.resources import files

from attrs import field, frozen

from solander.core.kin import Family, How, Kin
from solander.core.people import Name, NameKind, Person

_COLUMNS = {
    "en_GB": 30, "it_IT": 33, "es_ES": 36, "fr_FR": 37, "nl_NL": 40, "de_DE": 42, "da_DK": 46, "no_NO": 47,
    "sv_SE": 48, "pl_PL": 53,
}  # fmt: skip
LOCALES = (*_COLUMNS, "ru_RU")


@cache
def _lines() -> tuple[str, ...]:
    text = files("gender_guesser").joinpath("data/nam_dict.txt").read_text(encoding="utf-8")
    return tuple(line for line in text.splitlines() if line[:1] in "MF1?=" and line[29:30] != "+")


@cache
def given_names(locale: str, sex: str) -> tuple[list[str], list[int]]:
    """Given names of a country and sex, and how common each is (1 to 13, doubling)."""
    found: dict[str, int] = {}
    for line in _lines():
        common = line[_COLUMNS[locale] : _COLUMNS[locale] + 1].strip()
        if line[:2] == ("M " if sex == "male" else "F ") and common and "+" not in line[3:29]:
            name = line[3:29].strip()
            if name.isalpha() and len(name) > 2:
                found[name] = 2 ** (int(common, 16) // 2)
    return list(found), list(found.values())


@cache
def short_forms() -> dict[str, tuple[str, ...]]:
    """Full names with their short forms, as the list of equivalent names has them."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for line in _lines():
        if line[0] == "=":
            short, _, full = line[3:29].strip().partition(" ")
            if full.strip().isalpha():
                found[full.strip()].append(short)
    return {full: tuple(dict.fromkeys(shorts)) for full, shorts in found.items()}


@frozen
class Sitter:
    """An invented person with what the tree alone does not say."""

    person: Person
    given: str
    surname: str
    year: int
    locale: str
    married: str = ""

    def lived_in(self, first: int, last: int) -> bool:
        """Whether the life touches the years."""
        return self.year <= last and int(self.person.died or "2030") >= first


@frozen
class Tree:
    """Invented people, most of them of large families."""

    sitters: tuple[Sitter, ...]
    kin: tuple[Kin, ...]
    tellers: tuple[str, ...]
    family: Family = field()
    by_name: dict[str, Sitter] = field()

    @family.default
    def _family(self) -> Family:
        return Family(self.kin)

    @by_name.default
    def _by_name(self) -> dict[str, Sitter]:
        return {sitter.person.name: sitter for sitter in self.sitters}

    @property
    def people(self) -> list[Person]:
        return [sitter.person for sitter in self.sitters]


class _Grower:
    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        from faker import Faker  # it takes its time, also where these tests are only found and left out

        self.fakers = {locale: Faker(locale) for locale in LOCALES}
        for faker in self.fakers.values():
            faker.seed_instance(seed)
        self.sitters: list[Sitter] = []
        self.kin: list[Kin] = []
        self.taken: set[str] = set()
        self.places: dict[str, int] = {}

    def surname(self, locale: str) -> str:
        return str(
            self.fakers[locale].last_name_male()
            if locale in ("ru_RU", "pl_PL")
            else self.fakers[locale].last_name()
        )

    def given(self, locale: str, sex: str) -> str:
        if locale == "ru_RU":
            faker = self.fakers[locale]
            return str(faker.first_name_male() if sex == "male" else faker.first_name_female())
        names, weights = given_names(locale, sex)
        return self.chance.choices(names, weights)[0]

    def born(self, locale: str, sex: str, surname: str, year: int) -> Sitter:
        given = self.given(locale, sex)
        text = f"{given} {surname}"
        died = year + self.chance.choice((24, 48, 61, 67, 72, 75, 78, 80, 83, 88, 93))
        heading = text if text not in self.taken else f"{text}, {year}–{died}"
        while heading in self.taken:
            year += 1
            heading = f"{text}, {year}–{died}"
        self.taken.add(heading)
        day = f"{year}-{self.chance.randint(1, 12):02}-{self.chance.randint(1, 28):02}"
        names = (Name(text, NameKind.BIRTH, surname),)
        person = Person(heading, born=day, died=str(died) if died < 2020 else "", sex=sex, names=names)
        sitter = Sitter(person, given, surname, year, locale)
        self.places[heading] = len(self.sitters)
        self.sitters.append(sitter)
        return sitter

    def marry(self, man: Sitter, woman: Sitter) -> None:
        """Half of all records say the wife's married name; the other half leave it to the tree."""
        self.kin.append(Kin.partners(man.person.name, woman.person.name))
        place = self.places[woman.person.name]
        person = woman.person
        if self.chance.random() < 0.5:
            names = (*person.names, Name(f"{woman.given} {man.surname}", NameKind.MARRIED, man.surname))
            person = Person(person.name, born=person.born, died=person.died, sex=person.sex, names=names)
        self.sitters[place] = Sitter(person, woman.given, woman.surname, woman.year, woman.locale, man.surname)

    def descend(self, man: Sitter, woman: Sitter, generations: int) -> None:
        self.marry(man, woman)
        for _ in range(self.chance.randint(1, 5)):
            sex = self.chance.choice(("male", "female"))
            year = max(man.year, woman.year) + self.chance.randint(20, 38)
            child = self.born(man.locale, sex, man.surname, year)
            self.kin += [Kin(parent.person.name, How.PARENT, child.person.name) for parent in (man, woman)]
            if generations > 1 and self.chance.random() < 0.75:
                other = "female" if sex == "male" else "male"
                locale = man.locale if self.chance.random() < 0.8 else self.chance.choice(LOCALES)
                partner = self.born(locale, other, self.surname(locale), year + self.chance.randint(-6, 6))
                pair = (child, partner) if sex == "male" else (partner, child)
                self.descend(*pair, generations - 1)


def tree(seed: int, size: int) -> Tree:
    """A tree of about `size` people, the same for the same seed."""
    grower = _Grower(seed)
    while len(grower.sitters) < size:
        locale = grower.chance.choice(LOCALES)
        year = grower.chance.randint(1835, 1900)
        man = grower.born(locale, "male", grower.surname(locale), year)
        woman = grower.born(locale, "female", grower.surname(locale), year + grower.chance.randint(-5, 5))
        grower.descend(man, woman, 4)
    family = Family(grower.kin)
    grown = [one.person.name for one in grower.sitters if len(family.siblings(one.person.name)) > 1]
    uncled = [name for name in grown if any(len(family.siblings(each)) > 1 for each in family.parents(name))]
    return Tree(tuple(grower.sitters), tuple(grower.kin), tuple(uncled))


# Corruptions.

_KEYS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
_NEIGHBOURS = {
    key: [near for other, keys in enumerate(_KEYS) for at, near in enumerate(keys)
          if near != key and abs(other - row) <= 1 and -1 <= at - place + (other - row) * 0.5 <= 1]
    for row, line in enumerate(_KEYS) for place, key in enumerate(line)
}  # fmt: skip

_LETTERS_MISREAD = """
a=ounw b=lth c=eiou d=uano e=ic f=sjgqt g=yzqf h=k i=ecl j=ygfqz k=h l=eit m=w n=uaowm o=aun p=gkf r=esia s=riec
t=lfi u=aonw v=unbsro w=m y=gqjzp z=gqyjp
"""
_MISREAD = dict(line.split("=") for line in _LETTERS_MISREAD.split())

_SUBSTITUTES = """
ei=a ey=a ai=e i=y y=i ee=i ie=i ew=u ph=f f=ph c=k ch=k k=c q=k x=ks ks=x s=z z=s ow=ou ou=ow oo=u au=o g=j v=ph
sch=sh sh=sch
"""
_MISHEARD = [tuple(pair.split("=")) for pair in _SUBSTITUTES.split()]
"""Both ways where the table's letters stand for each other; sch for sh is from memory."""

_ICAO = "a b v g d e e zh z i i k l m n o p r s t u f kh ts ch sh shch ie y _ e iu ia"
_PASSPORT = dict(zip("абвгдеёжзийклмнопрстуфхцчшщъыьэюя", _ICAO.split(), strict=True))


def slip_of_the_finger(chance: random.Random, word: str) -> str:
    place = chance.randrange(1, len(word))
    letter = word[place].lower()
    kind = chance.choice(("near", "left out", "doubled", "changed over"))
    if kind == "near" and letter in _NEIGHBOURS:
        return word[:place] + chance.choice(_NEIGHBOURS[letter]) + word[place + 1 :]
    if kind == "left out":
        return word[:place] + word[place + 1 :]
    if kind == "changed over" and place + 1 < len(word) and word[place] != word[place + 1]:
        return word[:place] + word[place + 1] + word[place] + word[place + 2 :]
    return word[:place] + word[place] + word[place:]


def misread(chance: random.Random, word: str) -> str:
    places = [place for place in range(1, len(word)) if word[place] in _MISREAD]
    if not places:
        return word
    place = chance.choice(places)
    return word[:place] + chance.choice(_MISREAD[word[place]]) + word[place + 1 :]


def misheard(chance: random.Random, word: str) -> str:
    lower = word.lower()
    ways = [(place, heard, other) for heard, other in _MISHEARD for place in range(len(lower))
            if lower.startswith(heard, place)]  # fmt: skip
    if not ways:
        return word
    place, heard, other = chance.choice(ways)
    return (lower[:place] + other + lower[place + len(heard) :]).capitalize()


def in_latin(word: str) -> str:
    return "".join(_PASSPORT.get(letter, letter) for letter in word.lower()).replace("_", "").capitalize()


# What is said.


@frozen
class Case:
    """`said` of one person, `meant`; `kind` groups the cases, `on` is the date of the print, `by` who says it."""

    kind: str
    said: str
    meant: str
    on: str = ""
    by: str = ""


_Say = Callable[["Examiner", Sitter], str]


class Examiner:
    """Says things of people of a tree; only what fits one person alone by what the tree knows is a case."""

    def __init__(self, tree: Tree, seed: int) -> None:
        self.tree, self.chance, self.teller = tree, random.Random(seed), ""
        self.bearers: defaultdict[tuple[str, str], set[str]] = defaultdict(set)
        for one in tree.sitters:
            for surname in {one.surname, one.married} - {""}:
                self.bearers[one.given, surname].add(one.person.name)
                self.bearers[one.given[0], surname].add(one.person.name)
                for short in short_forms().get(one.given, ()):
                    self.bearers[short, surname].add(one.person.name)

    def cases(self, each: int) -> Iterator[Case]:
        """So many cases of each kind."""
        for kind, say in _KINDS.items():
            made, tries = 0, 0
            while made < each and tries < each * 400:
                tries += 1
                self.teller = self.chance.choice(self.tree.tellers)
                one = self._one(kind)
                said = say(self, one)
                if said:
                    made += 1
                    by = self.teller if kind == "relative" else ""
                    yield Case(kind, said, one.person.name, str(one.year + self.chance.randint(16, 22)), by)

    def _one(self, kind: str) -> Sitter:
        if kind != "relative":
            return self.chance.choice(self.tree.sitters)
        family = self.tree.family
        near = [*family.parents(self.teller), *family.siblings(self.teller)]
        near += [uncle for parent in family.parents(self.teller) for uncle in family.siblings(parent)]
        return self.tree.by_name[self.chance.choice(near)]

    def alone(self, given: str, surname: str) -> bool:
        return len(self.bearers[given, surname]) == 1

    def called(self, one: Sitter) -> str:
        """The surname that one goes by."""
        return one.married or one.surname

    def latin(self, one: Sitter) -> bool:
        return one.locale != "ru_RU" and (one.given + self.called(one)).replace(" ", "").isalpha()


def _plain_name(by: Examiner, one: Sitter) -> str:
    return f"{one.given} {by.called(one)}" if by.alone(one.given, by.called(one)) else ""


def _short(by: Examiner, one: Sitter) -> str:
    shorts = short_forms().get(one.given, ())
    short = by.chance.choice(shorts) if shorts else ""
    return f"{short} {by.called(one)}" if short and by.alone(short, by.called(one)) else ""


def _corrupt(how: Callable[[random.Random, str], str]) -> _Say:
    def say(by: Examiner, one: Sitter) -> str:
        given, surname = one.given, by.called(one)
        if not (by.latin(one) and by.alone(given, surname) and len(given) > 3 and len(surname) > 4):
            return ""
        if by.chance.random() < 0.6:
            wrong = f"{given} {how(by.chance, surname)}"
        else:
            wrong = f"{how(by.chance, given)} {surname}"
        return wrong if wrong != f"{given} {surname}" else ""

    return say


def _initials(by: Examiner, one: Sitter) -> str:
    return f"{one.given[0]}. {by.called(one)}" if by.alone(one.given[0], by.called(one)) else ""


def _born_and_married(by: Examiner, one: Sitter) -> str:
    if not one.married or one.locale == "ru_RU":
        return ""
    wives = [each for each in by.tree.sitters if each.married == one.married and each.surname == one.surname]
    if len(wives) > 1:
        return ""
    return by.chance.choice((
        f"Mrs {one.married} née {one.surname}", f"Frau {one.married} geb. {one.surname}",
        f"{one.given} née {one.surname}", f"{one.given} {one.married} ({one.surname})",
    )) if by.alone(one.given, one.surname) else ""  # fmt: skip


def _wife_of(by: Examiner, one: Sitter) -> str:
    men = by.tree.family.partners(one.person.name)
    if not one.married or len(men) != 1 or len(by.tree.family.partners(men[0])) != 1:
        return ""
    man = by.tree.by_name[men[0]]
    return f"Mrs {man.given} {man.surname}" if by.alone(man.given, man.surname) else ""


_DIGRAPHS = {"ä": "ae", "ö": "oe", "ü": "ue", "ø": "oe", "å": "aa", "æ": "ae", "ß": "ss"}
_BARE = dict(zip("äöüøåłśńóżźćąęéèçñíáúïëêô", "aouoalsnozzcaeeecniauieeo", strict=True)) | {"æ": "ae", "ß": "ss"}


def _accents_lost(by: Examiner, one: Sitter) -> str:
    name = f"{one.given} {by.called(one)}"
    if name.isascii() or one.locale == "ru_RU" or not by.alone(one.given, by.called(one)):
        return ""
    table = _DIGRAPHS if by.chance.random() < 0.5 and set(name.lower()) & set(_DIGRAPHS) else _BARE
    bare = {**table, **{letter.upper(): other.capitalize() for letter, other in table.items()}}
    said = "".join(bare.get(letter, letter) for letter in name)
    return said if said.isascii() else ""


def _other_letters(by: Examiner, one: Sitter) -> str:
    if one.locale != "ru_RU" or not by.alone(one.given, by.called(one)):
        return ""
    return f"{in_latin(one.given)} {in_latin(by.called(one))}"


def _relative(by: Examiner, one: Sitter) -> str:
    family, teller, name = by.tree.family, by.teller, one.person.name
    female = one.person.sex == "female"
    parents = family.parents(teller)
    if name in parents:
        return "my mother" if female else "mein Vater"
    for parent in parents:
        if name in family.siblings(parent):
            shorts = short_forms().get(one.given, (one.given,))
            kin = ("Aunt", "Tante", "my aunt") if female else ("Uncle", "Onkel", "my uncle")
            return f"{by.chance.choice(kin)} {by.chance.choice(shorts)}"
    if name in family.siblings(teller):
        return f"my {'sister' if female else 'brother'} {one.given}"
    return ""


def _of_somebody(by: Examiner, one: Sitter) -> str:
    family, name = by.tree.family, one.person.name
    female = one.person.sex == "female"
    for other in (*family.siblings(name), *family.parents(name), *family.partners(name)):
        them = by.tree.by_name[other]
        if not by.alone(them.given, them.surname) or them.locale == "ru_RU":
            continue
        like = [each for each in family.siblings(other) if by.tree.by_name[each].person.sex == one.person.sex]
        if name in family.siblings(other) and len(like) == 1:
            return f"{them.given} {them.surname}'s {'sister' if female else 'brother'}"
        if name in family.partners(other) and len(family.partners(other)) == 1:
            return f"{them.given} {them.surname}'s {'wife' if female else 'husband'}"
        same = [each for each in family.children(other) if by.tree.by_name[each].person.sex == one.person.sex]
        if name in family.children(other) and len(same) == 1:
            return f"{them.given} {them.surname}'s {'daughter' if female else 'son'}"
    return ""


def _alive_then(by: Examiner, one: Sitter) -> str:
    """One of two or more of one name, the only one who lived then."""
    bearers = by.bearers[one.given, one.surname]
    first, last = one.year + 15, one.year + 23
    alive = [name for name in bearers if by.tree.by_name[name].lived_in(first, last)]
    return f"{one.given} {one.surname}" if len(bearers) > 1 and alive == [one.person.name] else ""


_KINDS: dict[str, _Say] = {
    "the name": _plain_name,
    "short form": _short,
    "mistyped": _corrupt(slip_of_the_finger),
    "misread": _corrupt(misread),
    "misheard": _corrupt(misheard),
    "initials": _initials,
    "born and married": _born_and_married,
    "wife of": _wife_of,
    "accents": _accents_lost,
    "other letters": _other_letters,
    "relative": _relative,
    "of somebody": _of_somebody,
    "alive then": _alive_then,
}
