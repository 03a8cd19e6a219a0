"""Which captures show a container as it was found: a page of an album, whole."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """No capture was taken as a page before."""
    op.add_column("containers", sa.Column("captures", sa.JSON))
