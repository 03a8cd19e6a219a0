"""What tells that a view is the right way up."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Views made before have none: nobody had looked."""
    op.add_column("views", sa.Column("upright", sa.Text))
