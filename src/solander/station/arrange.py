"""What is done with prints in the hand: piled, parted, taken out, laid in order, put into an envelope and back.

One address for every page on which prints are taken up. A form names its prints in fields `print-NUMBER`, or all
in one field `prints`, a number a line; `do` says what, and the address `then` is where one comes back to.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from urllib.parse import parse_qsl, quote, urlencode, urlsplit, urlunsplit

from fastapi import FastAPI, Response
from fastapi.responses import RedirectResponse

from solander.core.errors import InvalidValue
from solander.core.language import _
from solander.core.statements import Says
from solander.station.forms import Fields, Form, own_address
from solander.station.sealing import refuse_changed, seen_in
from solander.station.workbench import Page, Workbench
from solander.tasks.arrange import lay, pile, put_back, put_into
from solander.tasks.arrange_desk import ArrangeDesk
from solander.tasks.meanwhile import done_meanwhile
from solander.tasks.occasions import part_occasion, remove_from_occasion

__all__ = ["add_arranging", "done_at", "occasion_address", "prints_in"]

_PRINT = "print-"

Done = tuple[int | None, str]
"""The act, None where nothing changed, and where one goes on: empty for back to where one came from."""

Doing = Callable[[ArrangeDesk, list[str], Form], Done]


def occasion_address(name: str) -> str:
    """The address of an occasion's page."""
    return f"/occasion/{quote(name, safe='')}"


def add_arranging(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that arranges prints; a workbench that only reads has none."""
    desk = bench.arranging
    if desk is None:
        return

    @app.post("/arrange")
    def arrange(form: Fields) -> Response:
        doing = _DOINGS.get(form.get("do", ""))
        if doing is None:
            raise InvalidValue(_("Nothing was done"), _("it was not said what"), _("Choose one of the buttons"))
        prints = prints_in(form)
        if not prints:
            todo = _("Take some up first: the space key or a tick does it")
            raise InvalidValue(_("Nothing was done"), _("no print is in your hand"), todo)
        if (seen := seen_in(form.get("seen", ""))) is not None:
            others = done_meanwhile(desk.collection, seen, prints, says=_SAYS[form["do"]])
            refuse_changed(form, own_address(form.get("then", "/")), others)
        act, onward = doing(desk, prints, form)
        desk.sitting.noted(act)
        return RedirectResponse(done_at(onward or form.get("then", "/"), act), 303)


def prints_in(form: Form) -> list[str]:
    """The numbers of the prints that a form names, in the order in which it names them."""
    ticked = [name.removeprefix(_PRINT) for name in form if name.startswith(_PRINT)]
    return list(dict.fromkeys([*ticked, *form.get("prints", "").split()]))


def done_at(address: str, act: int | None) -> str:
    """An address of the workbench that tells of an act."""
    parts = urlsplit(own_address(address))
    kept = [(name, value) for name, value in parse_qsl(parts.query) if name != "done"]
    query = urlencode([*kept, *([] if act is None else [("done", str(act))])])
    return urlunsplit(("", "", parts.path, query, parts.fragment))


def _pile(desk: ArrangeDesk, prints: list[str], form: Form) -> Done:
    """A new occasion is gone on with: it wants a date and a place, unless one would rather `stay`."""
    name = form.get("occasion", "")
    is_new = not desk.collection.catalogue.has_occasion(" ".join(name.split()))
    done = pile(desk.collection, desk.in_time(prints), name, source=_by(form))
    return done.act, occasion_address(done.occasion) if is_new and "stay" not in form else ""


def _part(desk: ArrangeDesk, prints: list[str], form: Form) -> Done:
    done = part_occasion(desk.collection, form.get("of", ""), prints, form.get("occasion", ""), source=_by(form))
    return done.act, occasion_address(done.occasion)


def _take_out(desk: ArrangeDesk, prints: list[str], form: Form) -> Done:
    return remove_from_occasion(desk.collection, prints).act, ""


def _lay(desk: ArrangeDesk, prints: list[str], form: Form) -> Done:
    after, before = (_number(form.get(way, "")) for way in ("after", "before"))
    return lay(desk.collection, prints, after=after, before=before, source=_by(form)).act, ""


def _lay_after(desk: ArrangeDesk, prints: list[str], form: Form) -> Done:
    return lay(desk.collection, prints, after=_number(form.get("beside", "")), source=_by(form)).act, ""


def _lay_before(desk: ArrangeDesk, prints: list[str], form: Form) -> Done:
    return lay(desk.collection, prints, before=_number(form.get("beside", "")), source=_by(form)).act, ""


def _lay_so(desk: ArrangeDesk, prints: list[str], form: Form) -> Done:
    """In the order in which they are named, the others after the first."""
    if len(prints) < 2:
        raise InvalidValue(_("Nothing was laid"), _("one print has no order"), _("Take up at least two"))
    first, *rest = prints
    return lay(desk.collection, rest, after=first, source=_by(form)).act, ""


def _put(desk: ArrangeDesk, prints: list[str], form: Form) -> Done:
    return put_into(desk.collection, prints, form.get("container", ""), source=_by(form)).act, ""


def _back(desk: ArrangeDesk, prints: list[str], form: Form) -> Done:
    return put_back(desk.collection, prints).act, ""


def _number(said: str) -> str:
    """An accession number as it is written, however it was typed."""
    return said.strip().upper()


def _by(form: Form) -> str:
    return " ".join(form.get("source", "").split())


_DOINGS: Mapping[str, Doing] = {
    "pile": _pile,
    "part": _part,
    "take-out": _take_out,
    "lay": _lay,
    "after": _lay_after,
    "before": _lay_before,
    "lay-so": _lay_so,
    "put": _put,
    "back": _back,
}

_SAYS: Mapping[str, Says] = {
    **dict.fromkeys(("pile", "part", "take-out"), Says.OCCASION),
    **dict.fromkeys(("lay", "after", "before", "lay-so"), Says.AFTER),
    **dict.fromkeys(("put", "back"), Says.KEPT_IN),
}
"""What each of them says of a print; only who said the same of it meanwhile is in the way."""
