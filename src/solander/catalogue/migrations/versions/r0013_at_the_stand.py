"""What holds at each station, and the recordings that are kept."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"


def upgrade() -> None:
    """None were kept before. A recording is a fact: its row is only ever added."""
    op.create_table(
        "slips",
        sa.Column("station", sa.Text, nullable=False),
        sa.Column("told", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("station", name="pk_slips"),
    )
    op.create_table(
        "sounds",
        *(sa.Column(name, sa.Text, nullable=False) for name in ("sha256", "what", "begun")),
        sa.Column("seconds", sa.Float, nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        *(sa.Column(name, sa.Text, nullable=False) for name in ("station", "suffix")),
        sa.PrimaryKeyConstraint("sha256", name="pk_sounds"),
    )
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER sounds_no_{action.lower()} BEFORE {action} ON sounds BEGIN "
            "SELECT RAISE(ABORT, 'sounds are only ever added'); END"
        )
