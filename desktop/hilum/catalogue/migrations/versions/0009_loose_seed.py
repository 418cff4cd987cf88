"""Loose seed handed out at the counter, and guards by which the database itself keeps each ledger whole."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"

_LOOSE_STANDS = "a hand-out is never changed or deleted: take it back instead"
_LABEL_STANDS = "what was printed is never changed or deleted"
_BELOW = "the movements of a lot never add up to less than nothing"
_OPPOSITE = "a correction is the opposite of one movement of its lot that is no correction itself"
_OTHER_LOT = "a movement belongs to the lot of its test and of its packets"
_LOT_STANDS = "a lot is never deleted, and its number and unit never change"
_PUT_BACK = "packets are put back by the opposite of one line of their batch that put none back itself"
_TOO_MANY = "more packets cannot go out than a batch had"
_OTHER_SEASON = "packets belong to the season of their own lot"
_COUNTED_BELOW = "a dish cannot show fewer seeds than none"

# By trigger: its table, when it looks, what it refuses, and the words of the refusal.
_CHECKS = (
    ("movement_not_below", "movement", "INSERT",
     "new.amount < 0 AND new.amount + coalesce((SELECT sum(amount) FROM movement WHERE lot_id = new.lot_id), 0) < 0",
     _BELOW),
    ("movement_is_opposite", "movement", "INSERT",
     "EXISTS (SELECT 1 FROM movement m WHERE m.id = new.corrects_id AND m.lot_id = new.lot_id "
     "AND (m.kind = 'corrected' OR coalesce(m.amount, 0) <> -coalesce(new.amount, 0)))",
     _OPPOSITE),
    ("movement_of_its_batch", "movement", "INSERT",
     "(new.batch_id IS NOT NULL AND NOT EXISTS "
     "(SELECT 1 FROM packet_batch b WHERE b.id = new.batch_id AND b.lot_id = new.lot_id)) OR "
     "(new.test_id IS NOT NULL AND NOT EXISTS "
     "(SELECT 1 FROM germination_test t WHERE t.id = new.test_id AND t.lot_id = new.lot_id))",
     _OTHER_LOT),
    ("hand_out_puts_back", "hand_out", "INSERT",
     "new.takes_back_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM hand_out h WHERE h.id = new.takes_back_id "
     "AND h.batch_id = new.batch_id AND h.takes_back_id IS NULL AND h.packets = -new.packets)",
     _PUT_BACK),
    ("hand_out_not_more", "hand_out", "INSERT",
     "new.packets + coalesce((SELECT sum(packets) FROM hand_out WHERE batch_id = new.batch_id), 0) > "
     "(SELECT packets FROM packet_batch WHERE id = new.batch_id)",
     _TOO_MANY),
    ("season_batch_of_its_lot", "season_batch", "INSERT OR UPDATE",
     "(SELECT b.lot_id FROM packet_batch b WHERE b.id = new.batch_id) <> "
     "(SELECT r.lot_id FROM season_row r WHERE r.id = new.season_row_id)",
     _OTHER_SEASON),
    ("dish_count_not_below", "dish_count", "INSERT OR UPDATE",
     "new.normal < 0 OR new.abnormal < 0 OR new.hard < 0 OR new.fresh < 0 OR new.dead < 0",
     _COUNTED_BELOW),
)  # fmt: skip


def upgrade() -> None:
    """Make the table of loose seed handed out, then the guards in this engine's own words."""
    op.create_table(
        "loose_hand_out",
        sa.Column("movement_id", sa.Integer(), nullable=False),
        sa.Column("event_id", sa.Integer()),
        sa.Column("to_id", sa.Integer()),
        sa.ForeignKeyConstraint(["movement_id"], ["movement.id"], name=op.f("fk_loose_hand_out_movement_id")),
        sa.ForeignKeyConstraint(["event_id"], ["event.id"], name=op.f("fk_loose_hand_out_event_id")),
        sa.ForeignKeyConstraint(["to_id"], ["person.id"], name=op.f("fk_loose_hand_out_to_id")),
        sa.PrimaryKeyConstraint("movement_id", name=op.f("pk_loose_hand_out")),
    )
    for column in ("event_id", "to_id"):
        op.create_index(op.f(f"ix_loose_hand_out_{column}"), "loose_hand_out", [column])
    if op.get_context().dialect.name == "sqlite":
        _guard_with_sqlite()
    else:
        _guard_with_postgresql()


def _guard_with_sqlite() -> None:
    connection = op.get_bind()

    def guard(name: str, when: str, words: str) -> None:
        connection.exec_driver_sql(
            f"CREATE TRIGGER {name} BEFORE {when} BEGIN SELECT RAISE(ABORT, '{words}'); END"
        )

    for name, table, events, condition, words in _CHECKS:
        for event in events.split(" OR "):
            guard(f"{name}_{event.lower()}", f"{event} ON {table} WHEN {condition}", words)
    guard("loose_hand_out_no_update", "UPDATE ON loose_hand_out", _LOOSE_STANDS)
    guard("loose_hand_out_no_delete", "DELETE ON loose_hand_out", _LOOSE_STANDS)
    # INSERT OR REPLACE deletes past the trigger above unless the connection has recursive_triggers on.
    guard(
        "loose_hand_out_no_replace",
        "INSERT ON loose_hand_out WHEN EXISTS "
        "(SELECT 1 FROM loose_hand_out WHERE movement_id = new.movement_id)",
        _LOOSE_STANDS,
    )
    for table in ("print_job", "print_label"):
        guard(f"{table}_no_update", f"UPDATE ON {table}", _LABEL_STANDS)
        guard(f"{table}_no_delete", f"DELETE ON {table}", _LABEL_STANDS)
    guard("lot_no_delete", "DELETE ON lot", _LOT_STANDS)
    guard("lot_no_other_number", "UPDATE OF id, number, unit ON lot WHEN old.id <> new.id "
          "OR old.number <> new.number OR old.unit <> new.unit", _LOT_STANDS)  # fmt: skip


def _guard_with_postgresql() -> None:
    def guard(name: str, when: str, condition: str, words: str, each: str = "FOR EACH ROW") -> None:
        op.get_bind().exec_driver_sql(
            f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN IF {condition} THEN "
            f"RAISE EXCEPTION '{words}' USING ERRCODE = 'integrity_constraint_violation'; END IF; RETURN new; END $$"
        )
        op.get_bind().exec_driver_sql(f"CREATE TRIGGER {name} BEFORE {when} {each} EXECUTE FUNCTION {name}()")

    for name, table, events, condition, words in _CHECKS:
        guard(name, f"{events} ON {table}", condition, words)
    for table, words in (
        ("loose_hand_out", _LOOSE_STANDS), ("print_job", _LABEL_STANDS), ("print_label", _LABEL_STANDS),
    ):  # fmt: skip
        guard(f"{table}_no_change", f"UPDATE OR DELETE ON {table}", "true", words)
        guard(f"{table}_no_truncate", f"TRUNCATE ON {table}", "true", words, "FOR EACH STATEMENT")
    guard("lot_no_delete", "DELETE ON lot", "true", _LOT_STANDS)
    guard("lot_no_truncate", "TRUNCATE ON lot", "true", _LOT_STANDS, "FOR EACH STATEMENT")
    guard("lot_no_other_number", "UPDATE ON lot",
          "old.id <> new.id OR old.number <> new.number OR old.unit <> new.unit", _LOT_STANDS)  # fmt: skip
