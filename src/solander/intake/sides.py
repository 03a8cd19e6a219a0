"""Which side of a print a file shows, told by its name or by its turn, and which file shows the other side."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import PurePosixPath
from typing import Literal

from attrs import frozen

from solander.core.prints import Side

__all__ = ["Placed", "SidesRule", "assign_sides", "pair_by_name", "side_by_name", "sides_by_rows"]

SidesRule = Literal["recto", "alternate", "by-name"]

_WORDS: Mapping[str, Side] = {
    **dict.fromkeys(["r", "recto", "front"], Side.RECTO),
    **dict.fromkeys(["v", "verso", "back"], Side.VERSO),
    "detail": Side.DETAIL,
}
_LETTERS: Mapping[str, Side] = {"a": Side.RECTO, "b": Side.VERSO}

# A side's word counts only apart from the rest of the name: "drawer", "comeback" and "rover" are no sides.
_CLEAR = re.compile(
    r"(?P<group>.+?)[_\-]+(?:(?P<word>recto|verso|front|back|r|v)|(?P<detail>detail)[_\-]?\d*)", re.IGNORECASE
)
# "Seen from the back", "Onkel R." and "anna" are names; these count only where the partner is there too.
_VAGUE = re.compile(
    r"(?P<group>.+?)(?:(?:[ .]+|(?<=\d))\(?(?P<word>recto|verso|front|back|r|v)\)?|[ _.\-]?(?P<letter>[a-z]))",
    re.IGNORECASE,
)


@frozen
class Placed:
    """The side that a file shows, and the name of the file that shows the other side of the same print; of a
    detail the one that shows the print whole, else its first detail."""

    side: Side
    partner: str | None = None


def side_by_name(stem: str) -> tuple[str, Side | None]:
    """What the name is without the word for its side, and that side: `x_r`, `x-back`, `x_recto`, `x_detail2`.

    A name that says nothing comes back whole with None. `xa` and `x (back)` say nothing on their own; see
    `pair_by_name`.
    """
    found = _CLEAR.fullmatch(stem)
    return (found["group"], _WORDS[(found["word"] or found["detail"]).casefold()]) if found else (stem, None)


def pair_by_name(names: Sequence[str]) -> dict[str, tuple[str, Side]]:
    """The group and side of each name that tells its side; `14a` and `14b` only where both are among `names`.

    Names are those of arrivals: the folder belongs to the group, the ending does not, capitals make no
    difference. With a `14c` there too, the letters count prints, not sides.
    """
    clear = {name: place for name in names if (place := _told_clearly(name)) is not None}
    vague = {name: hint for name in names if name not in clear and (hint := _told_vaguely(name)) is not None}
    return clear | _only_whole_pairs(vague)


def assign_sides(names: Sequence[str], rule: SidesRule) -> dict[str, Placed]:
    """The side and partner of each name, in the order of `names`.

    "recto": all are fronts. "alternate": front, back, front, back, in the order given; each folder begins
    anew. "by-name": what the name says, fronts where it says nothing.
    """
    return dict(zip(names, _RULES[rule](names), strict=True))


def _all_recto(names: Sequence[str]) -> list[Placed]:
    return [Placed(Side.RECTO) for _ in names]


def _alternate(names: Sequence[str]) -> list[Placed]:
    placed: dict[str, Placed] = {}
    for inside in _by_folder(names).values():
        placed |= {name: Placed(Side.RECTO) for name in inside[::2]}
        for front, back in zip(inside[::2], inside[1::2], strict=False):
            placed[front], placed[back] = Placed(Side.RECTO, back), Placed(Side.VERSO, front)
    return [placed[name] for name in names]


def _named(names: Sequence[str]) -> list[Placed]:
    told = pair_by_name(names)
    members: dict[tuple[str, Side], list[str]] = defaultdict(list)
    for name, place in told.items():
        members[place].append(name)
    wholes = {
        _group(path, path.stem): name for name in names if name not in told for path in [PurePosixPath(name)]
    }
    return [
        _placed_detail(name, told[name][0], members, wholes)
        if told.get(name, ("", None))[1] is Side.DETAIL
        else _placed(name, told, members)
        for name in names
    ]


_RULES: Mapping[SidesRule, Callable[[Sequence[str]], list[Placed]]] = {
    "recto": _all_recto,
    "alternate": _alternate,
    "by-name": _named,
}


def _placed(
    name: str, told: Mapping[str, tuple[str, Side]], members: Mapping[tuple[str, Side], Sequence[str]]
) -> Placed:
    if name not in told:
        return Placed(Side.RECTO)
    group, side = told[name]
    own, others = members.get((group, side), ()), members.get((group, _OTHER[side]), ())
    # Two fronts and a back: which of them it belongs to is a question for a person.
    return Placed(side, others[0] if len(own) == len(others) == 1 else None)


def _placed_detail(
    name: str, group: str, members: Mapping[tuple[str, Side], Sequence[str]], wholes: Mapping[str, str]
) -> Placed:
    """A detail beside its front, whether that is called `x_r` or plainly `x`, its back, or its first detail."""
    whole = [wholes[group]] if group in wholes else []
    for others in (members.get((group, Side.RECTO), ()), whole, members.get((group, Side.VERSO), ())):
        if len(others) == 1:
            return Placed(Side.DETAIL, others[0])
    first = min(members[group, Side.DETAIL])
    return Placed(Side.DETAIL, None if first == name else first)


_OTHER: Mapping[Side, Side] = {Side.RECTO: Side.VERSO, Side.VERSO: Side.RECTO}


def _told_clearly(name: str) -> tuple[str, Side] | None:
    path = PurePosixPath(name)
    stem, side = side_by_name(path.stem)
    return (_group(path, stem), side) if side is not None else None


def _told_vaguely(name: str) -> tuple[str, Side | None] | None:
    """The group, and the side; None for the side where a letter tells of more than two."""
    path = PurePosixPath(name)
    if (found := _VAGUE.fullmatch(path.stem)) is None:
        return None
    if found["word"]:
        return _group(path, found["group"]), _WORDS[found["word"].casefold()]
    return _group(path, found["group"] + "\0"), _LETTERS.get(found["letter"].casefold())


def _group(path: PurePosixPath, stem: str) -> str:
    return str(path.with_name(stem)).casefold()


def _only_whole_pairs(vague: Mapping[str, tuple[str, Side | None]]) -> dict[str, tuple[str, Side]]:
    groups: dict[str, dict[str, Side | None]] = defaultdict(dict)
    for name, (group, side) in vague.items():
        groups[group][name] = side
    return {
        name: (group.rstrip("\0"), side)
        for group, sides in groups.items()
        for name, side in sides.items()
        if side is not None and Counter(sides.values()) == {Side.RECTO: 1, Side.VERSO: 1}
    }


def _by_folder(names: Sequence[str]) -> dict[str, list[str]]:
    folders: dict[str, list[str]] = defaultdict(list)
    for name in names:
        folders[str(PurePosixPath(name).parent)].append(name)
    return folders


def sides_by_rows(rows: Iterable[tuple[str, Side | None]]) -> dict[str, Placed]:
    """What a list of files and sides tells, a row after another: backs and details belong to the front above them.

    A row without a side counts as a front for those below it, and is left as it was. Details without a front above
    them are parts of one print.
    """
    placed: dict[str, Placed] = {}
    whole: str | None = None
    for name, side in rows:
        if side is None or side is Side.RECTO or whole is None:
            whole = name
        if side is not None:
            placed[name] = Placed(side, None if name == whole else whole)
    return placed
