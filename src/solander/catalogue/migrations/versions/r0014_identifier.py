"""A name for the collection that no other has, by which a camera knows whose its waiting pictures are."""

from __future__ import annotations

import uuid

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"


def upgrade() -> None:
    """Random (RFC 9562, version 4); a copy of the collection has the same."""
    op.get_bind().execute(
        sa.text("INSERT INTO settings VALUES ('identifier', :value)"), {"value": str(uuid.uuid4())}
    )
