"""What is said of people, the names they are found by, and who is whose parent and partner."""

from __future__ import annotations

import json

import sqlalchemy as sa
from alembic import op

from solander.core.phrases.tokens import tokens_of

revision = "0008"
down_revision = "0007"


def upgrade() -> None:
    """Those who are known keep what is known; who said it was not kept before."""
    for name in ("sex", "born_at", "died_at"):
        op.add_column("people", sa.Column(name, sa.Text, nullable=False, server_default=sa.text("''")))
    for name in ("names", "known_as", "said"):
        op.add_column("people", sa.Column(name, sa.JSON, nullable=False, server_default="[]"))
    _person_names()
    _kin()


def _person_names() -> None:
    op.create_table(
        "person_names",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("person", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_person_names"),
    )
    for column in ("words", "person"):
        op.create_index(f"ix_person_names_{column}", "person_names", [column])
    connection = op.get_bind()
    for name, called in connection.exec_driver_sql("SELECT name, also_called FROM people").all():
        words = {" ".join(token.folded for token in tokens_of(each)) for each in (name, *json.loads(called))}
        for each in sorted(words):
            connection.exec_driver_sql("INSERT INTO person_names (words, person) VALUES (?, ?)", (each, name))


def _kin() -> None:
    op.create_table(
        "kin",
        sa.Column("entry", sa.Integer, nullable=False),
        *(
            sa.Column(name, sa.Text, nullable=name == "withdrawn")
            for name in ("id", "person", "how", "other", "by", "source", "sure", "entered", "withdrawn")
        ),
        sa.PrimaryKeyConstraint("entry", name="pk_kin"),
        sa.UniqueConstraint("id", name="uq_kin_id"),
    )
    for column in ("person", "other"):
        op.create_index(f"ix_kin_{column}", "kin", [column])
