"""An index of the outlines that nobody has checked, the least sure first: the next one is asked at once."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"


def upgrade() -> None:
    """The index: of those in use that were not checked alone."""
    unchecked = sa.text("superseded IS NULL AND checked IS 0")
    op.create_index("ix_views_unchecked", "views", ["confidence", "sequence"], sqlite_where=unchecked)
