"""Calibrating: what each printer and tray does to a page, measured once with a ruler and undone from then on."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date
from typing import Any

from hilum.benches.label_orders import OrderedSheets, PrintOrder, make_order
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import Settings, read_settings, write_settings
from hilum.errors import BadInput
from hilum.labels.corrections import Correction, MeasuredCrosses, crosses_on, solve_calibration
from hilum.labels.marks import calibration_page
from hilum.labels.stocks import LabelStock, plain_page

__all__ = [
    "BACK",
    "FRONT",
    "SIDES",
    "Correction",
    "KeptCorrection",
    "LabelStock",
    "MeasuredCrosses",
    "calibration_pdf",
    "correct",
    "correction_for",
    "correction_words",
    "crosses_on",
    "forget_correction",
    "keep_correction",
    "kept_corrections",
    "plain_page",
    "solve_calibration",
]


# The back of a sheet that is printed on both sides, turned over on its long edge.
FRONT, BACK = SIDES = ("front", "back")


@dataclass(frozen=True, slots=True)
class KeptCorrection:
    """What one printer does to one size of paper out of one tray, and when that was measured."""

    printer: str
    tray: str
    page_w_mm: float
    page_h_mm: float
    measured_on: str
    correction: Correction
    side: str = FRONT

    @property
    def key(self) -> tuple[str, str, float, float, str]:
        """What it is known by: a tray centres other paper otherwise, and a turned sheet runs another way."""
        return self.printer, self.tray, self.page_w_mm, self.page_h_mm, self.side


def kept_corrections(settings: Settings) -> tuple[KeptCorrection, ...]:
    """Give every correction that is kept."""
    return tuple(_kept(each) for each in settings.printer_corrections)


def _kept(stored: Mapping[str, Any]) -> KeptCorrection:
    return KeptCorrection(**{**stored, "correction": Correction(**stored["correction"])})


def correction_for(
    settings: Settings, printer: str, tray: str, page_w_mm: float, page_h_mm: float, side: str = FRONT
) -> KeptCorrection | None:
    """Give what is kept for a printer, its tray, a size of paper and its side; None where it was never measured."""
    wanted = (printer, tray, page_w_mm, page_h_mm, side)
    return next((each for each in kept_corrections(settings) if each.key == wanted), None)


def keep_correction(
    catalogue: Catalogue,
    printer: str,
    tray: str,
    measured: MeasuredCrosses,
    *,
    on: date,
    side: str = FRONT,
) -> KeptCorrection:
    """Work out the correction and keep it for every later job; refused when no printer does what was measured."""
    if not printer.strip():
        raise BadInput("No printer was chosen: a calibration belongs to one printer and one of its trays.")
    if side not in SIDES:
        raise BadInput(f"A sheet has a {' and a '.join(SIDES)}, no {side!r}.")
    kept = KeptCorrection(
        printer,
        tray,
        measured.page_w_mm,
        measured.page_h_mm,
        on.isoformat(),
        solve_calibration(measured),
        side,
    )
    with catalogue.job(f"calibrate {printer}") as job:
        others = tuple(each for each in job.settings.printer_corrections if _kept(each).key != kept.key)
        write_settings(job.connection, replace(job.settings, printer_corrections=(*others, asdict(kept))))
    return kept


def forget_correction(catalogue: Catalogue, kept: KeptCorrection) -> None:
    """Forget what was measured of a printer; its later pages are sent as they are."""
    with catalogue.job(f"forget the calibration of {kept.printer}") as job:
        others = tuple(each for each in job.settings.printer_corrections if _kept(each).key != kept.key)
        write_settings(job.connection, replace(job.settings, printer_corrections=others))


def correction_words(found: Correction) -> str:
    """Say what a printer does to a page."""
    said = []
    for value, plus, minus in (
        (found.right_mm, "to the right", "to the left"),
        (found.down_mm, "too low", "too high"),
    ):
        if abs(value) >= _SEEN_MM:
            said.append(f"{abs(value):.2f} mm {plus if value > 0 else minus}")
    if max(abs(found.scale_x - 1), abs(found.scale_y - 1)) >= _SEEN_SCALE:
        said.append(f"{100 * found.scale_x:.2f} % wide and {100 * found.scale_y:.2f} % high")
    if abs(found.skew) >= _SEEN_SCALE:
        way = "down" if found.skew > 0 else "up"
        said.append(f"turned by {100 * abs(found.skew):.2f} mm in 100 mm, its right side {way}")
    if not said:
        return "The page lands where it is meant: there is nothing to correct."
    driver = " The size is changed by the printer's driver: better set that to 100 % and measure again."
    return f"The page lands {'; '.join(said)}." + (driver if found.by_driver else "")


# Less than this nobody sees on a label (common practice, no source).
_SEEN_MM, _SEEN_SCALE = 0.05, 0.0003


def calibration_pdf(stock: LabelStock, correction: Correction | None = None, *, side: str = FRONT) -> bytes:
    """Give the page to measure; with a correction it is the page to check that correction by."""
    return calibration_page(stock, correction, is_back=side == BACK)


def correct(
    catalogue: Catalogue,
    order: PrintOrder,
    correction: Correction | None,
    back: Correction | None = None,
    *,
    progress: Any = None,
    stop: Any = None,
) -> OrderedSheets:
    """Make the pages of an order for one printer: moved and turned so that they land where they are meant."""
    with catalogue.look() as connection:
        settings = read_settings(connection)
    return make_order(
        order, settings, correction=correction, back_correction=back, progress=progress, stop=stop
    )
