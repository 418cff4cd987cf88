"""A lot as every bench and both faces show it: one set of figures, from one place."""

from dataclasses import dataclass
from typing import Any

from hilum.benches.wording import day_text, partial_date
from hilum.catalogue.amounts import shown_stock
from hilum.catalogue.crops import reference_crop
from hilum.catalogue.due import accepted_standard, reserve_of, stock_in_seeds, weight_of_thousand
from hilum.catalogue.lots import LotLine
from hilum.catalogue.settings import Settings
from hilum.seedlore.crops import Crop
from hilum.seedlore.standards import Standard


@dataclass(frozen=True, slots=True)
class LotView:
    """One lot with the figures that follow from its record; what is not known is None, never 0."""

    line: LotLine
    stock_mg: int | None
    stock_mg_is_estimate: bool
    stock_seeds: int | None
    stock_seeds_is_estimate: bool
    thousand_seed_weight_ug: int | None
    thousand_seed_weight_is_estimate: bool
    reserve_seeds: int
    standard: Standard | None

    @property
    def standard_percent(self) -> int | None:
        """The least germination the library accepts, in percent."""
        return None if self.standard is None else round(self.standard.percent)

    @property
    def number(self) -> str:
        """The lot number."""
        return self.line.number

    @property
    def reference(self) -> Crop | None:
        """The reference facts of the lot's crop."""
        return reference_crop(self.line.crop_key)

    @property
    def name(self) -> str:
        """Crop, variety and year in one line."""
        year = "year unknown" if self.line.year is None else str(self.line.year)
        return f"{self.line.crop} “{self.line.variety}”, {year}"

    @property
    def spare_seeds(self) -> int | None:
        """Seeds above the reserve; None where the stock cannot be said in seeds."""
        return None if self.stock_seeds is None else max(0, self.stock_seeds - self.reserve_seeds)

    @property
    def stock_words(self) -> str:
        """The stock as it is booked, in words."""
        return shown_stock(self.line.stock, self.line.unit, is_estimate=self.line.stock_is_estimate)

    @property
    def received_words(self) -> str:
        """The date of receipt as exactly as it is known."""
        return partial_date(self.line.received_on, self.line.received_precision)

    def as_json(self) -> dict[str, Any]:
        """Give the keys that scripts may rely on."""
        line = self.line
        return {
            "lot": line.number,
            "crop": line.crop,
            "botanical_name": line.botanical_name,
            "variety": line.variety,
            "year": line.year,
            "place_grown": line.place_grown,
            "stock_mg": self.stock_mg,
            "stock_mg_is_estimate": self.stock_mg_is_estimate,
            "stock_seeds": self.stock_seeds,
            "stock_seeds_is_estimate": self.stock_seeds_is_estimate,
            "germination_percent": line.germination_percent,
            "tested_on": day_text(line.tested_on),
            "due_on": day_text(line.due_on),
            "due_why": line.due_why or None,
            "due_barred_by": line.due_bar or None,
            "state": line.state,
        }


def view(line: LotLine, settings: Settings) -> LotView:
    """Work out the figures of one lot."""
    reference = reference_crop(line.crop_key)
    tsw_ug, tsw_is_estimate = weight_of_thousand(line.thousand_seed_weight_ug, reference)
    seeds, seeds_estimated = stock_in_seeds(line.stock, line.unit, line.thousand_seed_weight_ug, reference)
    if line.unit == "mg":
        mass_mg, mass_estimated = line.stock, False
    elif line.stock is None or tsw_ug is None:
        mass_mg, mass_estimated = None, False
    else:
        mass_mg, mass_estimated = round(line.stock * tsw_ug / 1_000_000), True
    return LotView(
        line=line,
        stock_mg=mass_mg,
        stock_mg_is_estimate=mass_estimated or (line.stock_is_estimate and mass_mg is not None),
        stock_seeds=seeds,
        stock_seeds_is_estimate=seeds_estimated or (line.stock_is_estimate and seeds is not None),
        thousand_seed_weight_ug=tsw_ug,
        thousand_seed_weight_is_estimate=tsw_is_estimate,
        reserve_seeds=reserve_of(reference, line.reserve_set, line.germination_percent, settings),
        standard=accepted_standard(reference, line.standard_set),
    )
