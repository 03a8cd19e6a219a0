"""The copy of a catalogue: whole, checked, and put in place only then."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import made_records as made
import pytest

from solander.catalogue.store import Catalogue
from solander.core.errors import CannotBegin, Trouble


def test_the_copy_says_the_same(box: Catalogue, tmp_path: Path) -> None:
    box.backup(tmp_path / "second" / "solander.db")
    with Catalogue.open(tmp_path / "second") as copy:
        assert made.dump(copy) == made.dump(box)
        assert (copy.history(), copy.captures()) == (box.history(), box.captures())
    assert [path.name for path in (tmp_path / "second").iterdir()] == ["solander.db"]


def test_the_copy_is_of_one_moment(box: Catalogue, tmp_path: Path) -> None:
    with box.act("Ada", "took in") as act, act.work() as work:
        work.add_print(made.a_print(4))
        box.backup(tmp_path / "solander.db")
        work.commit()
    with Catalogue.open(tmp_path) as copy:
        assert len(copy.prints()) == 3


def test_a_copy_goes_on_as_a_collection(box: Catalogue, tmp_path: Path) -> None:
    box.backup(tmp_path / "solander.db")
    with Catalogue.open(tmp_path) as copy:
        assert copy.undo("Ada") == "took in box"
        assert copy.prints() == []
    assert len(box.prints()) == 3


def test_a_copy_is_read_where_nothing_can_be_written(box: Catalogue, tmp_path: Path) -> None:
    box.backup(tmp_path / "solander.db")
    connection = sqlite3.connect(f"file:{tmp_path / 'solander.db'}?mode=ro&immutable=1", uri=True)
    assert connection.execute("SELECT count(*) FROM prints").fetchone() == (3,)
    connection.close()
    assert [path.name for path in tmp_path.iterdir()] == ["solander.db"]


def test_an_older_copy_and_its_leftover_log_are_replaced(box: Catalogue, tmp_path: Path) -> None:
    box.backup(tmp_path / "solander.db")
    (tmp_path / "solander.db-wal").write_bytes(b"left over")
    with box.act("Ada", "took in") as act, act.work() as work:
        work.add_print(made.a_print(4))
        work.commit()
    box.backup(tmp_path / "solander.db")
    with Catalogue.open(tmp_path) as copy:
        assert len(copy.prints()) == 4


def test_a_damaged_catalogue_is_said_and_the_older_copy_stays(box: Catalogue, tmp_path: Path) -> None:
    box.backup(tmp_path / "solander.db")
    before = (tmp_path / "solander.db").read_bytes()
    box.close()
    _damage(box.path)
    with Catalogue.open(box.path.parent) as damaged, pytest.raises(Trouble, match="damaged"):
        damaged.backup(tmp_path / "solander.db")
    assert (tmp_path / "solander.db").read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["solander.db"]


def _damage(path: Path) -> None:
    """Overwrites the pages behind the prints' index, as a failing disk does."""
    connection = sqlite3.connect(path)
    (page,) = connection.execute(
        "SELECT rootpage FROM sqlite_master WHERE name = 'ix_prints_container_number'"
    ).fetchone()
    (size,) = connection.execute("PRAGMA page_size").fetchone()
    connection.close()
    with path.open("rb+") as file:
        file.seek((page - 1) * size)
        file.write(b"\xff" * size)


def test_a_damaged_header_is_refused(box: Catalogue) -> None:
    box.close()
    with box.path.open("rb+") as file:
        file.write(b"\x00")
    with pytest.raises(CannotBegin, match="or is damaged"):
        Catalogue.open(box.path.parent)


def test_a_target_that_cannot_be_written_is_said(box: Catalogue, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(Trouble, match="was not copied"):
        box.backup(tmp_path / "file" / "solander.db")
