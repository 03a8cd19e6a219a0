"""That a form comes from a page of this sitting, and that nobody changed meanwhile what it is about.

Two things keep forms of other pages out. `guard` looks at where the browser says that a form comes from, which no
page can forge; but a browser may be old, or something between may take the word away. So each form carries a word
as well that only pages of this sitting know. Either alone would do; neither costs anything.

Each form also says which change of the collection its page has shown last, and what it is about. When somebody
else changed that since, nothing is written: both versions are shown, and a person chooses.
"""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Awaitable, Callable, Mapping, Sequence

from fastapi import Request
from markupsafe import Markup

from solander.core.errors import Trouble
from solander.core.language import _
from solander.station.asked import asked, note_asked, path_of
from solander.station.forms import NUMBERS, own_address, sent_with
from solander.station.guard import READING, TOKEN_HEADER
from solander.station.workbench import Workbench
from solander.tasks.meanwhile import Meanwhile

__all__ = ["Again", "is_seal", "refuse_changed", "seal", "sealed", "seen_in", "watch"]

_TOKEN = secrets.token_urlsafe(24)
"""Known to pages of this sitting alone."""

_DIGITS = 20
"""No change has a number as long as this."""

_OWN_FIELDS = ("token", "seen", "about", "then")


class Again(Trouble):
    """Nothing was written yet: it must be said once more, by somebody who has seen what changed meanwhile.

    `fields` is all that was sent, `others` what others changed, `away` a page where nothing is done.
    """

    status = 409

    def __init__(
        self, trouble: Trouble, fields: Mapping[str, str], away: str, others: Sequence[Meanwhile] = ()
    ) -> None:
        super().__init__(trouble.what, trouble.why, trouble.todo)
        self.fields, self.away, self.others = fields, away, others

    @property
    def said(self) -> dict[str, str]:
        """What was filled in, without what the form carries for itself."""
        return {name: text for name, text in self.fields.items() if name not in _OWN_FIELDS and text.strip()}


def seal() -> str:
    """The word by which a program may send what a form would."""
    return _TOKEN


def is_seal(said: str) -> bool:
    """Whether it is that word; told in the same time whatever it is, letters of any kind included."""
    return hmac.compare_digest(said.encode("utf-8", "surrogateescape"), _TOKEN.encode())


def sealed(*about: str) -> Markup:
    """What every form that changes something carries, right after its start tag; `about` are the things it changes
    (numbers of prints, headings of people, names of places and occasions) beyond those in its address."""
    fields = {"token": _TOKEN, "seen": str(asked().seen), "about": "\n".join(about)}
    inputs = (
        Markup('<input type="hidden" name="{}" value="{}">').format(*each) for each in fields.items() if each[1]
    )
    return Markup("").join(inputs)


def watch(bench: Workbench) -> Callable[[Request], Awaitable[None]]:
    """What stands before every page and answer of the workbench."""

    async def arriving(request: Request) -> None:
        note_asked(bench, request)
        if request.method not in READING:
            await _look_at_seal(bench, request)

    return arriving


async def _look_at_seal(bench: Workbench, request: Request) -> None:
    fields = (await sent_with(request)).fields
    away = own_address(fields.get("then", "")) if fields.get("then") else _page_of(path_of(request))
    if not is_seal(fields.get("token") or request.headers.get(TOKEN_HEADER, "")):
        raise Again(
            Trouble(
                _("Nothing was changed yet"),
                _("the workbench was started anew since this page was loaded"),
                _("If what stands below is what you meant, say it once more"),
            ),
            fields,
            away,
        )
    seen = seen_in(fields.get("seen") or request.query_params.get("seen", ""))
    if seen is not None:
        refuse_changed(fields, away, bench.collection.done_meanwhile(seen, _about(request, fields)))


def seen_in(said: str) -> int | None:
    """The last change that a page has shown, as its form says; None where it says none."""
    seen = int(said) if said.isdecimal() and len(said) < _DIGITS else NUMBERS
    return seen if seen < NUMBERS else None


def refuse_changed(fields: Mapping[str, str], away: str, others: Sequence[Meanwhile]) -> None:
    """Shows both versions where others changed meanwhile what a form is about.

    Raises
    ------
    Again
        When they did.
    """
    if others:
        raise Again(
            Trouble(
                _("Nothing was changed yet"),
                _("somebody else changed the same while you were at it"),
                _("Look at both, and choose"),
            ),
            fields,
            away,
            others,
        )


def _about(request: Request, fields: Mapping[str, str]) -> list[str]:
    """The things that a form is about: those in its address, and those that it names."""
    return [*map(str, request.path_params.values()), *filter(None, fields.get("about", "").split("\n"))]


_PAGES = ("print", "back", "person", "place", "occasion", "container")
"""First parts of addresses below which each thing has a page of its own."""


def _page_of(path: str) -> str:
    """The page of the thing that a form is about, the table where it has none."""
    parts = path.split("/")
    return "/".join(parts[:3]) if len(parts) > 2 and parts[1] in _PAGES else "/"
