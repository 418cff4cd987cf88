"""The print book: every print job with the labels it said, so that any of them can be printed again."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Make the table of jobs and the table of their labels."""
    op.create_table(
        "print_job",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("person_id", sa.Integer()),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("design", sa.Text(), nullable=False),
        sa.Column("label_stock", sa.Text(), nullable=False),
        sa.Column("choices", sa.JSON(), nullable=False),
        sa.Column("labels", sa.Integer(), nullable=False),
        sa.Column("pages", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("went_to", sa.Text(), server_default="", nullable=False),
        sa.Column("again_id", sa.Integer()),
        sa.CheckConstraint("labels > 0 AND pages > 0", name=op.f("ck_print_job_labels_range")),
        sa.ForeignKeyConstraint(["again_id"], ["print_job.id"], name=op.f("fk_print_job_again_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_print_job_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_print_job")),
    )
    op.create_table(
        "print_label",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("print_job_id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer()),
        sa.Column("grower_id", sa.Integer()),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("fields", sa.JSON(), nullable=False),
        sa.Column("code", sa.Text()),
        sa.Column("copies", sa.Integer(), nullable=False),
        sa.Column("behind", sa.Text(), server_default="", nullable=False),
        sa.CheckConstraint("copies > 0", name=op.f("ck_print_label_copies_range")),
        sa.ForeignKeyConstraint(["grower_id"], ["person.id"], name=op.f("fk_print_label_grower_id")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_print_label_lot_id")),
        sa.ForeignKeyConstraint(["print_job_id"], ["print_job.id"], name=op.f("fk_print_label_print_job_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_print_label")),
        sa.UniqueConstraint("print_job_id", "place", name=op.f("uq_print_label_print_job_id_place")),
    )
    op.create_index(op.f("ix_print_label_lot_id"), "print_label", ["lot_id"])
