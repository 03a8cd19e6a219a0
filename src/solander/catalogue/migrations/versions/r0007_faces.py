"""Faces in views, their measures, and which views were looked at."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    """None were kept before."""
    op.create_table(
        "faces",
        sa.Column("key", sa.Text, nullable=False),
        sa.Column("view", sa.Text, nullable=False),
        *(sa.Column(name, sa.Float, nullable=False) for name in ("left", "top", "width", "height")),
        sa.Column("points", sa.JSON),
        sa.Column("score", sa.Float),
        sa.Column("group_number", sa.Integer),
        sa.Column("person", sa.Text, nullable=False),
        sa.Column("aside", sa.Text),
        sa.Column("by", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("key", name="pk_faces"),
        sa.ForeignKeyConstraint(["view"], ["views.key"], name="fk_faces_view"),
    )
    op.create_index("ix_faces_view", "faces", ["view"])
    op.create_table(
        "face_measures",
        sa.Column("face", sa.Text, nullable=False),
        sa.Column("measure", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("face", name="pk_face_measures"),
        sa.ForeignKeyConstraint(["face"], ["faces.key"], name="fk_face_measures_face", ondelete="CASCADE"),
    )
    op.create_table(
        "faces_looked",
        sa.Column("view", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("view", name="pk_faces_looked"),
        sa.ForeignKeyConstraint(["view"], ["views.key"], name="fk_faces_looked_view"),
    )
