"""Search documents with what a machine read on a print, apart from what people say of it.

The documents are written anew when the collection is opened.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"

_SEARCHED = "accession, caption, people, place, occasion, note, transcription, also, machine"


def upgrade() -> None:
    """The documents and their index, empty."""
    is_sqlite = op.get_bind().dialect.name == "sqlite"
    if is_sqlite:
        for trigger in ("added", "removed", "unchanged"):
            op.execute(f"DROP TRIGGER search_{trigger}")
        op.execute("DROP TABLE search_words")
        op.execute("DROP TABLE search")
    op.drop_table("search_documents")
    op.create_table(
        "search_documents",
        sa.Column("id", sa.Integer, nullable=False),
        *(sa.Column(name, sa.Text, nullable=False) for name in _SEARCHED.split(", ")),
        sa.PrimaryKeyConstraint("id", name="pk_search_documents"),
        sa.UniqueConstraint("accession", name="uq_search_documents_accession"),
        sqlite_autoincrement=True,
    )
    if is_sqlite:
        _index()


def _index() -> None:
    op.execute(
        f"CREATE VIRTUAL TABLE search USING fts5({_SEARCHED}, content='search_documents', content_rowid='id', "
        "tokenize='unicode61 remove_diacritics 2', prefix='1 2 3')"
    )
    op.execute("CREATE VIRTUAL TABLE search_words USING fts5vocab(search, row)")
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
