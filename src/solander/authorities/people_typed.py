"""People from lines as somebody types them, one person a line: `Nan = Anna Weber, born 12 March 1921`.

Understood: nicknames before an equals sign, in quotes or in brackets; `née Moor`; years of life (`1881–1950`,
`*1881 †1950`, `b. 1881`, `born 12 March 1921`, `died about 1950`); and after a semicolon one more person with what
they are to the first (`her husband Joe Weber`). What stands behind # is left out. The words are English and
German, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from attrs import evolve

from solander.authorities.dates_written import date_written
from solander.authorities.genealogy.names import called_between
from solander.authorities.people_lists import as_one, set_apart
from solander.authorities.tables import text_of_list
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.kin import How
from solander.core.names_of_one import is_name_of_one
from solander.core.people import Name, NameKind
from solander.core.sentence import Sentence
from solander.core.statements import Says
from solander.core.told import Telling, Told, ToldKin, ToldOf, name_value

__all__ = ["read_typed_people"]

_FEW = 5
"""So many lines that are not understood are told one by one, however many are; our choice."""
_PARTNERS = "husband|wife|partner|spouse|mann|frau|ehemann|ehefrau"
_PARENTS = "mother|father|mum|dad|mutter|vater"
_CHILDREN = "son|daughter|child|sohn|tochter|kind"
_KIN = re.compile(
    rf"(?:her|his|their|ihr|ihre|sein|seine)\s+(?:(?P<partner>{_PARTNERS})|(?P<parent>{_PARENTS})|(?P<child>{_CHILDREN}))"
    r"\s*[:,]?\s+(?P<rest>\S.*)",
    re.IGNORECASE,
)
_SEX = {
    **dict.fromkeys(["husband", "mann", "ehemann", "father", "dad", "vater", "son", "sohn"], "male"),
    **dict.fromkeys(["wife", "frau", "ehefrau", "mother", "mum", "mutter", "daughter", "tochter"], "female"),
}
_YEAR = r"(?:c\.|ca\.?|about)?\s?\d{4}[~?]?"
_YEARS = re.compile(rf"(?P<born>{_YEAR})\s*[-–—]\s*(?P<died>{_YEAR})?|[-–—]\s*(?P<died_alone>{_YEAR})")
_BORN = re.compile(r"(?:\*|b\.|born|geb(?:oren)?\.?(?:\s+am)?)\s*(?P<date>.*\d.*|.*\?)", re.IGNORECASE)
_DIED = re.compile(r"(?:†|\+|d\.|died|gest(?:orben)?\.?(?:\s+am)?)\s*(?P<date>.*\d.*|.*\?)", re.IGNORECASE)
_BIRTH_NAME = re.compile(r"(?:née|nee|né|geb\.|geborene[r]?|born)\s+(?P<name>[^\W\d]\D*)", re.IGNORECASE)
_BETWEEN_FACTS = re.compile(
    r"\s*,\s*|\s+(?=[*†])|\s+(?=(?:née|nee|geb\.)\s)|\s+(?=(?:[bd]\.|gest\.|born|died|geboren|gestorben)\s\D*\d)"
)
_BRACKETED = re.compile(r"\(([^()]*\d[^()]*|\s*(?:née|nee|geb\.)\s[^()]*)\)")


def read_typed_people(path: Path) -> Telling:
    """The people of a typed list.

    Raises
    ------
    CannotBegin
        When the file can't be read, or holds nobody.
    """
    people: list[ToldOf] = []
    kin: list[tuple[str, ToldKin]] = []
    set_aside: list[str] = []
    for number, line in enumerate(text_of_list(path).splitlines(), 1):
        line = line.partition("#")[0].strip()
        if not line:
            continue
        try:
            told, ties = _line(line, Sentence("line %(number)s", number=number))
        except InvalidValue as trouble:
            set_aside.append(
                Sentence(
                    "%(path)s, line %(number)s: %(trouble)s",
                    path=path.name,
                    number=number,
                    trouble=trouble.sentence,
                )
            )
            continue
        people += told
        kin += [(Sentence("line %(number)s", number=number), tie) for tie in ties]
    if not people and not set_aside:
        raise CannotBegin(
            Sentence("%(path)s tells of nobody", path=path.name),
            Sentence("it has no line with a name"),
            Sentence("Write one person a line"),
        )
    if len(set_aside) > max(len(people), _FEW):
        raise CannotBegin(
            Sentence("%(path)s is no list of people", path=path.name),
            Sentence(
                "only %(count)s of its lines read like one person, %(others)s do not",
                count=len(people),
                others=len(set_aside),
            ),
            Sentence("Write one person a line, for instance Nan = Anna Weber, born 12 March 1921"),
        )
    one_each, apart = as_one(people)
    set_aside += [f"{path.name}, {set_apart(one)}" for one in apart]
    elsewhere = {one.where for one in apart}
    close = tuple(tie for where, tie in kin if where not in elsewhere)
    return Telling(path.name, one_each, close, set_aside=tuple(set_aside))


def _line(line: str, where: str) -> tuple[list[ToldOf], list[ToldKin]]:
    first, *others = (part.strip() for part in line.split(";") if part.strip())
    person = _person(first, where)
    people, kin = [person], []
    for other in others:
        found = _KIN.fullmatch(other)
        if found is None:
            raise InvalidValue(
                Sentence("“%(other)s” was not understood", other=other),
                Sentence("behind a semicolon stands one more person"),
                Sentence("Write for instance “; her husband Joe Weber”, or give the person a line"),
            )
        second = _person(found["rest"], where)
        word = (found["partner"] or found["parent"] or found["child"]).casefold()
        if sex := _SEX.get(word):
            second = evolve(second, told=(*second.told, Told(Says.SEX, sex, word)))
        people.append(second)
        kin.append(_tie(found, person.key, second.key))
    return people, kin


def _tie(found: re.Match[str], person: str, other: str) -> ToldKin:
    if found["partner"]:
        return ToldKin(person, How.PARTNER, other)
    return ToldKin(other, How.PARENT, person) if found["parent"] else ToldKin(person, How.PARENT, other)


def _person(said: str, where: str) -> ToldOf:
    called, _, rest = said.rpartition("=")
    bracketed = [found[1] for found in _BRACKETED.finditer(rest)]
    name, *facts = _parts(_BRACKETED.sub(" ", rest))
    facts += [part for each in bracketed for part in _parts(each)]
    nicknames = [*(each.strip(" \"'“”") for each in called.split("=")), *called_between(name)]
    name = " ".join(re.sub(r"[\"“”„«»][^\"“”„«»]*[\"“”„«»]|\([^()]*\)", " ", name).split())
    years = _YEARS.search(name)
    if years and name.endswith(years[0].strip()):
        name, facts = name[: years.start()].strip(), [years[0].strip(), *facts]
    if not re.search(r"[^\W\d_]", name):
        raise InvalidValue(
            Sentence("“%(said)s” has no name", said=said), "", Sentence("Begin the line with the name")
        )
    if not is_name_of_one(name):
        raise InvalidValue(
            Sentence("“%(name)s” does not read like the name of one person", name=name),
            "",
            Sentence("Write one person a line, names with capitals"),
        )
    told = [_named(Name(name)), *(_named(Name(each, NameKind.NICKNAME)) for each in nicknames if each)]
    for fact in facts:
        told += _fact(name, fact)
    return ToldOf(name, name, tuple(told), where=where)


def _parts(said: str) -> list[str]:
    return [part.strip() for part in _BETWEEN_FACTS.split(said.strip()) if part.strip()] or [""]


def _named(name: Name) -> Told:
    return Told(Says.NAME, name_value(name), name.text)


def _fact(name: str, said: str) -> Iterator[Told]:
    if found := _YEARS.fullmatch(said):
        if found["born"]:
            yield Told(Says.BORN, _date(name, found["born"]), found["born"])
        if died := found["died"] or found["died_alone"]:
            yield Told(Says.DIED, _date(name, died), died)
    elif (found := _BIRTH_NAME.fullmatch(said)) and found["name"][0].isupper():
        surname = found["name"].strip()
        alone = " " not in surname and " " in name
        text = f"{name.rpartition(' ')[0]} {surname}" if alone else surname
        yield _named(Name(text, NameKind.BIRTH, surname if alone else ""))
    elif found := _BORN.fullmatch(said):
        yield Told(Says.BORN, _date(name, found["date"]), found["date"])
    elif found := _DIED.fullmatch(said):
        yield Told(Says.DIED, _date(name, found["date"]), found["date"])
    else:
        raise InvalidValue(
            Sentence("“%(said)s” behind “%(name)s” was not understood", said=said, name=name),
            "",
            Sentence("Write for instance born 12 March 1921, died about 1950, 1881–1950 or née Moor"),
        )


def _date(name: str, said: str) -> str:
    plain = re.sub(r"^(?:c\.|ca\.?)\s?", "about ", said.strip())
    return date_written(plain, where=Sentence("“%(name)s”: the date “%(strip)s”", name=name, strip=said.strip()))
