"""The one kind of error that a person meets: what happened, why, what to do.

Everything raised on purpose is a `Trouble`. The command line turns it into a sentence and an exit status,
the web pages into a page and a status, `--json` into an object; each in one place.
"""

from __future__ import annotations

__all__ = ["CannotBegin", "InvalidValue", "NotFound", "Trouble"]


class Trouble(Exception):
    """Something a person must know about.

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
    def sentence(self) -> str:
        """One line for people: "What: why. What to do."."""
        said = f"{self.what}: {self.why}" if self.why else self.what
        return " ".join(part.rstrip(".") + "." for part in (said, self.todo) if part)

    def __reduce__(self) -> tuple[type[Trouble], tuple[str, str, str]]:
        # Exceptions travel between processes; the default would call __init__ with the sentence alone.
        return type(self), (self.what, self.why, self.todo)


class InvalidValue(Trouble):
    """A value that cannot be true or cannot be read; set aside, the rest goes on."""


class NotFound(Trouble):
    """A thing that was asked for is not there."""

    status = 404


class CannotBegin(Trouble):
    """Nothing was started: a wrong path, a missing program, no room."""

    exit = 2
    status = 503
