"""Writes a family-tree file of any size, of invented people: what taking people in is measured on.

    .venv/bin/python benchmarks/make_tree.py 100000 /tmp/tree.ged

Families grow over generations from couples of the year 1760 on, so that parents, partners, brothers and sisters,
name-sakes and second marriages come in the numbers in which they come in a large tree. Names are put together from
syllables and belong to nobody. The same size and seed give the same file.
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Iterator
from pathlib import Path

from attrs import define, field

_MONTHS = ["JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"]
_BEGIN = "Al Bre Cor Dag El Fen Gor Hal Ing Jor Kel Lun Mar Nor Ost Per Quil Ros Sel Tor Ul Ver Wil Yn Zel"
_WOMEN = ["a", "ine", "wyn", "ild", "ora", "ett", "issa", "una"]
_MEN = ["an", "or", "ric", "ulf", "o", "ert", "win", "mund"]
_LAND = "berg feld vik stad moor wick holm rup ton brook haven dorf gard sund low"
_FIRST_YEAR, _LAST_YEAR = 1760, 2020


@define
class Someone:
    """One invented person; numbers of families, 0 for none."""

    number: int
    sex: str
    given: str
    surname: str
    born: int
    child_in: int = 0
    married_in: list[int] = field(factory=list)


@define
class Couple:
    """Two people and their children, by number."""

    number: int
    man: int
    woman: int
    year: int
    children: list[int] = field(factory=list)


class Tree:
    """People and couples, grown until there are enough."""

    def __init__(self, size: int, seed: int = 1) -> None:
        self.chance = random.Random(seed)
        self.people: list[Someone] = []
        self.couples: list[Couple] = []
        free: list[Someone] = []
        while len(self.people) < size:
            free = free or [self._born(self.chance.randint(_FIRST_YEAR, 1800)) for _ in range(40)]
            someone = free.pop(0)
            if someone.born < _LAST_YEAR - 20 and self.chance.random() < 0.8:
                free += self._family(someone, size)

    def _born(self, year: int, sex: str = "", surname: str = "", child_in: int = 0) -> Someone:
        sex = sex or self.chance.choice("MF")
        ends = _MEN if sex == "M" else _WOMEN
        names = " ".join(
            self.chance.choice(_BEGIN.split()) + self.chance.choice(ends)
            for _ in range(self.chance.choice((1, 1, 2)))
        )
        family = surname or self.chance.choice(_BEGIN.split()) + self.chance.choice("aeio") + self.chance.choice(
            _LAND.split()
        )
        someone = Someone(len(self.people) + 1, sex, names, family, year, child_in)
        self.people.append(someone)
        return someone

    def _family(self, someone: Someone, size: int) -> list[Someone]:
        other = self._born(someone.born + self.chance.randint(-6, 6), "F" if someone.sex == "M" else "M")
        man, woman = (someone, other) if someone.sex == "M" else (other, someone)
        couple = Couple(
            len(self.couples) + 1, man.number, woman.number, someone.born + self.chance.randint(20, 30)
        )
        self.couples.append(couple)
        for each in (man, woman):
            each.married_in.append(couple.number)
        children = []
        for place in range(self.chance.choice((0, 1, 2, 2, 3, 4, 6))):
            if len(self.people) >= size:
                break
            child = self._born(couple.year + 1 + 2 * place, surname=man.surname, child_in=couple.number)
            couple.children.append(child.number)
            children.append(child)
        return children

    def lines(self) -> Iterator[str]:
        """The lines of a GEDCOM 5.5.1 file."""
        yield from ("0 HEAD", "1 SOUR SOLANDER_BENCHMARK", "1 GEDC", "2 VERS 5.5.1", "2 FORM LINEAGE-LINKED")
        yield from ("1 CHAR UTF-8", "1 DATE 1 JAN 2026", "1 SUBM @U1@", "0 @U1@ SUBM", "1 NAME Nobody")
        for someone in self.people:
            yield from self._record(someone)
        for couple in self.couples:
            yield from (f"0 @F{couple.number}@ FAM", f"1 HUSB @I{couple.man}@", f"1 WIFE @I{couple.woman}@")
            yield from ("1 MARR", f"2 DATE {self._date(couple.year)}", f"2 PLAC {self._place()}")
            yield from (f"1 CHIL @I{child}@" for child in couple.children)
        yield "0 TRLR"

    def _record(self, someone: Someone) -> Iterator[str]:
        chance = self.chance
        yield f"0 @I{someone.number}@ INDI"
        yield f"1 NAME {someone.given} /{someone.surname}/"
        yield f"2 GIVN {someone.given}"
        yield f"2 SURN {someone.surname}"
        if chance.random() < 0.15:
            yield f"2 NICK {someone.given[:3]}{chance.choice(('y', 'ie', 'chen', 'ka'))}"
        if someone.sex == "F" and someone.married_in:
            man = self.people[self.couples[someone.married_in[0] - 1].man - 1]
            yield from (f"1 NAME {someone.given} /{man.surname}/", "2 TYPE married")
        yield f"1 SEX {someone.sex}"
        yield from ("1 BIRT", f"2 DATE {self._date(someone.born)}", f"2 PLAC {self._place()}")
        died = someone.born + chance.randint(50 if someone.married_in else 1, 95)
        if died < _LAST_YEAR:
            yield from ("1 DEAT", f"2 DATE {self._date(died)}", f"2 PLAC {self._place()}")
        elif someone.born < 1900:
            yield "1 DEAT Y"
        if chance.random() < 0.3:
            yield f"1 NOTE Known from the parish book, page {chance.randint(1, 400)}."
            yield "2 CONT Read twice."
        if someone.child_in:
            yield f"1 FAMC @F{someone.child_in}@"
        yield from (f"1 FAMS @F{number}@" for number in someone.married_in)

    def _date(self, year: int) -> str:
        form = self.chance.random()
        if form < 0.6:
            return f"{self.chance.randint(1, 28)} {self.chance.choice(_MONTHS)} {year}"
        if form < 0.75:
            return f"{self.chance.choice(_MONTHS)} {year}"
        return (
            f"{self.chance.choice(('', 'ABT ', 'BEF ', 'AFT '))}{year}"
            if form < 0.95
            else f"BET {year} AND {year + 2}"
        )

    def _place(self) -> str:
        town = self.chance.choice(_BEGIN.split()) + self.chance.choice(_LAND.split())
        return f"{town}, {self.chance.choice(_BEGIN.split())}land"


def main() -> None:
    """Writes the file that is asked for."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("people", type=int)
    asked.add_argument("file", type=Path)
    asked.add_argument("--seed", type=int, default=1)
    told = asked.parse_args()
    told.file.write_text("\n".join(Tree(told.people, told.seed).lines()) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
