"""Tests in groups: the size of a group, the bar it is held to, and for every dish its own days."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    """Add columns only: nothing that stands is rebuilt, and a dish without days of its own keeps those of its test."""
    op.add_column("germination_test", sa.Column("group_seeds", sa.Integer()))
    op.add_column("germination_test", sa.Column("bar_percent", sa.Integer()))
    op.add_column("germination_test", sa.Column("bar_counts_hard", sa.Boolean()))
    op.add_column("germination_test", sa.Column("bar_words", sa.Text(), server_default="", nullable=False))
    for name in ("laid_on", "first_count_on", "final_count_on"):
        op.add_column("dish", sa.Column(name, sa.Date()))
