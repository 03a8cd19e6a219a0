"""What was read on one side of a print, as it is kept: by a machine, looked at by nobody yet.

Places are kept for the print as it lay, so that they hold however it is turned.
"""

from __future__ import annotations

from typing import Any

from attrs import evolve, frozen

from solander.core.inscriptions.records import Corners, Fact, FactKind, Inscription, Line, Word
from solander.core.statements import Sure

__all__ = ["READ", "Writing"]

READ = 1
"""The edition of the reading: what an older one read can be read anew."""

Kept = dict[str, Any]


@frozen
class Writing:
    """What stands on one side, of `width` × `height` pixels as the print lay; `facts` are what it may mean.

    The lines of a fact count through the lines and then what repeats. `reader` says what read it, `read` is the
    edition of the reading.
    """

    inscription: Inscription
    width: int
    height: int
    facts: tuple[Fact, ...] = ()
    reader: str = ""
    read: int = READ

    @classmethod
    def of_seen(
        cls,
        inscription: Inscription,
        size: tuple[int, int],
        turn: int,
        *,
        facts: tuple[Fact, ...] = (),
        reader: str = "",
    ) -> Writing:
        """What was read in a picture of that size (width, height) that is shown `turn` quarter turns clockwise
        from how the print lay."""
        width, height = size[::-1] if turn % 2 else size
        return cls(_turned(inscription, size, -turn), width, height, facts, reader)

    @property
    def is_written(self) -> bool:
        """Whether anything stands there, apart from what the maker of the paper printed."""
        return self.inscription.is_written

    def seen(self, turn: int) -> Inscription:
        """The same with its places in the picture as it is shown after so many quarter turns clockwise."""
        return _turned(self.inscription, (self.width, self.height), turn)

    def as_kept(self) -> Kept:
        """The writing as JSON keeps it."""
        told = self.inscription
        return {
            "read": self.read,
            "reader": self.reader,
            "size": [self.width, self.height],
            "lines": [_line_kept(line) for line in told.lines],
            "repeated": [_line_kept(line) for line in told.repeated],
            "votes": [round(vote, 2) for vote in told.votes],
            "left": told.left,
            "facts": [_fact_kept(fact) for fact in self.facts],
        }

    @classmethod
    def of_kept(cls, kept: Kept) -> Writing:
        """The writing of what was kept."""
        first, second, third, fourth = kept["votes"]
        lines, repeated = (tuple(map(_line_of, kept[name])) for name in ("lines", "repeated"))
        told = Inscription(lines, repeated, (first, second, third, fourth), kept.get("left", 0))
        width, height = kept["size"]
        return cls(told, width, height, tuple(map(_fact_of, kept["facts"])), kept["reader"], kept["read"])


def _turned(told: Inscription, size: tuple[int, int], turn: int) -> Inscription:
    """What was read in a picture of that size, in the same picture `turn` quarter turns clockwise."""
    for _ in range(turn % 4):
        lines, repeated = (tuple(_quarter(line, size[1]) for line in some) for some in (told.lines, told.repeated))
        # What is upright after n turns of this picture is upright after one less of the turned one.
        votes = (*told.votes[1:], told.votes[0])
        told, size = evolve(told, lines=lines, repeated=repeated, votes=votes), size[::-1]
    return told


def _quarter(line: Line, height: int) -> Line:
    """A line in the picture one quarter turn clockwise; `height` is that of the picture before."""
    first, second, third, fourth = ((height - 1 - y, x) for x, y in line.corners)
    return evolve(line, corners=(first, second, third, fourth))


def _line_kept(line: Line) -> Kept:
    return {
        "words": [
            [word.text, round(word.sure, 3), round(word.least, 3), round(word.begins, 3), round(word.ends, 3)]
            for word in line.words
        ],
        "corners": [[round(value, 1) for value in corner] for corner in line.corners],
        "sure": round(line.sure, 3),
        "also": line.also,
        "agreed": line.agreed,
        "ink": list(line.ink),
    }


def _line_of(kept: Kept) -> Line:
    words = tuple(Word(text, sure, begins, ends, least) for text, sure, least, begins, ends in kept["words"])
    red, green, blue = kept["ink"]
    return Line(words, _corners_of(kept), kept["sure"], kept["also"], kept["agreed"], (red, green, blue))


def _corners_of(kept: Kept) -> Corners:
    first, second, third, fourth = ((x, y) for x, y in kept["corners"])
    return first, second, third, fourth


def _fact_kept(fact: Fact) -> Kept:
    return {
        "kind": fact.kind.value,
        "value": fact.value,
        "words": fact.words,
        "line": fact.line,
        "sure": fact.sure.value,
        "ignored": list(fact.ignored),
        "values": list(fact.values),
    }


def _fact_of(kept: Kept) -> Fact:
    told = {**kept, "kind": FactKind(kept["kind"]), "sure": Sure(kept["sure"])}
    return Fact(**{**told, "ignored": tuple(kept["ignored"]), "values": tuple(kept["values"])})
