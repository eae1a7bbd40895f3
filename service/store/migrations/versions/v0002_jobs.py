"""Long work and its finished chunks.

Revision  0002, after saved sheets.
"""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "jobs",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("token", sa.String(32), nullable=False, unique=True),
        sa.Column("kind", sa.String(30), nullable=False),
        sa.Column("question", sa.Text, nullable=False),
        sa.Column("model_version", sa.String(20), nullable=False),
        sa.Column("state", sa.String(10), nullable=False, index=True),
        sa.Column("done", sa.Integer, nullable=False),
        sa.Column("total", sa.Integer, nullable=False),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("owner", sa.String(80), nullable=False),
        sa.Column("leased_until_s", sa.Double, nullable=False),
        sa.Column("begun_at_s", sa.Double, nullable=False),
        sa.Column("begun_with", sa.Integer, nullable=False),
        sa.Column("changed_at_s", sa.Double, nullable=False),
        sa.Column("expires_at_s", sa.BigInteger, nullable=False, index=True),
        sa.Column("answer", sa.Text, nullable=False),
        sa.Column("errors", sa.Text, nullable=False),
    )
    op.create_table(
        "job_chunks",
        sa.Column("job_id", sa.Integer, sa.ForeignKey("jobs.id"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("owner", sa.String(80), nullable=False),
        sa.Column("result", sa.Text, nullable=False),
    )


def downgrade() -> None:
    """Take them away, with all work that waits."""
    op.drop_table("job_chunks")
    op.drop_table("jobs")
