"""What is done to a view so that the print looks well again, as data beside it."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"


def upgrade() -> None:
    """One nullable column; a view without it is shown as it was captured."""
    op.add_column("views", sa.Column("treatment", sa.JSON))
