"""What all tables of a catalogue share: how their constraints are named, and a column of known words."""

from sqlalchemy import CheckConstraint, MetaData

# Unnamed constraints cannot be changed later on SQLite: https://alembic.sqlalchemy.org/en/latest/naming.html
metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)


def one_of(column: str, words: tuple[str, ...]) -> CheckConstraint:
    """Give the constraint that a column holds one of some words."""
    listed = ", ".join(f"'{word}'" for word in words)
    return CheckConstraint(f"{column} IN ({listed})", name=f"{column}_known")
