"""Arrivals from a folder that pictures are put into while we look: a camera's own program, a phone, a scanner's
key.

The folder is told of by the system where it can, and looked through again and again where it can't: over the
network no computer tells another what it wrote.
"""

from __future__ import annotations

import os
import re
import time
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from threading import Event

from attrs import define, field
from watchfiles import watch

from solander.core.errors import CannotBegin, Trouble
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival
from solander.intake.folder import is_passed_over, natural_order
from solander.intake.settling import Settling, Stamp
from solander.intake.shots import is_raw_name, shot_of

__all__ = ["Fault", "HotFolder", "is_remote"]

REST_S = 1.5
"""So long a file must stay as it is before it is tried (our choice; copying programs write more often than
that)."""

PATIENCE_S = 60.0
"""After so long without a change, a file that is not whole is told of (our choice)."""

PAIR_S = 10.0
"""So long a JPEG waits for its raw file where both are expected: 100 MB over USB 2 take three seconds (our
choice)."""

TICK_S = 0.5
LOOK_AGAIN_S = 60.0
"""So often the whole folder is looked through anyway: systems drop messages when very many files come at once."""

Fault = Callable[[Path], str]
"""Why a file is no whole picture (a clause), or an empty string where it is one."""


@define(eq=False)
class HotFolder:
    """A folder that is watched, with the folders in it; an iterator of `Arrival`.

    It ends only when `stop` is set, or when no more files will come (`last` is set) and each that is there has
    come or was told of.

    `fault` tries whether a file is a whole picture. `told` hears what a person must know: a file that never became
    whole, the folder's disk taken away and back; the watching goes on. `polling` None looks again and again only
    where the folder lies on another computer. `pairs`: the camera writes raw file and JPEG, and a JPEG waits for
    its raw file. `passing`: the files were made for us alone. `moved` hears that the folder went, or is back.

    Files that were there before arrive first, in natural order, with `only_new` not at all; a file that changes
    arrives again.
    """

    folder: Path
    fault: Fault
    told: Callable[[Trouble], None]
    stop: Event = field(factory=Event)
    polling: bool | None = None
    pairs: bool = False
    passing: bool = False
    only_new: bool = False
    moved: Callable[[], None] = lambda: None
    rest_s: float = REST_S
    patience_s: float = PATIENCE_S
    last: Event = field(factory=Event)
    _settling: Settling = field(init=False)
    _held: dict[Path, float] = field(factory=dict, init=False)
    _raw_shots: set[str] = field(factory=set, init=False)
    _place: tuple[int, int] | None = field(default=None, init=False)
    _looked_at: float = field(default=0.0, init=False)

    @_settling.default
    def _nothing_yet(self) -> Settling:
        return Settling(self.rest_s, self.patience_s)

    def __iter__(self) -> Iterator[Arrival]:
        """The arrivals, as they become whole.

        Raises
        ------
        CannotBegin
            When there is no such folder to begin with.
        """
        if _place_of(self.folder) is None:
            what = Sentence("%(folder)s can't be watched", folder=self.folder)
            raise CannotBegin(what, Sentence("there is no such folder"), Sentence("Check the path"))
        if self.only_new:
            self._see_all()
            self._settling.leave()
        while not self.stop.is_set():
            yield from self._while_there()
            if not self.stop.is_set():
                self._wait_until_back()

    def _while_there(self) -> Iterator[Arrival]:
        """Arrivals until the folder is gone or another one lies in its place: its disk was taken away or came."""
        self._place = _place_of(self.folder)
        if self._place is None:
            return
        self._see_all()
        for changed in self._ticks():
            self._see(changed)
            yield from self._now_whole()
            if self.last.is_set() and self._is_done():
                self.stop.set()
            if self.stop.is_set() or _place_of(self.folder) != self._place:
                return

    def _ticks(self) -> Iterator[Sequence[Path]]:
        """What changed, at least every `TICK_S`; a folder that goes away ends it."""
        changes = watch(
            self.folder,
            watch_filter=None,
            stop_event=self.stop,
            rust_timeout=round(TICK_S * 1000),
            debounce=round(TICK_S * 1000),
            yield_on_timeout=True,
            force_polling=is_remote(self.folder) if self.polling is None else self.polling,
            poll_delay_ms=round(TICK_S * 1000),
            ignore_permission_denied=True,
        )
        try:
            yield ()
            for count, changed in enumerate(changes):
                if count == 0:
                    self._see_all()  # nobody told of what came while the system began to look
                yield [Path(path) for _, path in changed]
        except (OSError, RuntimeError):  # what watchfiles says when the folder goes while it begins to look
            return

    def _see(self, changed: Sequence[Path]) -> None:
        now = time.monotonic()
        if now - self._looked_at >= LOOK_AGAIN_S or any(path.is_dir() for path in changed):
            self._see_all()
        for path in sorted({*changed, *self._settling.waiting}, key=lambda path: natural_order(str(path))):
            if not self._is_passed_over(path):
                self._settling.see(path, _stamp_of(path), now)

    def _see_all(self) -> None:
        """Looks through the whole folder, in natural order."""
        self._looked_at = now = time.monotonic()
        for inside, folders, names in os.walk(self.folder):
            folders[:] = sorted((name for name in folders if not is_passed_over(name)), key=natural_order)
            for name in sorted(names, key=natural_order):
                if not is_passed_over(name):
                    path = Path(inside) / name
                    self._settling.see(path, _stamp_of(path), now)

    def _is_passed_over(self, path: Path) -> bool:
        return any(map(is_passed_over, path.relative_to(self.folder).parts))

    def _now_whole(self) -> Iterator[Arrival]:
        """What proves to be whole now: raw files before the JPEG of the same shot."""
        due = self._settling.due(time.monotonic())
        raws = [path for path in due if is_raw_name(path.name)]
        for path in raws:
            yield from self._tried(path)
        for path in self._without_waiting(path for path in due if path not in raws):
            yield from self._tried(path)
        for path, why in self._settling.given_up(time.monotonic()).items():
            todo = Sentence("Copy it again, or leave it: when it changes, it is looked at again")
            self.told(Trouble(Sentence("%(name)s has not been taken in", name=self._name(path)), why, todo))

    def _tried(self, path: Path) -> Iterator[Arrival]:
        why = self.fault(path)
        if why:
            self._settling.not_whole(path, why)
            return
        self._settling.whole(path)
        if is_raw_name(path.name):
            self._raw_shots.add(shot_of(self._name(path)))
        yield self._arrival(path)

    def _without_waiting(self, due: Iterable[Path]) -> Iterator[Path]:
        """Those whose raw file has come, is not on its way, or is not expected any more."""
        now = time.monotonic()
        coming = {shot_of(self._name(path)) for path in self._settling.waiting if is_raw_name(path.name)}
        for path in due:
            shot = shot_of(self._name(path))
            is_expected = self.pairs and shot not in self._raw_shots
            if shot not in coming and not (is_expected and self._waits(path, now)):
                self._held.pop(path, None)
                yield path

    def _waits(self, path: Path, now: float) -> bool:
        return now - self._held.setdefault(path, now) < PAIR_S

    def _arrival(self, path: Path) -> Arrival:
        return Arrival(self._name(path), path, f"folder {self.folder}", self.passing)

    def _name(self, path: Path) -> str:
        inside = path.relative_to(self.folder).as_posix()
        # Names that are not UTF-8 on the disk could be neither shown nor written to a list.
        return unicodedata.normalize("NFC", inside.encode("utf-8", "surrogateescape").decode("utf-8", "replace"))

    def _is_done(self) -> bool:
        """Whether nothing is on its way any more, also of what no message told of yet."""
        self._see_all()
        return not self._settling.waiting

    def _wait_until_back(self) -> None:
        """Waits for the folder where it is gone; of another one in its place it only says so."""
        what = Sentence("%(folder)s is out of reach", folder=self.folder)
        why = Sentence("its disk or the way to it was taken away")
        if _place_of(self.folder) is None:
            self.told(Trouble(what, why, Sentence("Bring it back: what lies in it then is taken in")))
            self.moved()
        while _place_of(self.folder) is None:
            if self.stop.wait(TICK_S):
                return
        self.moved()


def is_remote(folder: Path) -> bool:
    """Whether the folder lies on another computer, as far as the system tells (Linux: proc(5), mountinfo)."""
    if str(folder).startswith("\\\\"):
        return True
    try:
        lines = Path("/proc/self/mountinfo").read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return False
    real = os.path.realpath(folder)
    mounts = [(fields[4].replace("\\040", " "), fields[fields.index("-") + 1]) for fields in map(str.split, lines)]
    above = [(len(at), kind) for at, kind in mounts if real == at or real.startswith(at.rstrip("/") + "/")]
    return bool(above) and _REMOTE.fullmatch(max(above)[1]) is not None


_REMOTE = re.compile(
    r"nfs\d?|cifs|smb\w*|9p|afs|ceph|lustre|ncpfs|coda|glusterfs|davfs|vboxsf|vmhgfs|drvfs|prl_fs|virtiofs"
    r"|fuse\.(sshfs|gvfsd-fuse|rclone|davfs2?|s3fs|glusterfs|ceph.*|vmhgfs-fuse|smbnetfs|curlftpfs|kio-fuse)"
)
"""Kinds of file systems that don't tell of what others write (from memory of their manuals)."""


def _place_of(folder: Path) -> tuple[int, int] | None:
    """What tells one folder from another that is laid in its place; None where there is none."""
    try:
        status = folder.stat()
    except OSError:
        return None
    return (status.st_dev, status.st_ino) if S_ISDIR(status.st_mode) else None


def _stamp_of(path: Path) -> Stamp | None:
    try:
        status = path.stat()
    except OSError:
        return None
    return Stamp(status.st_size, status.st_mtime_ns) if S_ISREG(status.st_mode) else None
