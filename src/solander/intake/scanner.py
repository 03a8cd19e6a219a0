"""Arrivals from a scanner, through SANE's own program `scanimage`: on the glass, or a feeder of sheets.

Pages are TIFF as the scanner gave them, with their resolution, so that the size of every print is known. A page
that was not finished is never given on.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from threading import Thread
from typing import IO

from attrs import frozen

from solander.core.errors import CannotBegin, Trouble
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival
from solander.intake.scanner_options import Abilities, Wish, options_for, read_abilities, source_for

__all__ = ["Scanner", "ScannerPages", "scanners", "set_scanner"]

_PATIENCE_S = 60
"""So long a scanner may take to say what it is: some look for others all over the network (our choice)."""

_STOP_S = 20

_PROGRESS = re.compile(r"Progress: (\d+(?:\.\d+)?)%")


@frozen
class Scanner:
    """A scanner that answers: its name for `--device`, its maker and model."""

    device: str
    maker: str
    model: str


def scanners() -> list[Scanner]:
    """The scanners that answer now.

    Raises
    ------
    CannotBegin
        When `scanimage` is not installed.
    """
    said = _asked("--formatted-device-list=%d%t%v%t%m%n".replace("%t", "\t"))
    rows = [line.split("\t") for line in said.stdout.splitlines() if line.count("\t") == 2]
    # Driver v4l shows webcams as scanners.
    return [Scanner(*row) for row in rows if not row[0].startswith("v4l:")]


def set_scanner(device: str, wish: Wish) -> tuple[list[str], float]:
    """The options with which a scanner gives what is wished for, and the resolution that it will have.

    Raises
    ------
    CannotBegin
        When it does not answer, or can't.
    """
    source = source_for(_abilities(device, []), wish)
    # What it offers may depend on where the sheet lies: a feeder is longer than the glass.
    return options_for(_abilities(device, [f"--source={source}"] if source else []), wish, source)


@frozen
class ScannerPages:
    """The pages of one run of a scanner, written into `folder`, numbered from `first` on; an iterator of
    `Arrival`.

    `sheets` None takes all that are in the feeder. `watch` hears the page and how much of it is done, in %. Ended
    by closing the iterator: the scanner stops, and the page that it was at is dropped.
    """

    device: str
    options: Sequence[str]
    folder: Path
    watch: Callable[[int, float], None]
    first: int = 1
    sheets: int | None = 1

    def __iter__(self) -> Iterator[Arrival]:
        """The pages as they are finished.

        Raises
        ------
        Trouble
            When a sheet jams, there is none, the cover is open, the scanner does not answer any more: after the
            pages that were finished.
        """
        count = [] if self.sheets is None else [f"--batch-count={self.sheets}"]
        command = [
            *(_program(), f"--device-name={self.device}", "--format=tiff", "--progress", "--batch-print"),
            *("--batch=%04d.tif", f"--batch-start={self.first}", *count, *self.options),
        ]
        # A session of its own: Ctrl-C is ours to pass on, once the page that is being taken in is safe.
        process = subprocess.Popen(
            command,
            cwd=self.folder,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env=_PLAIN,
            start_new_session=True,
        )
        finished = self.first - 1
        heard: deque[str] = deque(maxlen=20)
        assert process.stdout is not None
        assert process.stderr is not None
        listener = Thread(target=self._listen, args=(process.stderr, heard), daemon=True)
        listener.start()
        try:
            for line in process.stdout:
                finished += 1
                path = self.folder / line.strip()
                yield Arrival(f"{self.folder.name}/{path.name}", path, f"scanner {self.device}", passing=True)
            # An empty feeder is the good end of a batch, also of one without a page.
            status = process.wait() or (_NO_SHEET if finished < self.first else 0)
        finally:
            _stop(process)
            listener.join()
            process.stdout.close()
            process.stderr.close()
        if status:
            raise _fault(status, list(heard), self.device, finished + 1)

    def _listen(self, errors: IO[str], heard: deque[str]) -> None:
        """Reads what `scanimage` says beside its pages, to its end: an unread pipe would stop it."""
        page = self.first
        for piece in _pieces(errors):
            if told := _PROGRESS.search(piece):
                self.watch(page, float(told[1]))
            else:
                page += piece.startswith("Scanned page")
                heard.append(piece)


_PLAIN = {**os.environ, "LC_ALL": "C"}
"""Faults are told apart by words of `scanimage`, so it must say them in English."""


def _pieces(errors: IO[str]) -> Iterator[str]:
    """Lines, and pieces that end with a carriage return."""
    for line in errors:  # text mode turns a carriage return into a line's end as well
        if line.strip():
            yield line.strip()


def _program() -> str:
    found = shutil.which("scanimage")
    if found is None:
        raise CannotBegin(
            Sentence("No scanner can be used"),
            Sentence("the program scanimage is not installed"),
            Sentence(
                "Install it (Debian, Ubuntu: sudo apt install sane-utils; macOS: brew install sane-backends), or "
                "let the scanner's own program write into a folder and watch that"
            ),
        )
    return found


def _asked(*options: str) -> subprocess.CompletedProcess[str]:
    command = [_program(), *options]
    try:
        return subprocess.run(
            command,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            env=_PLAIN,
            timeout=_PATIENCE_S,
            check=False,
        )
    except subprocess.TimeoutExpired as error:
        raise CannotBegin(*_SILENT) from error


_SILENT = (
    Sentence("The scanner does not answer"),
    Sentence("it has been asked for a minute"),
    Sentence("Switch it off and on, check its cable, and try again"),
)


def _abilities(device: str, options: Sequence[str]) -> Abilities:
    said = _asked(f"--device-name={device}", *options, "--all-options")
    if said.returncode:
        raise _fault(said.returncode, said.stderr.splitlines(), device, 1)
    return read_abilities(said.stdout)


def _stop(process: subprocess.Popen[str]) -> None:
    """Ends a scan that is under way: the scanner is told to stop, so that its lamp goes back."""
    if process.poll() is not None:
        return
    process.send_signal(signal.SIGINT)
    try:
        process.wait(_STOP_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


_NO_SHEET = 7

_FAULTS = {
    2: (Sentence("it was stopped at the scanner"), Sentence("Run the same command again to go on")),
    3: (Sentence("another program is using the scanner"), Sentence("Close that program, and run the same again")),
    6: (
        Sentence("a sheet is jammed in the feeder"),
        Sentence(
            "Open the cover, take the sheet out slowly the way it went in, lay it and those that follow back, "
            "and run the same again"
        ),
    ),
    _NO_SHEET: (
        Sentence("there is no sheet in the feeder"),
        Sentence("Lay the prints in, and run the same again; or scan on the glass, without --feeder"),
    ),
    8: (Sentence("the scanner's cover is open"), Sentence("Close it, and run the same again")),
    9: (
        Sentence("the scanner does not answer any more"),
        Sentence("Check its cable and that it is switched on, and run the same again"),
    ),
    10: (Sentence("there is not enough memory"), Sentence("Scan at a lower resolution: --dpi 300")),
    11: (
        Sentence("you may not use the scanner"),
        Sentence("Ask who looks after this computer to let you (on Debian: the group “scanner”)"),
    ),
}
"""By the status codes of SANE (standard 1.06, section 4.2.7), with which `scanimage` ends."""


def _fault(status: int, heard: Sequence[str], device: str, page: int) -> Trouble:
    last = next((line for line in reversed(heard) if line.startswith("scanimage:")), "")
    if "open of device" in last and status not in (3, 11):
        todo = Sentence("Switch it on; “solander scan --list” shows which scanners answer")
        return CannotBegin(
            Sentence("Nothing was scanned"), Sentence("no scanner %(name)s answers", name=device), todo
        )
    what = Sentence("Page %(page)s was not scanned", page=page) if page > 1 else Sentence("Nothing was scanned")
    if status in _FAULTS:
        return Trouble(what, *_FAULTS[status])
    said = last.removeprefix("scanimage:").strip() or f"status {status}"
    why = Sentence("the scanner refused (%(said)s)", said=said)
    return Trouble(what, why, Sentence("Try other settings, or scan with its own program into a folder"))
