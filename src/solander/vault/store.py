"""Write-once captures: each named by its SHA-256, kept whole or not at all, never overwritten.

The order of steps is what makes a kill at any moment harmless: the bytes go to a file in `.arriving` on the
same disk, are flushed to the disk, and only then get their name, in one step that cannot replace anything.
"""

from __future__ import annotations

import errno
import hashlib
import io
import os
import re
import secrets
import stat
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from attrs import field, frozen

from solander.core.errors import CannotBegin, NotFound, Trouble
from solander.core.sentence import Sentence

__all__ = ["Damaged", "Kept", "Vault", "matches", "sha256_of"]

Source = Path | bytes | BinaryIO

ARRIVING, DAMAGED, SET_ASIDE = ".arriving", ".damaged", ".set-aside"

_CHUNK = 1 << 20
_READ_ONLY = 0o444
_NAME = re.compile(r"([0-9a-f]{64})(\.[a-z0-9]{1,8})?")
_SUFFIX = re.compile(r"(\.[a-z0-9]{1,8})?")
_STARTED = time.time()

# What a file system answers when it has no such thing as flushing a folder (network shares, some mounts).
_NO_FOLDER_FLUSH = {errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.EACCES, errno.EISDIR}


class Damaged(Trouble):
    """Bytes that do not have the checksum that they are named by.

    What was sent is not at fault: a camera keeps its picture, and sends it again once this is healed.
    """

    status = 500


@frozen
class Kept:
    """What `put` did: the checksum, the size in bytes, where it lies, and whether it was there `already`."""

    sha256: str
    size: int
    path: Path
    already: bool


@frozen
class Vault:
    """The captures of a collection, below `root/captures` (or another write-once `folder`, such as "sound")."""

    root: Path
    folder: str = field(default="captures", kw_only=True)

    @property
    def home(self) -> Path:
        """The folder that holds all that is kept."""
        return self.root / self.folder

    def put(self, source: Source, *, suffix: str | Callable[[Path], str], sha256: str | None = None) -> Kept:
        """What is kept now of `source`: a file, bytes, or an open binary stream read to its end.

        `suffix` is the ending of the name (".tif"), or a function that looks at the arriving file and decides;
        when it raises, nothing is kept. With `sha256` only bytes of that checksum are kept.

        Raises
        ------
        Damaged
            When a capture of that name is there with other bytes, or the bytes do not match `sha256`.
        CannotBegin
            When the vault cannot be written: no room, no permission, a read-only disk.
        Trouble
            When the source cannot be read.
        """
        with _plainly(self.home), self._arrived(source) as (arrived, found, size):
            if sha256 not in (None, found):
                raise Damaged(
                    Sentence("%(title)s was not kept", title=_title(source)),
                    Sentence("its bytes are not those of %(sha256)s", sha256=sha256),
                    _HEAL,
                )
            already = self._find(found)
            if already is None:
                ending = _checked_suffix(suffix if isinstance(suffix, str) else suffix(arrived))
                path = self.home / found[:2] / f"{found}{ending}"
                if self._name(arrived, path):
                    return Kept(found, size, path, already=False)
                already = path
            _refuse_damaged(already, found)
            return Kept(found, size, already, already=True)

    def path(self, sha256: str) -> Path:
        """Where the capture of that checksum lies.

        Raises
        ------
        NotFound
            When the vault does not hold it.
        """
        found = self._find(sha256) if _NAME.fullmatch(sha256) else None
        if found is None:
            raise NotFound(
                Sentence("The capture %(sha256)s… is not in %(home)s", sha256=sha256[:12], home=self.home),
                "",
                Sentence("Heal it from the second copy"),
            )
        return found

    def relative(self, path: Path) -> str:
        """A path of this vault as it is written down: from the collection, with `/` between its parts."""
        return path.relative_to(self.root).as_posix()

    def names(self) -> Iterator[tuple[str, Path]]:
        """Checksum and path of each capture, in the order of checksums; what has no such name is left out."""
        for shard in sorted(self.home.glob("[0-9a-f][0-9a-f]")):
            for path in sorted(shard.iterdir()):
                if (named := _NAME.fullmatch(path.name)) and path.name[:2] == shard.name:
                    yield named[1], path

    def set_aside(self, sha256: str) -> Path:
        """Where a capture lies after it was taken out of the vault, not deleted: a picture that can't be read."""
        return self._move(self.path(sha256), SET_ASIDE)

    def erase(self, sha256: str) -> bool:
        """Deletes what is kept under that checksum for good, damaged or set aside too; whether there was anything.

        The other exception to write-once: for a recording that a person may not keep. What the disk keeps of files
        that were deleted is beyond any program's reach.
        """
        if not _NAME.fullmatch(sha256):
            return False
        places = (self.home / sha256[:2], self.home / DAMAGED, self.home / SET_ASIDE)
        found = [path for place in places for path in place.glob(f"{sha256}*")]
        with _plainly(self.home):
            for path in found:
                _discard(path)
                _flush_folder(path.parent)
        return bool(found)

    def replace_damaged(self, path: Path, source: Path) -> Kept:
        """The capture at `path` made whole from `source`; its damaged bytes are moved aside, not deleted.

        The one exception to never overwriting: only a file whose bytes do not match its name gives way, and
        only to bytes that do.
        """
        sha256 = path.name[:64]
        if sha256_of(source) != sha256:
            raise Damaged(
                Sentence("%(path)s was not healed", path=path.name),
                Sentence("%(source)s is damaged too", source=source),
                Sentence("Look for a third copy"),
            )
        if path.exists() and not matches(path, sha256):
            with _plainly(self.home):
                self._move(path, DAMAGED)
        return self.put(source, suffix=path.suffix, sha256=sha256)

    def sweep(self) -> int:
        """How many files were removed that an earlier, interrupted take-in left in `.arriving`.

        A file changed since this process began, or begun by it, is left alone: somebody may be writing it.
        """
        left = [path for path in self.home.glob(f"{ARRIVING}/*.part") if _is_left_over(path)]
        with _plainly(self.home):
            for path in left:
                _discard(path)
        return len(left)

    def _find(self, sha256: str) -> Path | None:
        """The capture of that checksum, whatever its ending."""
        return next(
            (path for path in sorted((self.home / sha256[:2]).glob(f"{sha256}*")) if _NAME.fullmatch(path.name)),
            None,
        )

    @contextmanager
    def _arrived(self, source: Source) -> Iterator[tuple[Path, str, int]]:
        """A file of the source's bytes on the vault's disk, flushed, read-only; gone afterwards."""
        _make_folder(self.home / ARRIVING)
        arrived = self.home / ARRIVING / f"{os.getpid()}-{secrets.token_hex(8)}.part"
        try:
            digest, size = hashlib.sha256(), 0
            with arrived.open("xb") as file:
                for chunk in _chunks(source):
                    digest.update(chunk)
                    size += len(chunk)
                    file.write(chunk)
                file.flush()
                os.fsync(file.fileno())
            arrived.chmod(_READ_ONLY)
            yield arrived, digest.hexdigest(), size
        finally:
            _discard(arrived)

    def _name(self, arrived: Path, path: Path) -> bool:
        """Whether the file got its name; False when another one has that name."""
        _make_folder(path.parent)
        try:
            _link(arrived, path)
        except FileExistsError:
            return False
        _flush_folder(path.parent)
        return True

    def _move(self, path: Path, aside: str) -> Path:
        _make_folder(self.home / aside)
        target = next(free for free in _numbered(self.home / aside / path.name) if not free.exists())
        path.rename(target)
        _flush_folder(target.parent)
        _flush_folder(path.parent)
        return target


def sha256_of(path: Path) -> str:
    """The SHA-256 of a file, as 64 hex digits.

    Raises
    ------
    OSError
        When it cannot be read.
    """
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


_HEAL = Sentence("Heal it from the second copy")


def _chunks(source: Source) -> Iterator[bytes]:
    if isinstance(source, bytes):
        source = io.BytesIO(source)
    if not isinstance(source, Path):
        yield from iter(lambda: source.read(_CHUNK), b"")
        return
    try:
        file = source.open("rb", buffering=0)
    except OSError as error:
        raise _unread(source, error) from error
    with file:
        yield from _chunks_of(file, source)


def _chunks_of(file: io.FileIO, source: Path) -> Iterator[bytes]:
    while True:
        try:
            chunk = file.read(_CHUNK)
        except OSError as error:
            raise _unread(source, error) from error
        if not chunk:
            return
        yield chunk


def _unread(source: Path, error: OSError) -> Trouble:
    return Trouble(
        Sentence("%(source)s could not be read", source=source.name),
        _reason(error),
        Sentence("Check the card, the cable and the permissions, and try again"),
    )


def _link(arrived: Path, path: Path) -> None:
    """Gives the file its name without ever replacing another one."""
    if os.name == "nt":
        arrived.rename(path)  # refuses an existing name there; a read-only file can't be unlinked after a link
        return
    try:
        os.link(arrived, path)
    except FileExistsError:
        raise
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EACCES):
            raise
        # Memory cards and some network shares know no links. Renaming may replace what another process named
        # between the two lines; those bytes have the same checksum.
        if path.exists():
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path)) from error
        arrived.rename(path)


def _make_folder(folder: Path) -> None:
    """The folder exists and its name is on the disk, as are those of the folders above it that were made."""
    if folder.is_dir():
        return
    _make_folder(folder.parent)
    folder.mkdir(exist_ok=True)
    _flush_folder(folder.parent)


def _flush_folder(folder: Path) -> None:
    if os.name == "nt":  # folders can't be opened there; the file system journals names itself
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    except OSError as error:
        if error.errno not in _NO_FOLDER_FLUSH:
            raise
    finally:
        os.close(descriptor)


def _discard(path: Path) -> None:
    try:
        path.unlink(missing_ok=True)
    except PermissionError:  # a read-only file on Windows
        path.chmod(stat.S_IWRITE | stat.S_IREAD)
        path.unlink(missing_ok=True)


def _is_left_over(path: Path) -> bool:
    return not path.name.startswith(f"{os.getpid()}-") and path.stat().st_mtime < _STARTED


def _numbered(path: Path) -> Iterator[Path]:
    yield path
    number = 1
    while True:
        number += 1
        yield path.with_name(f"{path.name}.{number}")


def matches(path: Path, sha256: str) -> bool:
    """Whether a file can be read and has that checksum."""
    try:
        return sha256_of(path) == sha256
    except OSError:
        return False  # what can't be read any more is as good as damaged


def _refuse_damaged(path: Path, sha256: str) -> None:
    if not matches(path, sha256):
        raise Damaged(
            Sentence("The capture %(path)s is damaged", path=path.name),
            Sentence("its bytes no longer match its name"),
            _HEAL,
        )


def _checked_suffix(suffix: str) -> str:
    if not _SUFFIX.fullmatch(suffix):
        raise ValueError(f"not the ending of a file name: {suffix!r}")
    return suffix


def _title(source: Source) -> str:
    return source.name if isinstance(source, Path) else "A capture"


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()


@contextmanager
def _plainly(home: Path) -> Iterator[None]:
    """What the system says about the vault's disk, in words."""
    try:
        yield
    except OSError as error:
        todo = {
            errno.ENOSPC: Sentence("Make room on that disk, then run the same again: it goes on where it stopped"),
            errno.EDQUOT: Sentence("Make room on that disk, then run the same again: it goes on where it stopped"),
            errno.EROFS: Sentence("Choose a disk that can be written to"),
        }.get(error.errno or 0, Sentence("Check that you may write there"))
        raise CannotBegin(
            Sentence("Nothing more can be kept in %(home)s", home=home), _reason(error), todo
        ) from error
