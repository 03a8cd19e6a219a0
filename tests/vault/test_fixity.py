"""Every kind of fault is found and named, and a second copy heals either side."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.errors import CannotBegin
from solander.vault.fixity import CopyReport, Fault, check_vault, compare, second_copy
from solander.vault.store import Vault, sha256_of

CONTENTS = [bytes([number]) * (number * 7 + 1) for number in range(6)]


def written(root: Path) -> dict[str, str]:
    """A small tree and what was written down of it."""
    for number, content in enumerate(CONTENTS):
        path = root / ("deep/er" if number % 2 else "") / f"{number}.jpg"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return {path.relative_to(root).as_posix(): sha256_of(path) for path in root.rglob("*.jpg")}


def flip_a_bit(path: Path, where: int = 0) -> None:
    data = bytearray(path.read_bytes())
    data[where] ^= 1
    path.chmod(0o644)
    path.write_bytes(data)


def test_a_whole_tree_has_no_fault(tmp_path: Path) -> None:
    seen: list[str] = []
    expected = written(tmp_path)
    assert compare(expected, tmp_path, on_file=seen.append) == []
    assert sorted(seen) == sorted(expected)


def test_each_fault_is_found_and_named(tmp_path: Path) -> None:
    expected = written(tmp_path)
    flip_a_bit(tmp_path / "0.jpg")
    (tmp_path / "deep/er/1.jpg").unlink()
    (tmp_path / "2.jpg").rename(tmp_path / "deep/two.jpg")
    (tmp_path / "strange.txt").write_text("?")
    faults = compare(expected, tmp_path)
    assert faults == [
        Fault("changed", "0.jpg"),
        Fault("renamed", "2.jpg", "deep/two.jpg"),
        Fault("missing", "deep/er/1.jpg"),
        Fault("added", "strange.txt"),
    ]
    assert [fault.sentence for fault in faults] == [
        "0.jpg has changed.",
        "2.jpg was renamed to deep/two.jpg.",
        "deep/er/1.jpg is missing.",
        "strange.txt does not belong here.",
    ]


@given(st.integers(0, len(CONTENTS) - 1), st.data())
@settings(max_examples=60, deadline=None)
def test_any_single_flipped_bit_is_found(number: int, data: st.DataObject) -> None:
    with tempfile.TemporaryDirectory() as folder:
        expected = written(Path(folder))
        name = sorted(expected)[number]
        path = Path(folder, name)
        bit = data.draw(st.integers(0, path.stat().st_size * 8 - 1))
        content = bytearray(path.read_bytes())
        content[bit // 8] ^= 1 << bit % 8
        path.write_bytes(content)
        assert compare(expected, Path(folder)) == [Fault("changed", name)]


def test_a_copy_under_another_name_is_added_and_no_renaming(tmp_path: Path) -> None:
    expected = written(tmp_path)
    shutil.copy(tmp_path / "0.jpg", tmp_path / "copy.jpg")
    assert compare(expected, tmp_path) == [Fault("added", "copy.jpg")]


def test_each_stray_file_explains_one_that_is_gone(tmp_path: Path) -> None:
    for name in ("a", "b"):
        (tmp_path / name).write_bytes(b"same")
    expected = {name: sha256_of(tmp_path / name) for name in ("a", "b")}
    (tmp_path / "a").rename(tmp_path / "c")
    (tmp_path / "b").unlink()
    assert compare(expected, tmp_path) == [Fault("renamed", "a", "c"), Fault("missing", "b")]


def test_patterns_are_passed_over(tmp_path: Path) -> None:
    expected = written(tmp_path)
    (tmp_path / "notes.txt").write_text("?")
    assert compare(expected, tmp_path, ignore=["notes.*"]) == []
    assert len(compare(expected, tmp_path, ignore=["notes.*", "deep/*"])) == 3, (
        "what is expected cannot be ignored"
    )


def test_links_are_files_and_not_followed(tmp_path: Path) -> None:
    expected = written(tmp_path / "tree")
    (tmp_path / "tree/loop").symlink_to(tmp_path / "tree", target_is_directory=True)
    (tmp_path / "tree/gone").symlink_to(tmp_path / "nowhere")
    assert compare(expected, tmp_path / "tree") == [Fault("added", "gone"), Fault("added", "loop")]


def test_what_cannot_be_read_is_named(tmp_path: Path) -> None:
    expected = written(tmp_path)
    (tmp_path / "0.jpg").unlink()
    (tmp_path / "0.jpg").symlink_to(tmp_path / "nowhere")
    (fault,) = compare(expected, tmp_path)
    assert (fault.kind, fault.path) == ("unreadable", "0.jpg")
    assert fault.sentence == "0.jpg cannot be read: no such file or directory."


# --- a vault ----------------------------------------------------------------------------------------


@pytest.fixture
def vault(tmp_path: Path) -> Vault:
    return filled(tmp_path / "collection")


def filled(root: Path) -> Vault:
    vault = Vault(root)
    for content in CONTENTS:
        vault.put(content, suffix=".jpg")
    return vault


def shas(vault: Vault) -> list[str]:
    return [sha256 for sha256, _ in vault.names()]


def test_a_whole_vault_has_no_fault_with_things_set_aside(vault: Vault) -> None:
    expected = shas(vault)
    vault.set_aside(expected.pop())
    (vault.home / ".arriving/1-2.part").write_bytes(b"half")
    assert check_vault(vault, expected) == []
    assert check_vault(Vault(vault.root / "empty"), []) == []


def test_faults_of_a_vault_are_named_from_the_collection(vault: Vault) -> None:
    first, second, third, fourth, *_ = expected = shas(vault)
    path = {sha256: vault.path(sha256) for sha256 in expected}
    flip_a_bit(path[first])
    path[second].unlink()
    path[third].rename(path[third].with_name("renamed.jpg"))
    (path[fourth].parent / "stray.txt").write_text("?")
    uncatalogued = expected.pop()
    faults = {(fault.kind, fault.path.split("/", 2)[-1]): fault for fault in check_vault(vault, expected)}
    assert faults.keys() == {
        ("changed", f"{first}.jpg"),
        ("missing", second),
        ("renamed", third),
        ("added", "stray.txt"),
        ("added", f"{uncatalogued}.jpg"),
    }
    assert all(fault.path.startswith("captures/") for fault in faults.values())
    assert "renamed.jpg" in faults["renamed", third].sentence
    assert "take the same files in again" in faults["added", f"{uncatalogued}.jpg"].sentence
    assert "heal it" in faults["changed", f"{first}.jpg"].sentence


# --- a second copy ----------------------------------------------------------------------------------


def state(vault: Vault) -> dict[str, bytes]:
    return {sha256: path.read_bytes() for sha256, path in vault.names()}


def test_a_second_copy_is_made_then_only_compared(vault: Vault, tmp_path: Path) -> None:
    Vault(vault.root, folder="sound").put(b"a told story", suffix=".flac")
    first = second_copy(vault.root, tmp_path / "target")
    assert (len(first.copied), first.same, first.faults) == (len(CONTENTS) + 1, 0, [])
    assert state(Vault(tmp_path / "target")) == state(vault)
    assert any(path.startswith("sound/") for path in first.copied)
    assert second_copy(vault.root, tmp_path / "target") == CopyReport(same=len(CONTENTS) + 1)


def test_either_side_is_healed_and_damaged_bytes_stay(vault: Vault, tmp_path: Path) -> None:
    whole, target = state(vault), filled(tmp_path / "target")
    here, there, lost, *_ = shas(vault)
    flip_a_bit(vault.path(here))
    flip_a_bit(target.path(there))
    vault.path(lost).unlink()
    report = second_copy(vault.root, target.root)
    assert report.healed_source == sorted(f"captures/{each[:2]}/{each}.jpg" for each in (here, lost))
    assert report.healed_target == [f"captures/{there[:2]}/{there}.jpg"]
    assert (report.copied, report.same, report.faults) == ([], len(CONTENTS) - 3, [])
    assert state(vault) == state(target) == whole
    for side, sha256 in ((vault, here), (target, there)):
        assert sha256_of(side.home / ".damaged" / f"{sha256}.jpg") != sha256
    assert second_copy(vault.root, target.root).same == len(CONTENTS)


def test_what_is_whole_nowhere_is_a_fault_and_left_alone(vault: Vault, tmp_path: Path) -> None:
    target = filled(tmp_path / "target")
    both, here, there, *_ = shas(vault)
    for side in (vault, target):
        flip_a_bit(side.path(both))
    flip_a_bit(vault.path(here))
    target.path(here).unlink()
    vault.path(there).unlink()
    flip_a_bit(target.path(there))
    before = state(vault), state(target)
    report = second_copy(vault.root, target.root)
    assert [(fault.kind, fault.path[12:76]) for fault in report.faults] == [
        ("changed", sha256) for sha256 in sorted((both, here, there))
    ]
    assert (state(vault), state(target)) == before


def test_only_what_the_catalogue_knows_comes_back(vault: Vault, tmp_path: Path) -> None:
    target = filled(tmp_path / "target")
    known, unknown, nowhere, *_ = expected = shas(vault)
    for sha256 in (known, unknown, nowhere):
        vault.path(sha256).unlink()
    target.path(nowhere).unlink()
    expected.remove(unknown)
    report = second_copy(vault.root, target.root, expected=expected)
    assert [path[12:76] for path in report.healed_source] == [known]
    assert [(fault.kind, fault.path) for fault in report.faults] == [
        ("added", f"captures/{unknown[:2]}/{unknown}.jpg"),
        ("missing", nowhere),
    ]
    assert target.path(unknown).exists()


def test_the_collection_is_no_second_copy_of_itself(vault: Vault, tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(vault.root, target_is_directory=True)
    with pytest.raises(CannotBegin, match="the collection itself"):
        second_copy(vault.root, tmp_path / "link")
