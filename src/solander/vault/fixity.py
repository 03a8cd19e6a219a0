"""Whether all is there and unchanged, and a second copy that heals either side.

Everything is judged by SHA-256 over the whole file; dates and sizes prove nothing.
"""

from __future__ import annotations

import os
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from fnmatch import fnmatchcase
from functools import cached_property
from pathlib import Path
from typing import Literal

from attrs import Factory, define, evolve, frozen

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.vault.store import Vault, matches, sha256_of

__all__ = ["WRITE_ONCE", "CopyReport", "Fault", "check_vault", "compare", "second_copy"]

WRITE_ONCE = ("captures", "sound")
"""The folders of a collection whose files are named by their checksum and never change."""

OnFile = Callable[[str], None]

_SENTENCES = {
    "missing": "{path} is missing{detail}.",
    "added": "{path} does not belong here{detail}.",
    "changed": "{path} has changed{detail}.",
    "renamed": "{path} was renamed to {detail}.",
    "unreadable": "{path} cannot be read{detail}.",
}


@frozen
class Fault:
    """One thing that is not as it was written down.

    `path` is relative, with `/` between its parts: for "renamed" the name that was expected, and `detail` the
    name that the same bytes have now; otherwise `detail` says more where there is more to say.
    """

    kind: Literal["missing", "added", "changed", "renamed", "unreadable"]
    path: str
    detail: str = ""

    @property
    def sentence(self) -> str:
        """One line for people."""
        detail = self.detail if self.kind == "renamed" else f": {self.detail}" if self.detail else ""
        return _SENTENCES[self.kind].format(path=self.path, detail=detail)


def compare(
    expected: Mapping[str, str], root: Path, *, ignore: Sequence[str] = (), on_file: OnFile | None = None
) -> list[Fault]:
    """Every difference between what was written down and the files below `root`, in the order of paths.

    `expected` holds the SHA-256 of each relative path. `ignore` holds patterns of paths that are none of this
    business ("captures/.*", where `*` stands for any signs, `/` among them). A file that is gone while the
    same bytes lie under a new name is one fault, "renamed". `on_file` is told each path before it is read.
    """
    found = {name: path for name, path in _files(root) if not any(fnmatchcase(name, each) for each in ignore)}
    return _faults(expected, found, on_file or _nobody)


def check_vault(vault: Vault, expected: Iterable[str], *, on_file: OnFile | None = None) -> list[Fault]:
    """Every fault of a vault: `expected` are the checksums that the catalogue speaks of, each once or more.

    Paths are relative to the collection. What is kept whole but not catalogued is "added": a take-in was
    stopped between the two, and goes on when it is run again.
    """
    named = dict(vault.names())
    wanted = {vault.relative(named.get(sha256) or vault.home / sha256[:2] / sha256): sha256 for sha256 in expected}
    found = {vault.relative(path): path for name, path in _files(vault.home) if not name.startswith(".")}
    stray = {vault.relative(path): sha256 for sha256, path in named.items()}
    return [_of_vault(fault, stray) for fault in _faults(wanted, found, on_file or _nobody)]


@define
class CopyReport:
    """What a second copy did, as paths relative to the collection.

    `copied` were not in the target; `same` counts those that were whole on both sides already;
    `healed_source` and `healed_target` were damaged, or gone from the source, and are whole again; `faults`
    could not be healed, for neither side has the right bytes, or are captures that only the target knows.
    """

    copied: list[str] = Factory(list)
    same: int = 0
    healed_source: list[str] = Factory(list)
    healed_target: list[str] = Factory(list)
    faults: list[Fault] = Factory(list)


def second_copy(
    source_root: Path,
    target_root: Path,
    *,
    expected: Collection[str] | None = None,
    on_file: OnFile | None = None,
) -> CopyReport:
    """What was done to make the write-once folders of the target equal to the source's, each file read back.

    A capture whose bytes do not match its own name is replaced from the side whose bytes do; the damaged bytes
    are moved to `.damaged`, never deleted. With `expected`, the checksums that the catalogue speaks of, only
    those come back from the target to the source, and those that neither side has are faults; without it, all
    that the target has come back.

    Raises
    ------
    CannotBegin
        When both are one folder, or one of them cannot be written. What was copied until then is whole.
    """
    if os.path.realpath(source_root) == os.path.realpath(target_root):
        raise CannotBegin(
            Sentence("No second copy was made"),
            Sentence("%(target_root)s is the collection itself", target_root=target_root),
            Sentence("Name another disk"),
        )
    copying = _Copying(expected, on_file or _nobody)
    for folder in WRITE_ONCE:
        copying.level(Vault(source_root, folder=folder), Vault(target_root, folder=folder))
    copying.note_missing()
    return copying.report


@frozen
class _Side:
    """One side's file of a capture, if it has one, and whether its bytes match its name."""

    vault: Vault
    sha256: str
    path: Path | None

    @cached_property
    def whole(self) -> bool:
        return self.path is not None and matches(self.path, self.sha256)

    def heal(self, other: Path) -> Path:
        """The file made whole from the other side's, and read back."""
        if self.path is None:
            kept = self.vault.put(other, suffix=other.suffix, sha256=self.sha256)
        else:
            kept = self.vault.replace_damaged(self.path, other)
        if not matches(kept.path, self.sha256):
            raise CannotBegin(
                Sentence("%(path)s came back changed", path=kept.path),
                Sentence("the disk does not keep what is written"),
                Sentence("Use another"),
            )
        return kept.path


@define
class _Copying:
    _expected: Collection[str] | None
    _on_file: OnFile
    report: CopyReport = Factory(CopyReport)
    _seen: set[str] = Factory(set)

    def level(self, source: Vault, target: Vault) -> None:
        """Brings one folder of both sides to the same state."""
        here, there = dict(source.names()), dict(target.names())
        self._seen |= here.keys() | there.keys()
        for sha256 in sorted(here.keys() | there.keys()):
            ours, theirs = _Side(source, sha256, here.get(sha256)), _Side(target, sha256, there.get(sha256))
            self._on_file(source.relative(here[sha256]) if sha256 in here else target.relative(there[sha256]))
            self._settle(ours, theirs)

    def _settle(self, ours: _Side, theirs: _Side) -> None:
        if ours.path is None and self._expected is not None and ours.sha256 not in self._expected:
            self._only_there(theirs)
        elif ours.whole and theirs.whole:
            self.report.same += 1
        elif ours.path is not None and ours.whole:
            done = self.report.copied if theirs.path is None else self.report.healed_target
            done.append(theirs.vault.relative(theirs.heal(ours.path)))
        elif theirs.path is not None and theirs.whole:
            self.report.healed_source.append(ours.vault.relative(ours.heal(theirs.path)))
        else:
            self._nowhere_whole(ours if ours.path else theirs)

    def _only_there(self, side: _Side) -> None:
        if side.path is not None:
            detail = "only the second copy has it, and the collection does not know it"
            self.report.faults.append(Fault("added", side.vault.relative(side.path), detail))

    def _nowhere_whole(self, side: _Side) -> None:
        if side.path is not None:
            detail = "its bytes no longer match its name, and no copy is whole"
            self.report.faults.append(Fault("changed", side.vault.relative(side.path), detail))

    def note_missing(self) -> None:
        """What the catalogue speaks of and neither side has."""
        for sha256 in sorted(set(self._expected or ()) - self._seen):
            self.report.faults.append(Fault("missing", sha256, "neither side has it"))


def _of_vault(fault: Fault, named: Mapping[str, str]) -> Fault:
    if fault.kind == "added" and fault.path in named:
        return evolve(fault, detail="the catalogue does not know it; take the same files in again")
    if fault.kind == "changed":
        return evolve(fault, detail="its bytes no longer match its name; heal it from the second copy")
    return fault


def _faults(expected: Mapping[str, str], found: Mapping[str, Path], on_file: OnFile) -> list[Fault]:
    gone = [name for name in expected if name not in found]
    strays = [name for name in found if name not in expected]
    faults = list(_changed(expected, {name: found[name] for name in expected if name in found}, on_file))
    renamed = _renamed({name: expected[name] for name in gone}, {name: found[name] for name in strays}, on_file)
    faults += [Fault("renamed", name, now) for name, now in renamed.items()]
    faults += [Fault("missing", name) for name in gone if name not in renamed]
    faults += [Fault("added", name) for name in strays if name not in renamed.values()]
    return sorted(faults, key=lambda fault: fault.path)


def _changed(expected: Mapping[str, str], found: Mapping[str, Path], on_file: OnFile) -> Iterator[Fault]:
    for name, path in found.items():
        on_file(name)
        try:
            if sha256_of(path) != expected[name]:
                yield Fault("changed", name)
        except OSError as error:
            yield Fault("unreadable", name, (error.strerror or str(error)).lower())


def _renamed(gone: Mapping[str, str], strays: Mapping[str, Path], on_file: OnFile) -> dict[str, str]:
    """The new name of each file that is gone, where a stray one has its bytes; each stray serves once."""
    by_bytes: dict[str, list[str]] = defaultdict(list)
    for name, path in strays.items() if gone else ():
        on_file(name)
        try:
            by_bytes[sha256_of(path)].append(name)
        except OSError:
            continue  # it is reported as added all the same
    return {name: by_bytes[sha256].pop(0) for name, sha256 in gone.items() if by_bytes[sha256]}


def _files(root: Path) -> Iterator[tuple[str, Path]]:
    """Relative name and path of each file below `root`, sorted; links are files here, never followed."""
    for folder, folders, names in os.walk(root):
        links = [name for name in folders if Path(folder, name).is_symlink()]
        folders[:] = sorted(set(folders) - set(links))
        for name in sorted(names + links):
            path = Path(folder, name)
            yield path.relative_to(root).as_posix(), path


def _nobody(_: str) -> None:
    """Progress that nobody watches."""
