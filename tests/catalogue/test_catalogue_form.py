"""The form of the database: migrations, what is opened and what is refused."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy.exc import IntegrityError

from solander.catalogue.database import APPLICATION_ID, bring_up_to_date, connect, migrate, migrating
from solander.catalogue.schema import HEAD, metadata
from solander.catalogue.store import Catalogue
from solander.core.errors import CannotBegin


def _not_the_index(_object: object, name: str | None, kind: str, *_: object) -> bool:
    in_the_metadata = name in {*metadata.tables, "alembic_version"}
    return in_the_metadata if kind == "table" else True


def test_migrations_from_nothing_give_the_tables_of_the_schema(catalogue: Catalogue) -> None:
    options = {"include_object": _not_the_index, "compare_type": True, "compare_server_default": True}
    with catalogue._reading() as connection:
        context = MigrationContext.configure(connection, opts=options)
        assert compare_metadata(context, metadata) == []


def test_the_comparison_can_fail(catalogue: Catalogue) -> None:
    with catalogue._engine.connect() as connection:
        connection.exec_driver_sql("DROP INDEX ix_views_accession")
        context = MigrationContext.configure(connection, opts={"include_object": _not_the_index})
        assert len(compare_metadata(context, metadata)) == 1


def test_head_is_the_newest_migration_and_they_are_in_order() -> None:
    config = Config()
    config.set_main_option("script_location", "solander.catalogue:migrations")
    config.set_main_option("path_separator", "os")
    revisions = [script.revision for script in ScriptDirectory.from_config(config).walk_revisions()][::-1]
    assert revisions == [f"{number:04d}" for number in range(1, len(revisions) + 1)]
    assert revisions[-1] == HEAD


def test_a_migration_that_is_not_committed_leaves_nothing(tmp_path: Path) -> None:
    engine = connect(tmp_path / "solander.db", patience_s=1)
    with migrating(engine) as connection:
        migrate(connection)
    with engine.connect() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM sqlite_master").scalar() == 0
    engine.dispose()


def test_migrating_twice_changes_nothing(catalogue: Catalogue) -> None:
    bring_up_to_date(catalogue._engine, catalogue.path.parent)
    with migrating(catalogue._engine) as connection:
        migrate(connection)
        connection.commit()
    assert catalogue.prints() == []


def test_what_the_first_form_kept_is_there_in_the_newest(tmp_path: Path) -> None:
    engine = connect(tmp_path / "solander.db", patience_s=1)
    with migrating(engine) as connection:
        migrate(connection, to="0001")
        for sql in _OF_THE_FIRST_FORM:
            connection.exec_driver_sql(sql)
        connection.commit()
    engine.dispose()
    with Catalogue.open(tmp_path) as catalogue:
        (found,) = catalogue.prints()
        assert (found.accession, found.views[0].outline.second) == ("B1-0001", None)
        assert found.views[0].outline.corners[2] == (3.0, 4.0)
        assert (found.views[0].outline.bows, found.views[0].stand) == (None, None)


_OF_THE_FIRST_FORM = (
    "INSERT INTO captures VALUES ('%s', 'a.jpg', 'image/jpeg', 1, 9, 9, 1, NULL, NULL, '.jpg')" % ("0" * 64),
    "INSERT INTO prints VALUES ('B1-0001', NULL, 1, NULL)",
    "INSERT INTO views VALUES ('k', 'B1-0001', 1, NULL, 'recto', '%s', 0, '[[0,0],[3,0],[3,4],[0,4]]', 0.5, 0, "
    "0, 3, 4, NULL, NULL)" % ("0" * 64),
)
"""Rows as the first migration has them, in the order of its columns."""


def test_what_the_tenth_form_kept_is_there_and_every_act_of_it_is_taken_back(tmp_path: Path) -> None:
    """Its history tells of rows as they were then, without the columns that came later."""
    engine = connect(tmp_path / "solander.db", patience_s=1)
    with migrating(engine) as connection:
        migrate(connection, to="0010")
        driver = connection.connection.driver_connection
        assert driver is not None
        for sql in (Path(__file__).parent / "form_0010.sql").read_text(encoding="utf-8").split(";\n"):
            driver.execute(sql)
        acts = [said for (said,) in driver.execute("SELECT what FROM acts ORDER BY id")]
        connection.commit()
    engine.dispose()
    with Catalogue.open(tmp_path) as catalogue:
        assert catalogue.setting("title") == "Of the tenth form"
        assert len(catalogue.setting("identifier")) == len("1d2fd847-e932-430b-961a-e2119c1fce8f")
        assert [one.accession for one in catalogue.prints()] == ["B1-0001", "B1-0003", "B3-0004"]
        assert len(acts) > 20
        assert [catalogue.undo("Ada") for _ in acts] == acts[::-1]
        assert (catalogue.prints(), catalogue.people(), catalogue.statements()) == ([], [], [])


@pytest.mark.parametrize("name", ["plain", "with space", "100% sure?", "a#b;c=d&e", "Köln – 写真"])
def test_any_folder_name_will_do(tmp_path: Path, name: str) -> None:
    Catalogue.create(tmp_path / name, title="Box one").close()
    with Catalogue.open(tmp_path / name) as catalogue:
        assert catalogue.setting("title") == "Box one"
    assert [path.name for path in (tmp_path / name).iterdir()] == ["solander.db"]


def test_the_database_is_set_to_lose_nothing(catalogue: Catalogue) -> None:
    with catalogue._reading() as connection:
        asked = ("journal_mode", "synchronous", "foreign_keys", "application_id")
        told = [connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in asked]
    full = 2
    assert told == ["wal", full, 1, APPLICATION_ID]


def test_a_second_catalogue_is_not_made_over_the_first(tmp_path: Path) -> None:
    Catalogue.create(tmp_path, title="first").close()
    with pytest.raises(CannotBegin, match="there is one already"):
        Catalogue.create(tmp_path, title="second")
    with Catalogue.open(tmp_path) as catalogue:
        assert catalogue.setting("title") == "first"


def test_a_half_made_catalogue_is_no_hindrance(tmp_path: Path) -> None:
    (tmp_path / ".solander.db.new").write_bytes(b"cut off")
    with Catalogue.create(tmp_path) as catalogue:
        assert catalogue.prints() == []


def test_a_folder_without_a_catalogue_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotBegin, match="is no collection"):
        Catalogue.open(tmp_path)
    assert list(tmp_path.iterdir()) == []


def _foreign_database(path: Path) -> None:
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE other (a)")
    connection.commit()
    connection.close()


@pytest.mark.parametrize(
    "make", [Path.touch, lambda path: path.write_bytes(b"no database" * 50), _foreign_database]
)
def test_another_file_of_that_name_is_refused_and_left_as_it_is(tmp_path: Path, make) -> None:  # type: ignore[no-untyped-def]
    make(tmp_path / "solander.db")
    before = (tmp_path / "solander.db").read_bytes()
    with pytest.raises(CannotBegin, match="not written by Solander"):
        Catalogue.open(tmp_path)
    assert (tmp_path / "solander.db").read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["solander.db"]


def test_what_a_newer_solander_wrote_is_refused(catalogue: Catalogue) -> None:
    root = catalogue.path.parent
    with catalogue._engine.connect() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '0999'")
        connection.commit()
    with pytest.raises(CannotBegin, match=r"a newer Solander wrote it \(form 0999"):
        Catalogue.open(root)


@pytest.mark.parametrize("table", ["acts", "changes", "captures", "arrivals"])
def test_history_and_captures_cannot_be_rewritten(box: Catalogue, table: str) -> None:
    for sql in (f"DELETE FROM {table}", f"UPDATE {table} SET rowid = rowid"):
        with box._engine.connect() as connection, pytest.raises(IntegrityError, match="appended only"):
            connection.exec_driver_sql(sql)


def test_no_two_collections_have_one_identifier(tmp_path: Path) -> None:
    told = set()
    for name in "ab":
        with Catalogue.create(tmp_path / name) as made:
            told.add(made.setting("identifier"))
    assert len(told - {""}) == 2
