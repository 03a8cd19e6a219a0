"""How far: what is told of the prints, what waits, how much longer it takes, and whether there are two copies."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import Any

from attrs import frozen
from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse

from solander.catalogue.writings import BacksCounted
from solander.core.language import _, _n
from solander.look.words import edtf_words
from solander.station.containers import container_address
from solander.station.workbench import Page, Workbench
from solander.tasks.progress import LEAST_OF_A_SITTING, Counted, HowFar, SittingHeld

__all__ = ["add_how_far"]

SITTINGS_SHOWN = 12


@frozen
class Measure:
    """One measure of how far it is: so many of so many."""

    words: str
    done: int
    of: int
    why: str = ""

    @property
    def percent(self) -> int:
        """Whole percent, never 100 before all is done."""
        return 0 if not self.of else 100 if self.done == self.of else min(99, round(100 * self.done / self.of))


def add_how_far(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page."""
    desk = bench.arranging
    if desk is None:
        return

    @app.get("/how-far", response_class=HTMLResponse)
    def how_far() -> Response:
        now, is_older = desk.progress.now(), desk.progress.is_older
        titles = {one.code: one.title for one in desk.collection.catalogue.containers()}
        values: dict[str, Any] = {
            "now": now,
            "is_older": is_older,
            "measures": _measures(now),
            "forecast": _forecast(now),
            "containers": [(one, titles.get(one.code, ""), _described(one)) for one in now.containers],
            "address": container_address,
            "sittings": [_sitting(one) for one in reversed(now.sittings[-SITTINGS_SHOWN:])],
            "least": LEAST_OF_A_SITTING,
            "command": _copy_command(desk.collection.root, now.copied_to),
        }
        return page("how_far.html", **bench.room("How far"), **values)


def _copy_command(root: Path, copied_to: str) -> str:
    """The command that makes the second copy, as it may be pasted into a terminal."""
    target = shlex.quote(copied_to) if copied_to else _("FOLDER-ON-THE-OTHER-DISK")
    return f"solander copy {shlex.quote(str(root.resolve()))} {target}"


def _measures(now: HowFar) -> list[Measure]:
    whole = now.all
    return [
        Measure(_("Described"), whole.described, whole.prints, _("a date, and a place, somebody or a caption")),
        Measure(_("With a date"), whole.dated, whole.prints, _("its own, or that of its occasion")),
        Measure(_("With a place"), whole.placed, whole.prints, _("its own, or that of its occasion")),
        Measure(_("With somebody named"), whole.named, whole.prints, _("not every print shows somebody")),
        Measure(
            _("Captured well"),
            max(0, whole.prints - now.capture_again),
            whole.prints,
            _("the others wait in Questions, with what to change"),
        ),
        *_backs(now.backs),
        Measure(_("Edges sure"), whole.prints - now.edges_unsure, whole.prints, _("found for sure, or checked")),
    ]


def _backs(backs: BacksCounted) -> list[Measure]:
    """How many of the backs on which anything may be written are written down; nothing where there are none."""
    of = max(backs.transcribed, backs.backs - backs.blank)
    told = Measure(_("Backs transcribed"), backs.transcribed, of, _("of those that may bear writing"))
    return [told] if of else []


def _sitting(one: SittingHeld) -> tuple[str, str, int]:
    """Its day, the time at which it began, and its prints."""
    return edtf_words(one.began.date().isoformat()), one.began.strftime("%H:%M"), one.prints


def _described(one: Counted) -> Measure:
    return Measure(_("Described"), one.described, one.prints)


def _forecast(now: HowFar) -> tuple[str, str]:
    """What is foretold as a sentence, and how that was reached."""
    if now.undescribed == 0:
        return _("Every print is described."), ""
    if now.left is None:
        missing = now.sittings_missing
        told = _n(
            "After one more sitting Solander can tell how much longer it takes.",
            "After %(num)s more sittings Solander can tell how much longer it takes.",
            missing,
        )
        return told, _(
            "A sitting counts when something was told of at least %(least)s prints in it.",
            least=LEAST_OF_A_SITTING,
        )
    return _range(now), _reached(now)


def _range(now: HowFar) -> str:
    left = now.left
    assert left is not None
    if left.least == left.most:
        many = (
            _n("about %(num)s more evening", "about %(num)s more evenings", left.most)
            if now.in_evenings
            else _n("about %(num)s more sitting", "about %(num)s more sittings", left.most)
        )
    elif now.in_evenings:
        many = _("about %(least)s to %(most)s more evenings", least=left.least, most=left.most)
    else:
        many = _("about %(least)s to %(most)s more sittings", least=left.least, most=left.most)
    prints = _n(
        "%(num)s print is still to be described", "%(num)s prints are still to be described", now.undescribed
    )
    return f"{prints}: {many}."


def _reached(now: HowFar) -> str:
    paces = [one.prints for one in now.sittings]
    return _n(
        "Reached from %(num)s sitting of %(least)s to %(most)s prints: sittings like it are drawn again and again "
        "until nothing is left; the range holds eight times in ten.",
        "Reached from %(num)s sittings of %(least)s to %(most)s prints: sittings like them are drawn again and "
        "again until nothing is left; the range holds eight times in ten.",
        len(paces),
        least=min(paces),
        most=max(paces),
    )
