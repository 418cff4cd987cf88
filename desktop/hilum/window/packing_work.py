"""One packing as the pool does it: stock, batch, labels and their PDF together, or none of them."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hilum.benches import packing
from hilum.benches.keeping import Catalogue
from hilum.benches.lots import lot_story, shown_amount
from hilum.benches.packing import Packed
from hilum.benches.printing import LabelJob
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
class PackedLine:
    """Packets filled from one lot on one day, as the list on the page shows them."""

    id: int
    lot: str
    name: str
    packets: int
    seeds_per_packet: int
    fill: str
    left: int


def packed_on(catalogue: Catalogue, numbers: tuple[str, ...], on: date) -> tuple[PackedLine, ...]:
    """Give the batches that some lots were packed into on a day, the newest first."""
    found = []
    for number in numbers:
        story = lot_story(catalogue, number)
        for batch in story.batches:
            if batch.packed_on == on:
                fill = "counted" if batch.fill_mg is None else shown_amount(batch.fill_mg, "mg")
                found.append(
                    PackedLine(
                        batch.id, story.lot.number, story.lot.name, batch.packets, batch.seeds_per_packet,
                        fill, batch.packets_left,
                    )
                )  # fmt: skip
    return tuple(sorted(found, key=lambda line: line.id, reverse=True))
