"""The first tables, the search index, and the triggers that keep history and captures from being changed."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

_SEARCHED = "accession, caption, people, place, occasion, note, transcription"
_APPENDED = ("acts", "changes", "captures", "arrivals")
_APPLICATION_ID = 0x536C6472  # "Sldr"; marks the file as a Solander catalogue


def upgrade() -> None:
    """An empty catalogue."""
    _things()
    _prints()
    _sayings()
    _history()
    _search()
    if op.get_bind().dialect.name == "sqlite":
        _sqlite_search()
        _sqlite_appended_only()
        op.execute(f"PRAGMA application_id = {_APPLICATION_ID}")


def _text(name: str, *, nullable: bool = False) -> sa.Column[str]:
    return sa.Column(name, sa.Text, nullable=nullable)


def _whole(name: str, *, nullable: bool = False) -> sa.Column[int]:
    return sa.Column(name, sa.Integer, nullable=nullable)


def _real(name: str, *, nullable: bool = True) -> sa.Column[float]:
    return sa.Column(name, sa.Float, nullable=nullable)


def _key(table: str, *columns: str) -> sa.PrimaryKeyConstraint:
    return sa.PrimaryKeyConstraint(*columns, name=f"pk_{table}")


def _points_to(table: str, column: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [target], name=f"fk_{table}_{column}")


def _indexed(table: str, *columns: str) -> None:
    for column in columns:
        op.create_index(f"ix_{table}_{column}", table, [column])


def _things() -> None:
    op.create_table("settings", _text("key"), _text("value"), _key("settings", "key"))
    op.create_table(
        "containers",
        _text("code"),
        _text("parent", nullable=True),
        _text("title"),
        _key("containers", "code"),
        _points_to("containers", "parent", "containers.code"),
    )
    _indexed("containers", "parent")
    op.create_table("occasions", _text("name"), _key("occasions", "name"))
    op.create_table(
        "people",
        _text("name"),
        sa.Column("also_called", sa.JSON, nullable=False),
        _text("born"),
        _text("died"),
        _key("people", "name"),
    )
    op.create_table(
        "places",
        _text("name"),
        _text("country"),
        _real("latitude"),
        _real("longitude"),
        _real("radius_m"),
        _key("places", "name"),
    )


def _prints() -> None:
    _captures()
    op.create_table(
        "prints",
        _text("accession"),
        _text("container", nullable=True),
        _whole("number"),
        _text("back_of", nullable=True),
        _key("prints", "accession"),
        _points_to("prints", "container", "containers.code"),
        _points_to("prints", "back_of", "prints.accession"),
    )
    _indexed("prints", "back_of")
    op.create_index("ix_prints_container_number", "prints", ["container", "number"])
    _views()


def _captures() -> None:
    op.create_table(
        "captures",
        _text("sha256"),
        _text("name"),
        _text("media_type"),
        _whole("size"),
        _whole("width"),
        _whole("height"),
        _whole("pages"),
        _real("dpi"),
        _text("taken", nullable=True),
        _text("suffix"),
        _key("captures", "sha256"),
    )
    op.create_table(
        "arrivals",
        _whole("id"),
        _text("name"),
        _text("base"),
        _text("sha256"),
        _text("at"),
        _key("arrivals", "id"),
        _points_to("arrivals", "sha256", "captures.sha256"),
    )
    _indexed("arrivals", "name", "base", "sha256")


def _views() -> None:
    op.create_table(
        "views",
        _text("key"),
        _text("accession"),
        _whole("sequence"),
        _text("superseded", nullable=True),
        _text("side"),
        _text("capture"),
        _whole("page"),
        sa.Column("corners", sa.JSON, nullable=False),
        _real("confidence", nullable=False),
        sa.Column("checked", sa.Boolean, nullable=False),
        _whole("turn"),
        _whole("width"),
        _whole("height"),
        _real("ppi"),
        sa.Column("condition", sa.JSON),
        _key("views", "key"),
        _points_to("views", "accession", "prints.accession"),
        _points_to("views", "capture", "captures.sha256"),
    )
    _indexed("views", "accession", "sequence", "capture")


def _sayings() -> None:
    op.create_table(
        "statements",
        _whole("entry"),
        *map(_text, ("id", "about", "subject", "says", "value", "words", "sure", "source", "entered")),
        _text("withdrawn", nullable=True),
        _key("statements", "entry"),
        sa.UniqueConstraint("id", name="uq_statements_id"),
    )
    _indexed("statements", "subject")
    op.create_index("ix_statements_says_value", "statements", ["says", "value"])
    op.create_table(
        "questions",
        _whole("entry"),
        *map(_text, ("key", "asks", "subject", "sentence", "raised")),
        _text("settled", nullable=True),
        _key("questions", "entry"),
        sa.UniqueConstraint("key", name="uq_questions_key"),
    )
    _indexed("questions", "subject")


def _history() -> None:
    op.create_table(
        "acts",
        _whole("id"),
        _text("at"),
        _text("who"),
        _text("what"),
        _whole("undoes", nullable=True),
        _key("acts", "id"),
        _points_to("acts", "undoes", "acts.id"),
        sa.UniqueConstraint("undoes", name="uq_acts_undoes"),
    )
    op.create_table(
        "changes",
        _whole("id"),
        _whole("act"),
        _text("at"),
        _text("action"),
        _text("table_name"),
        _text("row_key"),
        sa.Column("before", sa.JSON),
        sa.Column("after", sa.JSON),
        sa.Column("lasting", sa.Boolean, nullable=False),
        _key("changes", "id"),
        _points_to("changes", "act", "acts.id"),
    )
    _indexed("changes", "act")
    op.create_index("ix_changes_table_name_row_key", "changes", ["table_name", "row_key"])


def _search() -> None:
    op.create_table(
        "search_documents",
        _whole("id"),
        *map(_text, _SEARCHED.split(", ")),
        _key("search_documents", "id"),
        sa.UniqueConstraint("accession", name="uq_search_documents_accession"),
    )


def _sqlite_search() -> None:
    # The index holds no copy of the text: it reads `search_documents`, and the triggers keep it in step.
    op.execute(
        f"CREATE VIRTUAL TABLE search USING fts5({_SEARCHED}, content='search_documents', content_rowid='id', "
        "tokenize='unicode61 remove_diacritics 2', prefix='2 3')"
    )
    new, old = (", ".join(f"{row}.{name}" for name in _SEARCHED.split(", ")) for row in ("new", "old"))
    op.execute(
        "CREATE TRIGGER search_added AFTER INSERT ON search_documents BEGIN "
        f"INSERT INTO search(rowid, {_SEARCHED}) VALUES (new.id, {new}); END"
    )
    op.execute(
        "CREATE TRIGGER search_removed AFTER DELETE ON search_documents BEGIN "
        f"INSERT INTO search(search, rowid, {_SEARCHED}) VALUES ('delete', old.id, {old}); END"
    )
    op.execute(
        "CREATE TRIGGER search_unchanged BEFORE UPDATE ON search_documents BEGIN "
        "SELECT RAISE(ABORT, 'search documents are replaced, never changed'); END"
    )


def _sqlite_appended_only() -> None:
    for table in _APPENDED:
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{action.lower()} BEFORE {action} ON {table} BEGIN "
                f"SELECT RAISE(ABORT, '{table} are appended only'); END"
            )
