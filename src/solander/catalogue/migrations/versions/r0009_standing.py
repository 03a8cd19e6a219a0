"""Where each print stands: worked out from all the rest, so that pages need not solve the order of all prints."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"


def upgrade() -> None:
    """The tables are empty at first; they are filled when the collection is next looked at or written to."""
    _standing()
    op.create_table(
        "standing_told",
        sa.Column("accession", sa.Text, nullable=False),
        sa.Column("told", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("accession", name="pk_standing_told"),
    )
    op.create_table(
        "standing_whole",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("change", sa.Integer, nullable=False),
        sa.Column("told", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_standing_whole"),
    )


def _standing() -> None:
    op.create_table(
        "standing",
        sa.Column("accession", sa.Text, nullable=False),
        sa.Column("rank", sa.Integer, nullable=False),
        sa.Column("shelf", sa.Text, nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("container", sa.Text),
        sa.Column("occasion", sa.Text, nullable=False),
        sa.Column("occasion_rank", sa.Integer, nullable=False),
        *(
            sa.Column(name, sa.Integer)
            for name in ("year", "day", "earliest", "latest", "likely_first", "likely_last")
        ),
        *(
            sa.Column(name, sa.Boolean, nullable=False)
            for name in ("undated", "nobody", "unsure", "again", "contradicts", "has_back")
        ),
        sa.Column("waits", sa.Integer, nullable=False),
        sa.Column("change", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("accession", name="pk_standing"),
    )
    op.create_index("ix_standing_rank", "standing", ["rank", "accession"])
    op.create_index("ix_standing_shelf", "standing", ["shelf", "number", "accession"])
    op.create_index("ix_standing_occasion_rank", "standing", ["occasion_rank", "rank", "accession"])
    op.create_index("ix_standing_occasion", "standing", ["occasion"])
    op.create_index("ix_standing_year", "standing", ["year"])
