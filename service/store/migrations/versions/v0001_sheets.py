"""Saved sheets.

Revision  0001, the first.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "sheets",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("token", sa.String(32), nullable=False, unique=True),
        sa.Column("reference", sa.String(9), nullable=False, unique=True),
        sa.Column("model_version", sa.String(20), nullable=False),
        sa.Column("saved_at_s", sa.BigInteger, nullable=False, index=True),
        sa.Column("expires_at_s", sa.BigInteger, index=True),
        sa.Column("note", sa.String(200), nullable=False),
        sa.Column("title", sa.String(300), nullable=False),
        sa.Column("question", sa.Text, nullable=False),
        sa.Column("query", sa.Text, nullable=False),
        sa.Column("answer", sa.Text, nullable=False),
        sa.Column("page", sa.Text, nullable=False),
    )


def downgrade() -> None:
    """Take it away, with every sheet in it."""
    op.drop_table("sheets")
