"""Told stories on the page of a print: played, with who tells them; all recordings, and erasing one."""

from __future__ import annotations

from datetime import datetime
from urllib.parse import urlencode

from attrs import frozen
from fastapi import FastAPI, Response
from fastapi.responses import FileResponse, HTMLResponse, RedirectResponse

from solander.core.language import _
from solander.look.words import edtf_words, joined
from solander.station.forms import NUMBERS, Fields, own_address
from solander.station.laid import print_address
from solander.station.place import hex_name
from solander.station.workbench import Page, Workbench
from solander.tasks.accounts import AccountTold
from solander.tasks.recordings import Recording

__all__ = ["AccountShown", "RecordingShown", "accounts_shown", "add_accounts"]

_TYPES = {".flac": "audio/flac"}

_NOT_KEPT = {"Cache-Control": "no-store"}
"""Browsers keep no sound: one that is erased for good must not lie on in theirs."""


@frozen
class AccountShown:
    """A story as the page shows it: `words` say by whom, when and how long, `others` which prints it is told with
    besides."""

    account: AccountTold
    words: str
    others: str

    @property
    def address(self) -> str:
        """Where its sound is."""
        return f"/sound/{self.account.sha256}{self.account.suffix}"

    @property
    def erasing(self) -> str:
        """The page that asks whether it is to be erased."""
        return f"/recordings/{self.account.sha256}/erase"

    @property
    def file(self) -> str:
        """What its file is called where it is kept."""
        return f"{self.account.prints[0]}_story_{self.account.sha256[:8]}{self.account.suffix}"


def accounts_shown(bench: Workbench, accession: str) -> list[AccountShown]:
    """The stories of a print."""
    return [_shown(one, accession) for one in bench.accounts.of(accession)] if bench.accounts else []


def _shown(account: AccountTold, accession: str) -> AccountShown:
    day = edtf_words(datetime.fromisoformat(account.begun).astimezone().date().isoformat())
    told = {"day": day, "length": account.length}
    words = _("Told on %(day)s, %(length)s minutes", **told)
    if account.teller:
        words = _("Told by %(name)s on %(day)s, %(length)s minutes", name=account.teller, **told)
    return AccountShown(account, words, joined([one for one in account.prints if one != accession]))


@frozen
class RecordingShown:
    """A recording as it is listed: `words` say what it is, of when and how long."""

    recording: Recording
    words: str

    @property
    def address(self) -> str:
        """Where its sound is."""
        return f"/sound/{self.recording.sound.sha256}{self.recording.sound.suffix}"

    @property
    def erasing(self) -> str:
        """The page that asks whether it is to be erased."""
        return f"/recordings/{self.recording.sound.sha256}/erase"


def _kept(recording: Recording) -> RecordingShown:
    day = edtf_words(datetime.fromisoformat(recording.sound.begun).astimezone().date().isoformat())
    told = {"day": day, "length": recording.length}
    if not recording.is_story:
        words = _("Said on %(day)s and not understood, %(length)s minutes", **told)
    elif recording.prints:
        prints = joined(list(recording.prints))
        words = _("A story about %(prints)s, told on %(day)s, %(length)s minutes", prints=prints, **told)
    else:
        words = _("A story without a print, told on %(day)s, %(length)s minutes", **told)
    return RecordingShown(recording, words)


def add_accounts(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the sound of recordings, and what a person says of them."""
    desk = bench.accounts
    if desk is None:
        return

    @app.get("/sound/{sha256}.flac")
    def sound(sha256: str) -> FileResponse:
        path = desk.path(hex_name(sha256, 64))
        return FileResponse(
            path, media_type=_TYPES.get(path.suffix, "application/octet-stream"), headers=_NOT_KEPT
        )

    @app.get("/recordings", response_class=HTMLResponse)
    def recordings(erased: int | None = None, then: str = "") -> Response:
        those = [_kept(one) for one in desk.recordings()]
        back = own_address(then) if then else ""
        note = desk.note(erased) if erased is not None and erased < NUMBERS else ""
        return page("recordings.html", **bench.room(""), recordings=those, note=note, back=back)

    @app.get("/recordings/{sha256}/erase", response_class=HTMLResponse)
    def ask(sha256: str, then: str = "") -> Response:
        recording = _kept(desk.recording(hex_name(sha256, 64)))
        away = own_address(then) if then else "/recordings"
        copy = bench.collection.second_copy
        return page("recording_erase.html", **bench.room(""), recording=recording, away=away, copied=bool(copy))

    @app.post("/recordings/{sha256}/erase")
    def erase(sha256: str, form: Fields) -> Response:
        act = desk.erase(hex_name(sha256, 64))
        told = urlencode({"erased": act, "then": own_address(form.get("then", "/recordings"))})
        return RedirectResponse(f"/recordings?{told}", 303)

    @app.post("/print/{accession}/story/{sha256}")
    def say_of_story(accession: str, sha256: str, form: Fields) -> Response:
        if "off" in form:
            act = desk.take_off(sha256, accession)
        elif "heard" in form:
            act = desk.write_down(sha256, form["heard"])
        else:
            act = desk.say_teller(sha256, form.get("teller", ""))
        done = f"?done={act}" if act is not None else ""
        return RedirectResponse(f"{print_address(accession)}{done}#stories", 303)
