"""The vault: any bytes come back, nothing is overwritten, trouble is said in words."""

from __future__ import annotations

import errno
import hashlib
import io
import os
import stat
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import solander.vault.store as store
from solander.core.errors import CannotBegin, NotFound, Trouble
from solander.vault.store import Damaged, Vault, sha256_of

# The SHA-256 of nothing and of "abc" (FIPS 180-4 examples, NIST).
OF_NOTHING = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
OF_ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


@pytest.fixture
def vault(tmp_path: Path) -> Vault:
    return Vault(tmp_path / "collection")


def files(vault: Vault) -> set[str]:
    return {path.relative_to(vault.home).as_posix() for path in vault.home.rglob("*") if path.is_file()}


def spoil(path: Path, content: bytes = b"other bytes") -> None:
    path.chmod(0o644)
    path.write_bytes(content)


@given(
    st.binary(max_size=4000), st.sampled_from(["bytes", "file", "stream"]), st.sampled_from(["", ".jpg", ".heic"])
)
@settings(max_examples=80, deadline=None)
def test_any_bytes_come_back(content: bytes, way: str, suffix: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        vault, given_file = Vault(Path(folder) / "c"), Path(folder) / "given"
        given_file.write_bytes(content)
        source = {"bytes": content, "file": given_file, "stream": io.BytesIO(content)}[way]
        kept = vault.put(source, suffix=suffix)
        assert (kept.sha256, kept.size, kept.already) == (hashlib.sha256(content).hexdigest(), len(content), False)
        assert vault.path(kept.sha256) == kept.path
        assert kept.path.read_bytes() == given_file.read_bytes() == content
        assert list(vault.names()) == [(kept.sha256, kept.path)]
        assert files(vault) == {f"{kept.sha256[:2]}/{kept.sha256}{suffix}"}


def test_names_are_the_published_checksums(vault: Vault) -> None:
    assert vault.put(b"abc", suffix=".jpg").sha256 == OF_ABC
    assert vault.put(b"", suffix=".jpg").sha256 == OF_NOTHING


def test_more_than_one_chunk(vault: Vault) -> None:
    content = os.urandom(3 * (1 << 20) + 17)
    assert vault.put(io.BytesIO(content), suffix=".tif").path.read_bytes() == content


def test_a_capture_is_read_only(vault: Vault) -> None:
    assert stat.S_IMODE(vault.put(b"abc", suffix=".jpg").path.stat().st_mode) == 0o444


def test_same_bytes_twice_are_one_capture_whatever_the_ending(vault: Vault) -> None:
    first = vault.put(b"abc", suffix=".jpg")
    before = first.path.stat()
    again = vault.put(b"abc", suffix=".jpeg")
    assert (again.already, again.path) == (True, first.path)
    assert first.path.stat() == before
    assert len(files(vault)) == 1


def test_a_damaged_capture_is_reported_and_not_overwritten(vault: Vault) -> None:
    kept = vault.put(b"abc", suffix=".jpg")
    spoil(kept.path)
    with pytest.raises(Damaged, match="no longer match its name"):
        vault.put(b"abc", suffix=".jpg")
    assert kept.path.read_bytes() == b"other bytes"


def test_two_takers_at_once_give_one_capture(vault: Vault, monkeypatch: pytest.MonkeyPatch) -> None:
    """The other one names its file between our look and our naming."""
    other = vault.put(b"abc", suffix=".jpg")
    looks = iter([None, other.path])
    monkeypatch.setattr(Vault, "_find", lambda self, sha256: next(looks))
    assert vault.put(b"abc", suffix=".jpg").already
    assert files(vault) == {f"{OF_ABC[:2]}/{OF_ABC}.jpg"}


def test_the_ending_may_be_told_from_the_arriving_file(vault: Vault) -> None:
    def by_content(arriving: Path) -> str:
        assert arriving.read_bytes() == b"abc"
        return ".png"

    assert vault.put(b"abc", suffix=by_content).path.suffix == ".png"


def test_what_its_judge_refuses_is_not_kept(vault: Vault) -> None:
    def refuse(_: Path) -> str:
        raise Trouble("no picture")

    with pytest.raises(Trouble, match="no picture"):
        vault.put(b"abc", suffix=refuse)
    assert files(vault) == set()


@pytest.mark.parametrize("suffix", ["jpg", "../x", ".jpg/..", ".JPG", ". "])
def test_an_ending_that_is_none_is_refused(vault: Vault, suffix: str) -> None:
    with pytest.raises(ValueError, match="ending"):
        vault.put(b"abc", suffix=suffix)
    assert files(vault) == set()


def test_only_the_bytes_that_are_meant(vault: Vault) -> None:
    with pytest.raises(Damaged):
        vault.put(b"abd", suffix=".jpg", sha256=OF_ABC)
    assert files(vault) == set()
    assert vault.put(b"abc", suffix=".jpg", sha256=OF_ABC).sha256 == OF_ABC


@pytest.mark.parametrize("name", [OF_NOTHING, "", "..", "../../etc/passwd", "*", OF_ABC.upper()])
def test_what_is_not_there_is_not_found(vault: Vault, name: str) -> None:
    vault.put(b"abc", suffix=".jpg")
    with pytest.raises(NotFound):
        vault.path(name)


def test_a_capture_can_be_set_aside_and_kept_again(vault: Vault) -> None:
    kept = vault.put(b"abc", suffix=".jpg")
    assert vault.set_aside(kept.sha256).read_bytes() == b"abc"
    assert list(vault.names()) == []
    vault.put(b"abc", suffix=".jpg")
    assert vault.set_aside(kept.sha256).name == f"{OF_ABC}.jpg.2"


def test_a_damaged_capture_gives_way_to_whole_bytes_only(vault: Vault, tmp_path: Path) -> None:
    kept = vault.put(b"abc", suffix=".jpg")
    whole, wrong = tmp_path / "whole", tmp_path / "wrong"
    whole.write_bytes(b"abc")
    wrong.write_bytes(b"abd")
    assert vault.replace_damaged(kept.path, whole).already, "a whole one stays"
    spoil(kept.path)
    with pytest.raises(Damaged):
        vault.replace_damaged(kept.path, wrong)
    assert vault.replace_damaged(kept.path, whole).path.read_bytes() == b"abc"
    assert (vault.home / ".damaged" / kept.path.name).read_bytes() == b"other bytes"


def test_sweeping_removes_what_an_interrupted_take_in_left(vault: Vault) -> None:
    vault.put(b"abc", suffix=".jpg")
    arriving = vault.home / ".arriving"
    names = ["1-old.part", "1-new.part", f"{os.getpid()}-old.part"]
    for name in names:
        (arriving / name).write_bytes(b"half")
        os.utime(arriving / name, (1, 1) if "old" in name else None)
    assert vault.sweep() == 1
    assert {path.name for path in arriving.iterdir()} == set(names[1:])
    assert sha256_of(vault.path(OF_ABC)) == OF_ABC


def test_a_file_system_without_links(vault: Vault, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_links(*_: object) -> None:
        raise OSError(errno.EPERM, os.strerror(errno.EPERM))

    monkeypatch.setattr(os, "link", no_links)
    first = vault.put(b"abc", suffix=".jpg")
    assert (first.already, vault.put(b"abc", suffix=".jpg").already) == (False, True)
    monkeypatch.setattr(Vault, "_find", lambda self, sha256: None)
    assert vault.put(b"abc", suffix=".jpg").already
    assert files(vault) == {f"{OF_ABC[:2]}/{OF_ABC}.jpg"}


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EDQUOT])
@pytest.mark.parametrize("step", ["fsync", "link"])
def test_a_disk_that_takes_no_more_is_named(
    vault: Vault, monkeypatch: pytest.MonkeyPatch, number: int, step: str
) -> None:
    def full(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, step, full)
    with pytest.raises(CannotBegin, match="Nothing more can be kept") as caught:
        vault.put(b"abc", suffix=".jpg")
    assert os.strerror(number).lower() in caught.value.why
    assert caught.value.todo
    monkeypatch.undo()
    assert files(vault) == set(), "nothing half is left"
    assert vault.put(b"abc", suffix=".jpg").already is False


def test_a_source_that_cannot_be_read_is_the_source_s_trouble(vault: Vault, tmp_path: Path) -> None:
    for source in (tmp_path / "gone.jpg", tmp_path):
        with pytest.raises(Trouble, match="could not be read") as caught:
            vault.put(source, suffix=".jpg")
        assert not isinstance(caught.value, CannotBegin)
    assert files(vault) == set()


def test_bytes_are_on_the_disk_before_they_have_a_name(vault: Vault, monkeypatch: pytest.MonkeyPatch) -> None:
    steps: list[str] = []
    sync, link = os.fsync, os.link
    monkeypatch.setattr(os, "fsync", lambda number: (steps.append(_kind_of(number)), sync(number))[1])
    monkeypatch.setattr(os, "link", lambda old, new: (steps.append("name"), link(old, new))[1])
    vault.put(b"abc", suffix=".jpg")
    assert steps.index("file") < steps.index("name")
    assert steps[-1] == "folder", "the name is flushed too"


def _kind_of(number: int) -> str:
    return "folder" if stat.S_ISDIR(os.fstat(number).st_mode) else "file"


def test_a_folder_that_cannot_be_flushed_is_no_trouble(vault: Vault, monkeypatch: pytest.MonkeyPatch) -> None:
    sync = os.fsync

    def no_folders(number: int) -> None:
        if _kind_of(number) == "folder":
            raise OSError(errno.EINVAL, os.strerror(errno.EINVAL))
        sync(number)

    monkeypatch.setattr(store.os, "fsync", no_folders)
    assert vault.put(b"abc", suffix=".jpg").path.exists()
