"""One packing as the pool does it: stock, batch, labels and their PDF together, or none of them."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hilum.benches import packing, season_packing
from hilum.benches.keeping import Catalogue
from hilum.benches.lots import shown_amount
from hilum.benches.packing import Packed
from hilum.benches.printing import LabelJob
from hilum.benches.season_packing import SeasonPacked
from hilum.window.print_files import KeptPdf


@dataclass(frozen=True, slots=True)
class PackingOrder:
    """What is to be packed, on which labels, and the file that keeps their pages."""

    lot: str
    packets: int
    seeds: int
    viable: bool
    job: LabelJob
    on: date
    file: Path


def pack_and_keep(
    catalogue: Catalogue,
    order: PackingOrder,
    *,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Packed:
    """Pack and write the PDF; when anything of it fails there is no batch, no draw and no file."""
    kept = KeptPdf(order.file)
    try:
        return packing.pack(
            catalogue,
            order.lot,
            packets=order.packets,
            seeds=order.seeds,
            job=order.job,
            on=order.on,
            viable=order.viable,
            keep=kept.write,
            progress=progress,
            stop=stop,
        )
    except BaseException:
        kept.take_back()
        raise


@dataclass(frozen=True, slots=True)
class SeasonOrder:
    """Which rows of which list are to be packed, on which labels, and the file that keeps their pages."""

    list_id: int
    rows: tuple[int, ...]
    job: LabelJob
    on: date
    file: Path


def pack_season_and_keep(
    catalogue: Catalogue,
    order: SeasonOrder,
    *,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> SeasonPacked:
    """Pack all rows and write their PDF; when anything of it fails there is no batch, no draw and no file."""
    kept = KeptPdf(order.file)
    try:
        return season_packing.pack_rows(
            catalogue, order.list_id, order.rows, order.job, on=order.on, keep=kept.write, progress=progress,
            stop=stop,
        )  # fmt: skip
    except BaseException:
        kept.take_back()
        raise


@dataclass(frozen=True, slots=True)
class PackedLine:
    """Packets filled from one lot on one day, as the list on the page shows them."""

    id: int
    lot: str
    name: str
    packets: int
    seeds_per_packet: int
    fill: str
    left: int


def packed_on(catalogue: Catalogue, on: date) -> tuple[PackedLine, ...]:
    """Give the batches that were packed on a day at every desk, the newest first."""
    return tuple(
        PackedLine(
            batch.id, lot.number, lot.name, batch.packets, batch.seeds_per_packet,
            "counted" if batch.fill_mg is None else shown_amount(batch.fill_mg, "mg"), batch.packets_left,
        )
        for lot, batch in packing.packed_on(catalogue, on)
    )  # fmt: skip
