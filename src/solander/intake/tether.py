"""Arrivals from a camera on a cable, through the program `gphoto2`: each press of its shutter brings a picture.

`gphoto2` writes the pictures into a folder, and the folder is watched: so they are whole when they arrive, and a
raw file comes before the JPEG of the same shot. They stay on the camera's card too, where it has one.
"""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Iterator, Sequence
from functools import partial
from typing import IO

from attrs import frozen

from solander.core.errors import CannotBegin, Trouble
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival
from solander.intake.hot_folder import HotFolder
from solander.intake.outside_program import OutsideProgram

__all__ = ["Tethered", "camera_there", "gives_pairs"]

_GPHOTO2 = OutsideProgram(
    "gphoto2",
    (
        Sentence("No camera can be used on a cable"),
        Sentence("the program gphoto2 is not installed"),
        Sentence(
            "Install it (Debian, Ubuntu: sudo apt install gphoto2; macOS: brew install gphoto2), or let the "
            "camera's own program write into a folder and watch that"
        ),
    ),
)

_CURRENT = re.compile(r"^Current: (.*)$", re.MULTILINE)
_ERROR = re.compile(r"\*\*\* Error \((-?\d+): '([^']*)'\)")


def camera_there() -> str:
    """The model of the camera on the cable; of several the first.

    Raises
    ------
    CannotBegin
        When `gphoto2` is not installed, or no camera answers.
    """
    said = _asked("--auto-detect")
    # Two lines of heading, then model and port in columns (manual of gphoto2, --auto-detect).
    for line in said.splitlines()[2:]:
        if found := re.match(r"(.+?)\s{2,}(?:usb|ptpip|serial|disk):?\S*\s*$", line):
            return found[1].strip()
    raise CannotBegin(*_NO_CAMERA)


def gives_pairs() -> bool:
    """Whether the camera is set to write raw file and JPEG of each shot, as far as it tells.

    The names of the setting and its words ("RAW + Large Fine JPEG", "NEF+Fine") are from memory.
    """
    return any(_is_pair(_asked("--get-config", name)) for name in ("imageformat", "imagequality"))


def _is_pair(said: str) -> bool:
    told = _CURRENT.search(said)
    return told is not None and "+" in told[1] and re.search("raw|nef", told[1], re.IGNORECASE) is not None


@frozen
class Tethered:
    """A camera on the cable, whose pictures come into the folder that `hot` watches; an iterator of `Arrival`.

    It goes on until the camera goes, or the iterator is closed: then `gphoto2` lets go of the camera.
    """

    hot: HotFolder

    def __iter__(self) -> Iterator[Arrival]:
        """The pictures.

        Raises
        ------
        Trouble
            When the camera can't be used, or went away: after the pictures that it gave.
        """
        heard: deque[str] = deque(maxlen=40)
        options = ("--capture-tethered", "--keep", "--force-overwrite", "--filename=%f.%C")
        hear = partial(self._listen, heard)
        with _GPHOTO2.running(*options, folder=self.hot.folder, hear=hear, hear_all=True) as process:
            try:
                yield from self.hot
                # Where a person ended it, it still runs, and is told to stop when this is left.
                status = process.wait() if self.hot.last.is_set() else 0
            finally:
                self.hot.stop.set()
        if status:
            raise _fault(list(heard))

    def _listen(self, heard: deque[str], output: IO[str]) -> Iterator[None]:
        """Hears all that `gphoto2` says, until it ends."""
        yield from ()
        heard.extend(line.strip() for line in output)
        self.hot.last.set()


def _asked(*options: str) -> str:
    """What `gphoto2` prints; empty when it does not answer."""
    said = _GPHOTO2.asked(*options)
    return said.stdout if said else ""


_NO_CAMERA = (
    Sentence("Nothing was taken"),
    Sentence("no camera answers on the cable"),
    Sentence("Connect it, switch it on, and if it asks, choose PC or PTP for its USB mode"),
)

_FAULTS = {
    -6: (
        Sentence("this camera can't be used on the cable"),
        Sentence("Let its own program write into a folder and watch that, or take its card in"),
    ),
    -7: (
        Sentence("the camera does not answer any more"),
        Sentence("Switch it off and on, check the cable, and run the same again; its card has what is missing"),
    ),
    -52: (
        Sentence("the camera was taken away or switched itself off"),
        Sentence("Connect it again and run the same; its card has what is missing"),
    ),
    -53: (
        Sentence("another program holds the camera"),
        Sentence(
            "Eject it in the window of files that opened by itself, close other programs, and run the same again"
        ),
    ),
}
"""By the results of libgphoto2 (gphoto2-result.h, gphoto2-port-result.h; the numbers from memory)."""


def _fault(heard: Sequence[str]) -> Trouble:
    errors = [(int(found[1]), found[2]) for line in heard if (found := _ERROR.search(line))]
    if any("Could not detect any camera" in line for line in heard) or -105 in dict(errors):
        return CannotBegin(*_NO_CAMERA)
    what = Sentence("No more pictures come from the camera")
    for number, _ in reversed(errors):
        if number in _FAULTS:
            return Trouble(what, *_FAULTS[number])
    said = errors[-1][1] if errors else next(iter(reversed(heard)), "no reason told")
    why = Sentence("gphoto2 ended (%(said)s)", said=said)
    return Trouble(what, why, Sentence("Switch the camera off and on, and run the same again"))
