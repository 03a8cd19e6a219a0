"""The second-best outline of a view, and prints that a person took out because they are none."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Both are empty in what there is: nothing was known of either."""
    op.add_column("views", sa.Column("second", sa.JSON))
    op.add_column("prints", sa.Column("taken_out", sa.Text))
