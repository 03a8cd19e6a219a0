"""What was known of the camera over the stage when a view was cut out, and how the paper's sides bow."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Views made before have neither: their four corners decided all of their pixels."""
    op.add_column("views", sa.Column("bows", sa.JSON))
    op.add_column("views", sa.Column("stand", sa.JSON))
