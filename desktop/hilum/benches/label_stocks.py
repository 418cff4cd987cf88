"""Label stocks a keeper may choose: those in the tables, folding packets, and those the library measured itself."""

from collections.abc import Mapping
from dataclasses import asdict, replace
from typing import Any

from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import Settings, write_settings
from hilum.errors import BadInput
from hilum.labels.described import DescribedStockError, StockMeasurements, described_stock
from hilum.labels.designs import LabelDesign
from hilum.labels.errors import LabelError
from hilum.labels.folding import folding_stock, folding_stocks
from hilum.labels.stocks import LabelStock, label_stock, label_stocks

__all__ = [
    "DescribedStockError",
    "LabelStock",
    "StockMeasurements",
    "described_stock",
    "fits",
    "forget_stock",
    "keep_stock",
    "measurements_of",
    "stock_named",
    "stocks_offered",
]


def own_stocks(settings: Settings) -> dict[str, LabelStock]:
    """Give the stocks the library measured itself, by name."""
    found = (described_stock(_measured(each)) for each in settings.own_label_stocks)
    return {each.name: each for each in found}


def _measured(stored: Mapping[str, Any]) -> StockMeasurements:
    return StockMeasurements(**stored)


def stocks_offered(settings: Settings) -> tuple[LabelStock, ...]:
    """Give every stock there is to choose: the library's own first."""
    return (*own_stocks(settings).values(), *label_stocks(), *folding_stocks())


def stock_named(settings: Settings, name: str) -> LabelStock:
    """Find a stock by its name: the library's own, a folding packet, or one of the tables.

    The library's own is also found by its title, or without its “own-”, where the tables have nothing of that name.
    """
    wanted = name.strip().lower()
    own = own_stocks(settings)
    if wanted in own:
        return own[wanted]
    if wanted.startswith("fold-"):
        return folding_stock(wanted)
    try:
        return label_stock(name)
    except LabelError as unknown:
        for each in own.values():
            if wanted in (each.name.removeprefix("own-"), each.title.lower()):
                return each
        if not own:
            raise
        raise LabelError(f"{unknown} Measured here: {', '.join(own)}.") from unknown


def fits(design: LabelDesign, stock: LabelStock) -> bool:
    """Say whether some layout of a design fits a label of a stock."""
    return design.layout_for(stock.ink_area(1, design.padding_mm)) is not None


def keep_stock(catalogue: Catalogue, measured: StockMeasurements) -> LabelStock:
    """Keep a stock the keeper measured; one of the same name is replaced."""
    stock = described_stock(measured)
    with catalogue.job(f"keep label stock {stock.title}") as job:
        others = tuple(
            each
            for each in job.settings.own_label_stocks
            if described_stock(_measured(each)).name != stock.name
        )
        own = (*others, asdict(measured))
        write_settings(job.connection, replace(job.settings, own_label_stocks=own))
    return stock


def forget_stock(catalogue: Catalogue, name: str) -> None:
    """Forget a stock the library measured; what was printed on it stays in the print book."""
    with catalogue.job(f"forget label stock {name}") as job:
        kept = job.settings.own_label_stocks
        own = tuple(each for each in kept if described_stock(_measured(each)).name != name)
        if len(own) == len(kept):
            raise BadInput(f"“{name}” is no label stock that this library measured. Nothing was changed.")
        write_settings(job.connection, replace(job.settings, own_label_stocks=own))


def measurements_of(settings: Settings, name: str) -> StockMeasurements | None:
    """Give what was measured of one of the library's own stocks; None for any other."""
    for each in settings.own_label_stocks:
        measured = _measured(each)
        if described_stock(measured).name == name:
            return measured
    return None
