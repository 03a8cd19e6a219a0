"""The Daitch–Mokotoff code of a name: six digits for how it sounds, made for names of Central and Eastern Europe.

Randy Daitch and Gary Mokotoff, 1985, as their table is published (Avotaynu, "Soundexing and Genealogy"). No kept
library has it, so the table stands here. A name may have several codes, where letters sound in two ways.
"""

from __future__ import annotations

from functools import lru_cache

__all__ = ["daitch_mokotoff"]

_LENGTH = 6
_VOWELS = "aeiouy"

_TABLE = """
ai aj ay: 0 1 -
au: 0 7 -
ei ej ey: 0 1 -
eu: 1 1 -
ia ie io iu: 1 - -
oi oj oy: 0 1 -
ui uj uy: 0 1 -
ue: 0 - -
a e i o u: 0 - -
y: 1 - -
b: 7 7 7
chs: 5 54 54
ch: 5|4 5|4 5|4
ck: 5|45 5|45 5|45
csz czs cs cz: 4 4 4
c: 5|4 5|4 5|4
drz drs dsh dsz dzh dzs ds dz: 4 4 4
dt d: 3 3 3
fb f: 7 7 7
g: 5 5 5
h: 5 5 -
j: 1|4 -|4 -|4
ks: 5 54 54
kh k: 5 5 5
l: 8 8 8
mn: 66 66 66
m: 6 6 6
nm: 66 66 66
n: 6 6 6
pf ph fb p: 7 7 7
q: 5 5 5
rs rtz rz: 94|4 94|4 94|4
r: 9 9 9
schtsch schtsh schtch shtch shtsh shch stsch stch stsh strz strs szcz szcs sc: 2 4 4
scht schd sht shd szt szd st sd: 2 43 43
sch sh sz s: 4 4 4
ttsch ttch tsch tch ttsz ttz tts tzs tsz tsh ts tz tc trz trs: 4 4 4
th t: 3 3 3
v w: 7 7 7
x: 5 54 54
zhdzh zdzh zdz: 2 4 4
zhd zd: 2 43 43
zsch zsh zh zs z: 4 4 4
"""
"""Letters, then the code at the beginning of a name, before a vowel, and elsewhere; - is not coded, | is or."""


def _rules() -> dict[str, tuple[tuple[str, ...], ...]]:
    found: dict[str, tuple[tuple[str, ...], ...]] = {}
    for line in _TABLE.strip().splitlines():
        letters, _, codes = line.partition(":")
        told = tuple(tuple(code.replace("-", "") for code in each.split("|")) for each in codes.split())
        found |= dict.fromkeys(letters.split(), told)
    return found


_RULES = _rules()
_LONGEST = max(map(len, _RULES))


@lru_cache(maxsize=1 << 16)
def daitch_mokotoff(name: str) -> tuple[str, ...]:
    """The codes of a name in plain Latin letters (see `spelling.plain`), in order; none for an empty one."""
    branches = {("", "")}
    place = 0
    while place < len(name):
        letters, codes = _rule(name, place)
        ends = place + len(letters)
        column = 0 if place == 0 else 1 if name[ends : ends + 1] and name[ends] in _VOWELS else 2
        branches = {_longer(branch, code) for branch in branches for code in codes[column]}
        place = ends
    return tuple(sorted({code[:_LENGTH].ljust(_LENGTH, "0") for code, _ in branches})) if name else ()


def _rule(name: str, place: int) -> tuple[str, tuple[tuple[str, ...], ...]]:
    for length in range(_LONGEST, 0, -1):
        if (letters := name[place : place + length]) in _RULES and len(letters) == length:
            return letters, _RULES[letters]
    return name[place], (("",), ("",), ("",))


def _longer(branch: tuple[str, str], code: str) -> tuple[str, str]:
    """The code so far and what was coded last: the same next to itself counts once, but for mn and nm."""
    so_far, last = branch
    if code and last.endswith(code) and code != "66":
        return so_far, code
    return so_far + code, code
