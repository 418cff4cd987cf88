"""The list of what was packed today, at this desk and at every other."""

from PySide6.QtWidgets import QWidget

from hilum.window.models import Column, RowsTable
from hilum.window.packing_work import PackedLine


def lot_of(line: PackedLine) -> str:
    """Give the lot number."""
    return line.lot


def name_of(line: PackedLine) -> str:
    """Give crop, variety and year."""
    return line.name


def packets_of(line: PackedLine) -> str:
    """Give the number of packets."""
    return f"{line.packets:,}"


def packets_sort(line: PackedLine) -> int:
    """Give what packets are sorted by."""
    return line.packets


def seeds_of(line: PackedLine) -> str:
    """Give the seeds in a packet."""
    return f"{line.seeds_per_packet:,}"


def seeds_sort(line: PackedLine) -> int:
    """Give what seeds are sorted by."""
    return line.seeds_per_packet


def fill_of(line: PackedLine) -> str:
    """Give the fill of a packet."""
    return line.fill


class PackedToday(RowsTable):
    """Batches of the day, newest first."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(
            (
                Column("Lot", lot_of),
                Column("Name", name_of),
                Column("Packets", packets_of, packets_sort, right=True),
                Column("Seeds in each", seeds_of, seeds_sort, right=True),
                Column("Fill", fill_of, right=True),
            ),
            "Packed today",
            "Nothing has been packed today.",
            parent,
        )
