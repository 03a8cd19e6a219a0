"""Releases that can be proven whole: BagIt 1.0 bags for the archive, a plain manifest for other releases.

A release appears under its name only when it is complete: it is built beside the target and renamed in one
step. The checksum is SHA-256 throughout, because captures are named by it: the name, the catalogue and the
manifest can be held against each other, and `sha256sum` is on nearly every system. A second algorithm would
double the reading and prove nothing more about a bit that flipped.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import secrets
import shutil
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from attrs import frozen

from solander import __version__
from solander.core.errors import CannotBegin, InvalidValue, NotFound, Trouble
from solander.delivery.package_names import NamesTaken, check_path, decoded, encoded, leaves_folder
from solander.delivery.package_readme import finder_readme

__all__ = [
    "BagItem",
    "DamagedSource",
    "Manifest",
    "files_of",
    "finder_readme",
    "is_bag",
    "outermost",
    "read_manifest",
    "whole_or_not_at_all",
    "write_bag",
    "write_manifest",
]

MANIFEST, TAG_MANIFEST = "manifest-sha256.txt", "tagmanifest-sha256.txt"

_DECLARATION = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
_LINE = re.compile(r"([0-9a-fA-F]{64})[ \t]+\*?(.+)")
_LABEL = re.compile(r"[^\s:][^:\r\n]*(?<!\s)")
_CHUNK = 1 << 20

# What a file system answers when it has no such thing as flushing a folder (network shares, some mounts); the
# files themselves are flushed.
_NO_FOLDER_FLUSH = {errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.EACCES}


@frozen
class BagItem:
    """One file of a release: its path inside `data/`, its bytes or the file that has them, and the checksum
    that those bytes are known to have (None for what was just made)."""

    path: str
    source: Path | bytes
    sha256: str | None = None


@frozen
class Manifest:
    """What a release holds: `checksums` by path relative to `root`, and the size of all in bytes."""

    root: Path
    checksums: Mapping[str, str]
    octets: int

    @property
    def files(self) -> int:
        """How many files there are."""
        return len(self.checksums)


class DamagedSource(Trouble):
    """A file that was about to go into a release and cannot be read, or is not what its checksum says."""


def write_bag(
    target: Path, items: Iterable[BagItem], *, info: Mapping[str, str | Sequence[str]] | None = None
) -> Manifest:
    """The manifest of the bag that lies at `target` afterwards, payload only, paths from `data/` on.

    Items are taken one at a time, so a long release needs no more memory than its largest made-up item.
    `info` holds further labels of `bag-info.txt` (RFC 8493, 2.2.2), such as Source-Organization or
    External-Identifier; a sequence repeats the label. Bagging-Date is today unless given.

    Raises
    ------
    CannotBegin
        When something lies at `target` already, or the disk cannot be written.
    DamagedSource
        When a file cannot be read or does not have its known checksum. Nothing is released then.
    InvalidValue
        When a name could not lie on every disk.
    """
    with whole_or_not_at_all(target) as root:
        checksums, octets = _take_in(root / "data", items)
        payload = {f"data/{path}": sha256 for path, sha256 in checksums.items()}
        with _plainly():
            _write_tags(root, payload, _bag_info(info or {}, f"{octets}.{len(payload)}"))
    return Manifest(target, payload, octets)


def write_manifest(root: Path) -> Manifest:
    """The manifest of all files below `root`, which is written to `root/manifest-sha256.txt`.

    For releases that are no bags; `sha256sum -c manifest-sha256.txt` checks them.

    Raises
    ------
    CannotBegin
        When a manifest is there already, or the disk cannot be written.
    InvalidValue
        When a name could not lie on every disk.
    """
    _refuse_existing(root / MANIFEST)
    paths, taken = sorted(files_of(root)), NamesTaken()
    for path in paths:
        taken.take(check_path(path))
    checksums = {path: _sha256_of(root / path) for path in paths}
    with _plainly():
        _write(root / MANIFEST, _lines(checksums))
    return Manifest(root, checksums, sum((root / path).stat().st_size for path in paths))


def read_manifest(root: Path) -> dict[str, str]:
    """SHA-256 by path of every file that a release says it holds, the describing files of a bag among them.

    Raises
    ------
    NotFound
        When there is no manifest.
    InvalidValue
        When a line cannot be read, names a file twice, or names one outside the release.
    """
    if not (root / MANIFEST).is_file():
        raise NotFound(f"{root} has no {MANIFEST}", "it is no release, or its manifest was lost")
    found = _read(root / MANIFEST)
    if (root / TAG_MANIFEST).is_file():
        found |= _read(root / TAG_MANIFEST)
    return found


def is_bag(root: Path) -> bool:
    """Whether the folder says that it is a bag; how well it keeps the promise is for verifying to say."""
    return (root / "bagit.txt").is_file() and (root / "data").is_dir()


def outermost(root: Path) -> str:
    """The manifest that nothing vouches for: the tag manifest of a bag, the only one of another release."""
    return TAG_MANIFEST if (root / TAG_MANIFEST).is_file() else MANIFEST


def files_of(root: Path) -> Iterator[str]:
    """The path of every file below `root`, relative, with forward slashes, except the outermost manifest.

    Folders are not followed through links; a link is listed as a file.
    """
    left_out = outermost(root)
    for folder, folders, names in os.walk(root):
        linked = [name for name in folders if (Path(folder) / name).is_symlink()]
        for name in sorted([*names, *linked]):
            path = (Path(folder) / name).relative_to(root).as_posix()
            if path != left_out:
                yield path


@contextmanager
def whole_or_not_at_all(target: Path) -> Iterator[Path]:
    """A folder beside `target` to build a release in; it gets its name when the block ends well.

    When the block fails the folder is removed. After a crash or a power cut it stays as `NAME.unfinished-…`,
    which nobody takes for the release and which may be deleted.

    Raises
    ------
    CannotBegin
        When something lies at `target` already, or the disk cannot be written.
    """
    _refuse_existing(target)
    unfinished = target.with_name(f"{target.name}.unfinished-{secrets.token_hex(4)}")
    with _plainly():
        unfinished.mkdir(parents=True)
    try:
        yield unfinished
        _refuse_existing(target)
        with _plainly():
            _flush_folders(unfinished)
            unfinished.rename(target)
            _flush_folder(target.parent)
    finally:
        if unfinished.exists():
            shutil.rmtree(unfinished)


def _refuse_existing(target: Path) -> None:
    if target.exists() or target.is_symlink():
        raise CannotBegin(
            f"The release was not written to {target}",
            "something is there already, and a release never replaces another one",
            "Choose a folder that does not exist yet",
        )


def _write_tags(root: Path, payload: Mapping[str, str], bag_info: str) -> None:
    _write(root / "bagit.txt", _DECLARATION)
    _write(root / "bag-info.txt", bag_info)
    _write(root / MANIFEST, _lines(payload))
    tags = {name: _sha256_of(root / name) for name in ("bagit.txt", "bag-info.txt", MANIFEST)}
    _write(root / TAG_MANIFEST, _lines(tags))


def _take_in(data: Path, items: Iterable[BagItem]) -> tuple[dict[str, str], int]:
    """Checksums by path of what was copied into `data`, and the sum of sizes in bytes."""
    checksums: dict[str, str] = {}
    taken, octets = NamesTaken(), 0
    with _plainly():
        data.mkdir()
    for item in items:
        path = check_path(item.path)
        taken.take(path)
        with _plainly():  # not around the items: what fails while they are made is no matter of this disk
            checksums[path], size = _copy(item, data / path)
        octets += size
    return checksums, octets


def _copy(item: BagItem, target: Path) -> tuple[str, int]:
    """SHA-256 and size of the bytes that were copied, hashed on their way so that they are read once."""
    target.parent.mkdir(parents=True, exist_ok=True)
    digest, size = hashlib.sha256(), 0
    with target.open("xb") as file:
        for chunk in _chunks(item):
            digest.update(chunk)
            size += len(chunk)
            file.write(chunk)
        file.flush()
        os.fsync(file.fileno())
    if item.sha256 not in (None, digest.hexdigest()):
        raise _stopped(item, f"{_title(item)} is damaged: its bytes no longer have their checksum")
    return digest.hexdigest(), size


def _chunks(item: BagItem) -> Iterator[bytes]:
    if isinstance(item.source, bytes):
        yield item.source
        return
    try:
        with item.source.open("rb") as file:
            chunks = iter(lambda: file.read(_CHUNK), b"")
            yield from chunks
    except OSError as error:
        why = f"{item.source.name} could not be read: {(error.strerror or str(error)).lower()}"
        raise _stopped(item, why) from error


def _stopped(item: BagItem, why: str) -> DamagedSource:
    return DamagedSource(
        f"The release was stopped at {item.path}", why, "Heal it from the second copy, then release again"
    )


def _title(item: BagItem) -> str:
    return item.source.name if isinstance(item.source, Path) else item.path


def _bag_info(info: Mapping[str, str | Sequence[str]], oxum: str) -> str:
    """The text of bag-info.txt; ours come first, what was given goes before ours of the same label."""
    ours: dict[str, str | Sequence[str]] = {
        "Bag-Software-Agent": f"Solander {__version__}",
        "Bagging-Date": date.today().isoformat(),
        "Payload-Oxum": oxum,
    }
    labels = {**ours, **info, "Payload-Oxum": oxum}
    return "".join(_info_lines(label, value) for label, value in labels.items())


def _info_lines(label: str, value: str | Sequence[str]) -> str:
    if not _LABEL.fullmatch(label):
        raise InvalidValue(f"“{label}” is no label for bag-info.txt", "it is empty or has a colon in it")
    values = [value] if isinstance(value, str) else value
    # One value is one line: what is folded over several is read differently by different programs.
    return "".join(f"{label}: {' '.join(text.split())}\n" for text in values)


def _lines(checksums: Mapping[str, str]) -> str:
    return "".join(f"{sha256}  {encoded(path)}\n" for path, sha256 in sorted(checksums.items()))


def _read(manifest: Path) -> dict[str, str]:
    try:
        text = manifest.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        raise InvalidValue(f"{manifest} could not be read", "it is no UTF-8 text; it is damaged") from error
    found: dict[str, str] = {}
    for number, line in enumerate(re.split("\r\n|\n|\r", text), start=1):
        if not line:
            continue
        path, sha256 = _entry(manifest, number, line)
        if path in found:
            raise InvalidValue(f"{manifest} names {path} twice", f"again in line {number}")
        found[path] = sha256
    return found


def _entry(manifest: Path, number: int, line: str) -> tuple[str, str]:
    """Path and checksum of one line; the path is as written, not composed anew, since a disk may hold either."""
    parts = _LINE.fullmatch(line)
    if parts is None:
        raise InvalidValue(f"Line {number} of {manifest} could not be read", "it is no checksum with a path")
    path = decoded(parts[2])
    if leaves_folder(path):
        raise InvalidValue(f"Line {number} of {manifest} is not safe to follow", f"“{path}” leaves the release")
    return path, parts[1].lower()


def _write(path: Path, text: str) -> None:
    with path.open("xb") as file:
        file.write(text.encode("utf-8", "replace"))
        file.flush()
        os.fsync(file.fileno())


def _sha256_of(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _flush_folders(root: Path) -> None:
    for folder, _, _ in os.walk(root):
        _flush_folder(Path(folder))


def _flush_folder(folder: Path) -> None:
    if os.name == "nt":  # folders cannot be opened there; the file system journals names itself
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    except OSError as error:
        if error.errno not in _NO_FOLDER_FLUSH:
            raise
    finally:
        os.close(descriptor)


@contextmanager
def _plainly() -> Iterator[None]:
    """What the system says about the disk, in words."""
    try:
        yield
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        todo = "Make room, or choose a disk that you may write to"
        raise CannotBegin("The release could not be written", why, todo) from error
