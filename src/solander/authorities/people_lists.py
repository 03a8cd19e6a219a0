"""People from a table whose headings are in its first row, as relatives and programs write them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from attrs import evolve

from solander.authorities.dates_written import date_written
from solander.authorities.genealogy.names import called_between
from solander.authorities.tables import Row, Table, read_table
from solander.core.dates import parse_edtf
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.people import Name, NameKind
from solander.core.phrases.tokens import folded
from solander.core.sentence import Sentence
from solander.core.statements import Says
from solander.core.told import Telling, Told, ToldOf, name_value

__all__ = ["as_one", "is_people_table", "read_people_list", "set_apart"]

_HEADINGS = {
    "name": "name, full name, display name, person, who, wer, vollständiger name, nom complet",
    "given": "given name, given names, first name, first names, firstname, forename, vorname, prénom",
    "surname": "surname, last name, lastname, family name, nachname, familienname, zuname, nom de famille",
    "birth": "birth name, maiden name, née, nee, name at birth, geburtsname, mädchenname, nom de jeune fille",
    "married": "married name, ehename, nom d'épouse",
    "also_called": "also called, called, nickname, nicknames, known as, aliases, rufname, spitzname, surnom",
    "born": "born, birth, birth date, birthdate, date of birth, birthday, geboren, geburtsdatum, geburtstag, né",
    "born_at": "born at, born in, birthplace, birth place, place of birth, geburtsort, lieu de naissance",
    "died": "died, death, death date, date of death, d, gestorben, todesdatum, sterbedatum, décès",
    "died_at": "died at, died in, death place, place of death, sterbeort, lieu de décès",
    "sex": "sex, gender, geschlecht, sexe",
}
"""What stands at the head of columns; the words are from memory, English, German and French."""
_MEANT = {folded(word.strip()): what for what, words in _HEADINGS.items() for word in words.split(",")}
_SEXES = {
    **dict.fromkeys(("f", "female", "w", "weiblich", "woman", "girl", "frau", "femme", "féminin"), "female"),
    **dict.fromkeys(("m", "male", "männlich", "man", "boy", "mann", "homme", "masculin"), "male"),
}
_SAYS = {
    "also_called": Says.NAME,
    "born": Says.BORN,
    "born_at": Says.BORN_AT,
    "died": Says.DIED,
    "died_at": Says.DIED_AT,
    "sex": Says.SEX,
}


def is_people_table(first_line: str) -> bool:
    """Whether a line reads like the headings of a table of people."""
    words = {_meant(cell.strip().strip('"')) for cell in re.split(r"[,;\t]", first_line)}
    return bool(words & {"name", "given", "surname"})


def read_people_list(path: Path) -> Telling:
    """The people of a table; names in a cell of other names are parted by semicolons, dates are EDTF or in words.

    Raises
    ------
    CannotBegin
        When the file can't be read or has no column of names.
    """
    table = read_table(path)
    columns = {heading: meant for heading in table.headings if (meant := _meant(heading))}
    if not set(columns.values()) & {"name", "given", "surname"}:
        raise CannotBegin(
            Sentence("%(path)s has no column “name”", path=path.name),
            Sentence("its first line holds the headings"),
            Sentence("Add one and save again"),
        )
    people: list[ToldOf] = []
    set_aside: list[str] = []
    for row in table.rows:
        try:
            people.append(_person(row, columns))
        except InvalidValue as trouble:
            set_aside.append(f"{path.name}, {row.where}: {trouble.sentence}")
    one_each, apart = as_one(people)
    set_aside += [f"{path.name}, {set_apart(one)}" for one in apart]
    return Telling(
        path.name,
        one_each,
        covers=frozenset(_covered(columns)),
        set_aside=tuple(set_aside),
        remarks=tuple(_passed_over(table, columns, path.name)),
    )


def _meant(heading: str) -> str:
    return _MEANT.get(" ".join(re.sub(r"[_.:*?()-]+", " ", folded(heading)).split()), "")


def _covered(columns: Mapping[str, str]) -> set[Says]:
    names = {Says.NAME} if {"also_called", "birth", "married"} & set(columns.values()) else set()
    return names | {_SAYS[meant] for meant in columns.values() if meant in _SAYS}


def _passed_over(table: Table, columns: Mapping[str, str], name: str) -> Iterator[str]:
    for heading in dict.fromkeys(filter(None, table.headings)):
        if heading not in columns:
            yield Sentence(
                "The column “%(heading)s” of %(name)s is not known and was passed over.",
                heading=heading,
                name=name,
            )
        elif table.headings.count(heading) > 1:
            yield Sentence(
                "%(name)s has several columns “%(heading)s”; of each row the first that is filled was taken.",
                name=name,
                heading=heading,
            )


def _person(row: Row, columns: Mapping[str, str]) -> ToldOf:
    cells: dict[str, str] = {}
    for heading, meant in columns.items():
        cells.setdefault(meant, row.cells.get(heading, ""))
    if unsaved := [heading for heading in row.unsaved if heading in columns]:
        raise InvalidValue(
            Sentence("The cell under “%(unsaved)s” holds a formula without its result", unsaved=unsaved[0]),
            Sentence("the workbook was never calculated and saved"),
            Sentence("Open it in the spreadsheet, save it, and take it in again"),
        )
    name = cells.get("name") or f"{cells.get('given', '')} {cells.get('surname', '')}".strip()
    if not name:
        raise InvalidValue(Sentence("A row has no name"), "", Sentence("Fill in the column “name”"))
    names = list(_names(name, cells))
    told = (_main_name(name, cells), *names, *_facts(name, cells, columns))
    said = {claim.says for claim in told[1:] if claim.value}
    return ToldOf(name, name, told, where=row.where, silent=frozenset(_covered(columns) - said))


def _main_name(name: str, cells: Mapping[str, str]) -> Told:
    surname = cells.get("surname", "")
    return _named(Name(name, NameKind.OTHER, surname if surname in name else ""))


def _names(name: str, cells: Mapping[str, str]) -> Iterator[Told]:
    given = cells.get("given") or name.rpartition(" ")[0]
    for column, kind in (("birth", NameKind.BIRTH), ("married", NameKind.MARRIED)):
        if written := cells.get(column, ""):
            alone = " " not in written and given
            yield _named(Name(f"{given} {written}" if alone else written, kind, written if alone else ""))
    for called in (*called_between(name), *re.split(r"[;\n]", cells.get("also_called", ""))):
        if called.strip():
            yield _named(Name(called.strip(), NameKind.OTHER))


def _named(name: Name) -> Told:
    return Told(Says.NAME, name_value(name), name.text)


def _facts(name: str, cells: Mapping[str, str], columns: Mapping[str, str]) -> Iterator[Told]:
    as_written = {meant: heading for heading, meant in columns.items()}
    for column, says in _SAYS.items():
        written = cells.get(column, "")
        if not written or says is Says.NAME:
            continue
        if says in (Says.BORN, Says.DIED):
            where = Sentence(
                "“%(name)s”: “%(written)s” in the column “%(lower)s”",
                name=name,
                written=written,
                lower=as_written[column].lower(),
            )
            yield Told(says, date_written(written, where=where), written)
        elif says is not Says.SEX:
            yield Told(says, written)
        elif sex := _SEXES.get(folded(written), ""):
            yield Told(says, sex, written)


_ANOTHER_LIFE = 10
"""So many years between two births, and they are of two people, father and son perhaps; less may be a correction
(our choice)."""


def as_one(people: list[ToldOf]) -> tuple[tuple[ToldOf, ...], tuple[ToldOf, ...]]:
    """Lines of one name as one person: a later line adds, and goes before where both tell the same thing.

    Lines that tell of another life are of somebody else and come second: they are set aside.
    """
    found: dict[str, ToldOf] = {}
    apart: list[ToldOf] = []
    for one in people:
        before = found.get(one.key)
        if before and _are_two(before, one):
            apart.append(one)
            continue
        if before:
            own = {claim.says for claim in one.told} - {Says.NAME}
            kept = [claim for claim in before.told if claim.says not in own]
            told = tuple(dict.fromkeys((*kept, *one.told)))
            one = evolve(one, told=told, silent=one.silent & before.silent)
        found[one.key] = one
    return tuple(found.values()), tuple(apart)


def set_apart(one: ToldOf) -> str:
    """Why a line was set aside that is of another person of the same name."""
    return Sentence(
        "%(where)s: an earlier line tells of “%(name)s” with a birth more than %(years)s years apart. Give each "
        "a name of its own, with the year perhaps.",
        where=one.where,
        name=one.name,
        years=_ANOTHER_LIFE,
    )


def _are_two(one: ToldOf, other: ToldOf) -> bool:
    """Whether two lines of one name tell of births too far apart for one person."""
    births = [
        parse_edtf(claim.value).bounds()
        for claim in (*one.told, *other.told)
        if claim.says is Says.BORN and claim.value
    ]
    firsts, lasts = [born.earliest for born in births], [born.latest for born in births]
    if len(births) < 2 or None in firsts or None in lasts:
        return False
    return max(filter(None, firsts)) - min(filter(None, lasts)) > _ANOTHER_LIFE * 365
