"""Where outlines are drawn by hand, and how one is shown where it is asked about."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any
from urllib.parse import quote

from attrs import frozen
from fastapi import FastAPI, Request, Response
from fastapi.responses import FileResponse, HTMLResponse, JSONResponse

from solander.core.language import _
from solander.core.outlines import CORNER_NAMES, SHORTEST_SIDE
from solander.core.prints import Corners
from solander.look.words import called_words, side_word
from solander.station.forms import Fields, Form, onward, own_address
from solander.station.place import KEPT, hex_name
from solander.station.workbench import Page, Workbench
from solander.tasks.outlines import TILE, CaptureEdge, Outlines
from solander.tasks.redraw import Done

__all__ = ["EdgeShown", "add_outlines"]

ROUND_IT = 0.12
"""Share of a print's extent that is shown of the stage around it where its edge is judged (looked at)."""

MAGNIFIED = 0.012
"""Share of the capture's longer side that the magnifier shows on each side of a corner (looked at)."""

_LEAST_REACH = 12.0
"""And at least so many pixels of the capture."""

RIM = 0.01
"""Share of the frame beyond its edge that is shown, so that an outline along it is seen as well."""


@frozen
class EdgeShown:
    """An outline as a page shows it: points for the drawing, the part of the capture in sight, and words."""

    edge: CaptureEdge
    then: str

    @property
    def key(self) -> str:
        """By which the view is called."""
        return self.edge.view.key

    @property
    def subject(self) -> str:
        """ "the front of B2-E5-0014"."""
        return _("the %(side)s of %(print)s", side=called_words(self.side), print=self.edge.accession)

    @property
    def side(self) -> str:
        """ "front"."""
        return side_word(self.edge.view.side)

    @property
    def capture(self) -> str:
        """The address below which pictures of the capture are."""
        return f"/capture/{self.edge.view.capture}/{self.edge.view.page}"

    @property
    def corners(self) -> Corners:
        """Where the outline is now."""
        return self.edge.view.outline.corners

    @property
    def line(self) -> str:
        """The outline as points of a drawing."""
        return _points(self.corners)

    @property
    def second(self) -> str:
        """The second-best outline in the same way, empty where there is none."""
        second = self.edge.view.outline.second
        return _points(second) if second else ""

    @property
    def others(self) -> list[str]:
        """The other prints of the capture."""
        return [_points(corners) for corners in self.edge.others]

    @property
    def whole(self) -> str:
        """The whole capture as a part in sight: its outer pixel edges."""
        return f"-0.5 -0.5 {self.edge.width} {self.edge.height}"

    @property
    def close(self) -> str:
        """The part of the capture in sight where the edge is judged: the outlines and some stage around them."""
        outlines = [self.corners, self.edge.view.outline.second or self.corners]
        xs, ys = ([corner[axis] for outline in outlines for corner in outline] for axis in (0, 1))
        margin = ROUND_IT * max(max(xs) - min(xs), max(ys) - min(ys))
        rim = RIM * max(self.edge.width, self.edge.height)
        left, top = max(-rim, min(xs) - margin), max(-rim, min(ys) - margin)
        right = min(self.edge.width + rim, max(xs) + margin)
        bottom = min(self.edge.height + rim, max(ys) + margin)
        return f"{left:.1f} {top:.1f} {right - left:.1f} {bottom - top:.1f}"

    @property
    def others_close(self) -> list[str]:
        """Those of them that reach into the part in sight."""
        left, top, width, height = (float(part) for part in self.close.split())
        return [
            _points(corners)
            for corners in self.edge.others
            if max(x for x, _ in corners) > left
            and min(x for x, _ in corners) < left + width
            and max(y for _, y in corners) > top
            and min(y for _, y in corners) < top + height
        ]

    @property
    def corners_close(self) -> list[tuple[str, str]]:
        """Each corner with the part of the capture that a magnifier shows around it."""
        reach = max(_LEAST_REACH, MAGNIFIED * max(self.edge.width, self.edge.height))
        return [
            (name, f"{x - reach:.1f} {y - reach:.1f} {2 * reach:.1f} {2 * reach:.1f}")
            for name, (x, y) in zip(CORNER_NAMES, self.corners, strict=True)
        ]

    @property
    def nothing_found(self) -> bool:
        """Whether the whole capture stands in for an outline."""
        return self.edge.view.outline.confidence == 0

    @property
    def how_sure(self) -> str:
        """What the machine makes of it, in words."""
        outline = self.edge.view.outline
        if outline.checked:
            return _("Checked by a person.")
        if self.nothing_found:
            return _("Until somebody says, the whole capture is taken for it.")
        return _("Found by the machine, %(sure)s%% sure.", sure=round(100 * outline.confidence))


_EDGES = "/questions/one?kind=outline"
"""Where outlines are asked about one by one."""


def add_outlines(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the pages, pictures and answers to `app`."""
    if bench.outlines is None:
        return
    _add_pages(app, bench, bench.outlines, page)
    _add_captures(app, bench.outlines)
    _add_answers(app, bench.outlines)


def _add_pages(app: FastAPI, bench: Workbench, outlines: Outlines, page: Page) -> None:
    @app.get("/outline/{key}", response_class=HTMLResponse)
    def outline(key: str, then: str = "") -> Response:
        return page("outline.html", **bench.room(""), **_drawing(outlines, key, then, another=False))

    @app.get("/outline/{key}/another", response_class=HTMLResponse)
    def another(key: str, then: str = "") -> Response:
        return page("outline.html", **bench.room(""), **_drawing(outlines, key, then, another=True))


def _drawing(outlines: Outlines, key: str, then: str, *, another: bool) -> dict[str, Any]:
    shown = EdgeShown(outlines.edge(hex_name(key, 32)), then)
    corners = _beside(shown.edge) if another else shown.corners
    known = [shown.corners, *shown.edge.others] if another else shown.edge.others
    return {
        "shown": shown,
        "another": another,
        "corners": list(zip(CORNER_NAMES, corners, strict=True)),
        "line": _points(corners),
        "others": [_points(one) for one in known],
        "second": "" if another else shown.second,
        "leave": _leaving(shown),
        "tile": TILE,
        "shortest": SHORTEST_SIDE,
    }


def _beside(edge: CaptureEdge) -> Corners:
    """Where a new outline begins: a third of the capture in the middle, for a person to lay on the print."""
    width, height = edge.width, edge.height
    left, right, top, bottom = width / 3, width * 2 / 3, height / 3, height * 2 / 3
    return (left, top), (right, top), (right, bottom), (left, bottom)


def _leaving(shown: EdgeShown) -> str:
    """Where one was before: at the print, or at the questions with this one still in hand."""
    if not shown.then:
        return f"/print/{shown.edge.accession}"
    return own_address(f"{shown.then}{'&' if '?' in shown.then else '?'}at=outline:{shown.key}")


def _add_captures(app: FastAPI, outlines: Outlines) -> None:
    @app.get("/capture/{sha256}/{page}/large.jpg")
    def large(sha256: str, page: int) -> Response:
        path = outlines.large_path(hex_name(sha256, 64), page)
        return FileResponse(path, media_type="image/jpeg", headers=KEPT)

    @app.get("/capture/{sha256}/{page}/{column}-{row}.png")
    def tile(sha256: str, page: int, column: int, row: int) -> Response:
        content = outlines.tile(hex_name(sha256, 64), page, column, row)
        return Response(content, media_type="image/png", headers=KEPT)

    @app.get("/capture/{sha256}/{page}/fit")
    def fit(sha256: str, page: int, corners: str) -> Response:
        values = [_number(text) for text in corners.split(",")]
        fitted = outlines.fit(hex_name(sha256, 64), page, [values[i : i + 2] for i in range(0, len(values), 2)])
        return JSONResponse({"corners": fitted.corners, "sides": fitted.sides})


def _add_answers(app: FastAPI, outlines: Outlines) -> None:
    def answer(request: Request, done: Done, form: Form) -> Response:
        leading = onward(form, done.act, otherwise=f"/print/{quote(done.accession)}")
        if "text/html" in request.headers.get("accept", ""):
            return leading
        return JSONResponse({"go": leading.headers["location"]})

    @app.post("/outline/{key}/keep")
    def keep(request: Request, key: str, form: Fields) -> Response:
        return answer(request, outlines.check(hex_name(key, 32)), form)

    @app.post("/outline/{key}/second")
    def second(request: Request, key: str, form: Fields) -> Response:
        return answer(request, outlines.take_second(hex_name(key, 32)), form)

    @app.post("/outline/{key}/redraw")
    def redraw(request: Request, key: str, form: Fields) -> Response:
        return answer(request, outlines.redraw(hex_name(key, 32), _corners(form)), form)

    @app.post("/outline/{key}/another")
    def another(request: Request, key: str, form: Fields) -> Response:
        return answer(request, outlines.add(hex_name(key, 32), _corners(form)), form)

    @app.post("/outline/{key}/no-print")
    def no_print(request: Request, key: str, form: Fields) -> Response:
        done = outlines.take_out(hex_name(key, 32))
        # Its own page may be gone with it; what can be taken back is shown where outlines are checked.
        return answer(request, done, {**form, "then": form.get("then", "") or _EDGES})


def _corners(form: Form) -> Sequence[tuple[float, float]]:
    return [(_number(form.get(f"across-{i}", "")), _number(form.get(f"down-{i}", ""))) for i in range(4)]


def _number(text: str) -> float:
    """The number, also with a comma for its point; no number (NaN) is refused with the outline."""
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        return math.nan


def _points(corners: Corners) -> str:
    return " ".join(f"{x:g},{y:g}" for x, y in ((round(x, 2), round(y, 2)) for x, y in corners))
