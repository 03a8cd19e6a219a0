"""The one kind of error that a person meets: what happened, why, what to do.

Everything raised on purpose is a `Trouble`. The command line turns it into a sentence and an exit status,
the web pages into a page and a status, `--json` into an object; each in one place.
"""

from __future__ import annotations

from solander.core.language import marked
from solander.core.sentence import Clause, Sentence

__all__ = ["CannotBegin", "InvalidValue", "NotFound", "Trouble"]


class Trouble(Exception):
    """Something a person must know about, each part a `Sentence` where pages may show it.

    Parameters
    ----------
    what
        What happened, a clause without a full stop: "scan-03.tif could not be read".
    why
        The reason as far as it is known: "it is cut off after 2 MB".
    todo
        The next step: "Copy it again from the card".
    """

    exit = 1
    status = 422

    def __init__(self, what: str, why: str = "", todo: str = "") -> None:
        self.what, self.why, self.todo = what, why, todo
        super().__init__(self.sentence)

    @property
    def sentence(self) -> Sentence:
        """One line for people: "What: why. What to do."."""
        told = {"what": self.what, "why": self.why, "todo": self.todo}
        there = {name: _unended(part) for name, part in told.items() if part or name == "what"}
        message = _WHOLE["why" in there, "todo" in there] if any(there.values()) else ""
        return Sentence(message, **there)

    def __reduce__(self) -> tuple[type[Trouble], tuple[str, str, str]]:
        # Exceptions travel between processes; the default would call __init__ with the sentence alone.
        return type(self), (self.what, self.why, self.todo)


_WHOLE = {
    (False, False): "%(what)s.",
    (False, True): "%(what)s. %(todo)s.",
    (True, False): marked("%(what)s: %(why)s."),
    (True, True): marked("%(what)s: %(why)s. %(todo)s."),
}
"""By whether the reason and the next step are known."""


def _unended(part: str) -> str:
    return Clause(part) if part.endswith(".") else part


class InvalidValue(Trouble):
    """A value that cannot be true or cannot be read; set aside, the rest goes on."""


class NotFound(Trouble):
    """A thing that was asked for is not there."""

    status = 404


class CannotBegin(Trouble):
    """Nothing was started: a wrong path, a missing program, no room."""

    exit = 2
    status = 503
