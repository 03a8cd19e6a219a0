"""Arrivals from a scanner, through SANE's own program `scanimage`: on the glass, or a feeder of sheets.

Pages are TIFF as the scanner gave them, with their resolution, so that the size of every print is known. A page
that was not finished is never given on.
"""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from subprocess import CompletedProcess
from threading import Event
from typing import IO

from attrs import frozen

from solander.core.errors import CannotBegin, Trouble
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival
from solander.intake.outside_program import OutsideProgram
from solander.intake.scanner_options import Abilities, Wish, options_for, read_abilities, source_for

__all__ = ["Scanner", "ScannerPages", "scanners", "set_scanner"]

_SCANIMAGE = OutsideProgram(
    "scanimage",
    (
        Sentence("No scanner can be used"),
        Sentence("the program scanimage is not installed"),
        Sentence(
            "Install it (Debian, Ubuntu: sudo apt install sane-utils; macOS: brew install sane-backends), or "
            "let the scanner's own program write into a folder and watch that"
        ),
    ),
)

_PROGRESS = re.compile(r"Progress: (\d+(?:\.\d+)?)%")
_LAST_WORDS = "Batch terminated"


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
    by closing the iterator, or by setting `stop` in another thread: the scanner stops, and the page that it was at
    is dropped.
    """

    device: str
    options: Sequence[str]
    folder: Path
    watch: Callable[[int, float], None]
    first: int = 1
    sheets: int | None = 1
    stop: Event | None = None

    def __iter__(self) -> Iterator[Arrival]:
        """The pages as they are finished.

        Raises
        ------
        Trouble
            When a sheet jams, there is none, the cover is open, the scanner does not answer any more: after the
            pages that were finished.
        """
        count = [] if self.sheets is None else [f"--batch-count={self.sheets}"]
        options = [
            *(f"--device-name={self.device}", "--format=tiff", "--progress", "--batch-print"),
            *("--batch=%04d.tif", f"--batch-start={self.first}", *count, *self.options),
        ]
        finished = self.first - 1
        heard: deque[str] = deque(maxlen=20)
        hear = partial(self._listen, heard)
        with _SCANIMAGE.running(*options, folder=self.folder, hear=hear, stop=self.stop) as process:
            for line in process.stdout or ():
                finished += 1
                path = self.folder / line.strip()
                yield Arrival(f"{self.folder.name}/{path.name}", path, f"scanner {self.device}", passing=True)
            status = _how_it_ended(process.wait(), heard)
        if status in (0, _NO_SHEET):  # an empty feeder is the good end of a batch
            status = _NO_SHEET if finished < self.first else 0
        if self.stop is not None and self.stop.is_set():
            return
        if status:
            raise _fault(status, list(heard), self.device, finished + 1)

    def _listen(self, heard: deque[str], errors: IO[str]) -> Iterator[None]:
        """Hears what `scanimage` says beside its pages, to its last words: some drivers hang after them."""
        page = self.first
        for piece in _pieces(errors):
            if told := _PROGRESS.search(piece):
                self.watch(page, float(told[1]))
            else:
                page += piece.startswith("Scanned page")
                heard.append(piece)
            if piece.startswith("Scanning page"):
                yield
            elif piece.startswith(_LAST_WORDS):
                return


def _how_it_ended(status: int, heard: Sequence[str]) -> int:
    """The status with which `scanimage` ended, or by its words where it had to be ended after the last of them."""
    if status >= 0 or not (heard and heard[-1].startswith(_LAST_WORDS)):
        return status
    words = next((line.rpartition(": ")[2] for line in reversed(heard) if line.startswith("scanimage: sane_")), "")
    return next((code for code, said in _WORDS.items() if said == words), _REFUSED if words else 0)


def _pieces(errors: IO[str]) -> Iterator[str]:
    """Lines, and pieces that end with a carriage return."""
    for line in errors:  # text mode turns a carriage return into a line's end as well
        if line.strip():
            yield line.strip()


def _asked(*options: str) -> CompletedProcess[str]:
    said = _SCANIMAGE.asked(*options)
    if said is None:
        raise CannotBegin(*_SILENT)
    return said


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


_REFUSED = 4
_NO_SHEET = 7

_WORDS = {
    2: "Operation was cancelled",
    3: "Device busy",
    6: "Document feeder jammed",
    _NO_SHEET: "Document feeder out of documents",
    8: "Scanner cover is open",
    9: "Error during device I/O",
    10: "Out of memory",
    11: "Access to resource has been denied",
}
"""What `sane_strstatus` says for the status codes of SANE (sane-backends, backend/sane_strstatus.c)."""

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
