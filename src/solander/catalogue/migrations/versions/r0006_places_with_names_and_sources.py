"""What a place is, its other names, its keys outside, the town and region around it, and who says where it is."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    """The places that were entered before were told by a person."""
    for name in ("what", "town", "region", "source"):
        op.add_column("places", sa.Column(name, sa.Text, nullable=False, server_default=sa.text("''")))
    op.add_column("places", sa.Column("sure", sa.Text, nullable=False, server_default="certain"))
    for name in ("names", "known_as"):
        op.add_column("places", sa.Column(name, sa.JSON, nullable=False, server_default="[]"))
