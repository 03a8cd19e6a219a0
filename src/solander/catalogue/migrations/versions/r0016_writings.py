"""What machines read on the sides of prints."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"


def upgrade() -> None:
    """Nothing was read before. It is never in history: what was read can be read again."""
    op.create_table(
        "writings",
        sa.Column("view", sa.Text, nullable=False),
        sa.Column("read", sa.Integer, nullable=False),
        sa.Column("written", sa.Boolean, nullable=False),
        sa.Column("told", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("view", name="pk_writings"),
        sa.ForeignKeyConstraint(["view"], ["views.key"], name="fk_writings_view", ondelete="CASCADE"),
    )
