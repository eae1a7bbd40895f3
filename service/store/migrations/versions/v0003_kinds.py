"""Kinds of saved sheets: all that were kept before are quotes.

Revision  0003, after long work.
"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; every row that is there gets its default."""
    op.add_column("sheets", sa.Column("kind", sa.String(30), nullable=False, server_default="quote"))


def downgrade() -> None:
    """Take it away; sheets of other kinds stay, and open as quotes do."""
    op.drop_column("sheets", "kind")
