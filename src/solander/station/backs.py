"""Where backs are transcribed: what waits, one back with its lines, and the pictures that show writing better."""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import quote, urlencode

from attrs import frozen
from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.descriptions import DescribedPrint
from solander.core.errors import NotFound
from solander.core.inscriptions import Inscription, Line
from solander.core.inscriptions.transcript import Stretch, as_written, stretches_of
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.core.statements import Says
from solander.station.forms import Fields, Form
from solander.station.laid import laid_one
from solander.station.pictures import view_key
from solander.station.workbench import Page, Workbench
from solander.tasks.back_desk import BackAsked, BackDesk
from solander.tasks.legible import AS_TAKEN, WAYS

__all__ = ["LineShown", "add_backs", "back_address", "back_of_print", "lines_shown"]

_SEE_OTHER = 303
_LISTED = 60
"""So many backs are laid out in the list; the others come when these are done (our choice)."""

_FOR_A_DAY = {"Cache-Control": "private, max-age=86400"}
"""Not for ever: a later edition may show writing better."""

_ASKED_AGAIN = {"Cache-Control": "private, no-cache"}
"""A line of that number is another one when the back was read anew."""

WAY_WORDS = {
    AS_TAKEN: marked("as taken"),
    "flattened": marked("even light"),
    "faint-ink": marked("faint ink"),
    "relief": marked("relief"),
    "mirrored": marked("mirrored"),
}
"""How each way to look is called, in the order of its key."""


@frozen
class LineShown:
    """A line that a machine found: its place on the picture, and what it read there, for a person to take or not.

    `also` is the other reading where the two differ; `sure` that both are the same and well read.
    """

    number: int
    points: str
    read: str
    also: str
    sure: bool
    repeated: bool = False


WELL_READ = 0.9
"""Score from which a line that was read twice alike is mostly right (docs/measured.md)."""


def lines_shown(read: Inscription | None) -> list[LineShown]:
    """The lines of a back in the order of reading, without what the maker of the paper printed."""
    return [_line_shown(at, line) for at, line in enumerate(read.lines)] if read else []


def _line_shown(number: int, line: Line) -> LineShown:
    points = " ".join(f"{x + 0.5:.0f},{y + 0.5:.0f}" for x, y in line.corners)
    return LineShown(
        number,
        points,
        line.text,
        "" if line.agreed or line.also == line.text else line.also,
        line.agreed and line.sure >= WELL_READ,
    )


def back_address(accession: str, **query: Any) -> str:
    """The address where a back is transcribed."""
    return _address(f"/back/{quote(accession)}", **query)


def back_of_print(bench: Workbench, described: DescribedPrint) -> dict[str, Any] | None:
    """What the page of a print shows of its back: what is written down, what a machine read; None where nothing
    can be transcribed."""
    view = described.print.verso
    if bench.backs is None or view is None:
        return None
    return {
        "href": back_address(described.print.accession),
        "key": view.key,
        "told": _told(described),
        "in_other_words": described.back_in_other_words,
        "is_blank": any(one.says is Says.BLANK for one in described.statements),
        "lines": lines_shown(bench.backs.view(view.key)[1]),
    }


def _told(described: DescribedPrint) -> list[list[Stretch]]:
    """The transcription line by line, each cut where an underline begins or ends."""
    written = described.transcription
    return [stretches_of(line) for line in written.split("\n")] if written else []


def add_backs(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the pages and answers to `app`."""
    if bench.backs is None:
        return
    _add_pages(app, bench, bench.backs, page)
    _add_answers(app, bench.backs)
    _add_pictures(app, bench.backs)


def _add_pages(app: FastAPI, bench: Workbench, desk: BackDesk, page: Page) -> None:
    def room(within: str, done: int | None) -> dict[str, Any]:
        return {
            **bench.room("Questions"),
            "desk": desk,
            "within": within,
            "done": done,
            "words": bench.done(done),
        }

    @app.get("/backs", response_class=HTMLResponse)
    def backs(within: str = "", done: int | None = None) -> Response:
        waiting = desk.waiting(within)
        listed = [laid_one(one) for one in bench.collection.some(waiting[:_LISTED])]
        values = {
            "waiting_backs": len(waiting),
            "listed": [(one, back_address(one.described.print.accession, within=within)) for one in listed],
            "counted": desk.counted(),
            "unread": desk.unread() if desk.can_read() else 0,
            "containers": desk.containers(),
            "here": _address("/backs", within=within),
        }
        return page("backs.html", **room(within, done), **values)

    @app.get("/back/{accession}", response_class=HTMLResponse)
    def back(accession: str, within: str = "", way: str = AS_TAKEN, done: int | None = None) -> Response:
        asked = desk.asked(accession, within)
        return page("back.html", **room(within, done), **_asked(asked, within, _way(way)))


def _asked(asked: BackAsked, within: str, way: str) -> dict[str, Any]:
    accession = asked.described.print.accession
    following = back_address(asked.following, within=within) if asked.following else ""
    query = f"?turn={asked.turn}" if asked.turn else ""
    size = (asked.view.width, asked.view.height)[:: -1 if asked.turn % 2 else 1]
    return {
        "asked": asked,
        "accession": accession,
        "lines": lines_shown(asked.read),
        "picture": f"/legible/{asked.view.key}/{way}.jpg{query}",
        "query": query,
        "size": size,
        "repeated": asked.read.repeated[:1] if asked.read else (),
        "way": way,
        "ways": WAY_WORDS,
        "here": back_address(accession, within=within),
        "all_backs": _address("/backs", within=within),
        "onward": following,
        "told": [] if asked.said else _told(asked.described),
    }


def _add_answers(app: FastAPI, desk: BackDesk) -> None:
    @app.post("/back/{accession}/keep")
    def keep(accession: str, form: Fields) -> Response:
        within = form.get("within", "")
        asked = desk.asked(accession, within)
        following = asked.following
        written = as_written(_lines(form), form.get("more", ""))
        reading = form.get("reading", "")
        is_blank = "blank" in form and not written and not reading.strip()  # what was typed is never lost by a key
        done = desk.blank(accession) if is_blank else desk.keep(accession, written, reading)
        if "stay" not in form and following:
            return RedirectResponse(back_address(following, within=within, done=done.act), _SEE_OTHER)
        if "stay" not in form:
            return RedirectResponse(_address("/backs", within=within, done=done.act), _SEE_OTHER)
        return RedirectResponse(back_address(accession, within=within, done=done.act), _SEE_OTHER)

    @app.post("/backs/read")
    def read() -> Response:
        desk.read()
        return RedirectResponse("/backs", _SEE_OTHER)

    @app.post("/backs/stop")
    def stop() -> Response:
        desk.stop()
        return RedirectResponse("/backs", _SEE_OTHER)


_A_LINE = re.compile(r"(?:line|take)-(\d{1,6})")


def _lines(form: Form) -> list[str]:
    """The lines as a person left them: typed, or ticked as they were shown; what was left alone is not written.

    All come from the form: a machine may have read the back anew since the page was shown.
    """
    numbers = sorted({int(found[1]) for name in form if (found := _A_LINE.fullmatch(name))})
    return [form.get(f"line-{number}", "").strip() or form.get(f"take-{number}", "") for number in numbers]


def _add_pictures(app: FastAPI, desk: BackDesk) -> None:
    def jpeg(content: bytes, headers: dict[str, str]) -> Response:
        return Response(content, media_type="image/jpeg", headers=headers)

    @app.get("/legible/{key}/{way}.jpg")
    def picture(key: str, way: str, turn: int = 0) -> Response:
        view, _ = desk.view(view_key(key))
        return jpeg(desk.legible.picture(view, _way(way), turn % 4), _FOR_A_DAY)

    @app.get("/legible/{key}/{way}/{number}.jpg")
    def line(key: str, way: str, number: int) -> Response:
        view, read = desk.view(view_key(key))
        lines = (*read.lines, *read.repeated) if read else ()
        if not 0 <= number < len(lines):
            raise NotFound(Sentence("There is no such line"), Sentence("it was read anew since"))
        return jpeg(desk.legible.line(view, _way(way), lines[number]), _ASKED_AGAIN)


def _way(name: str) -> str:
    if name not in WAYS:
        raise NotFound(Sentence("“%(name)s” is no way to look at a back", name=name))
    return name


def _address(path: str, **query: Any) -> str:
    told = urlencode({name: value for name, value in query.items() if value not in (None, "")}, quote_via=quote)
    return f"{path}?{told}" if told else path
