"""Design table: a label design laid on three of the library's own labels, changed, and saved beside the catalogue."""

import os
import re
import tempfile
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from hilum.benches.folders import own_designs_folder
from hilum.benches.printing import lot_fields, newest_result
from hilum.benches.views import view
from hilum.catalogue import germination_tests, listing
from hilum.catalogue.germination_tests import GerminationTestLine
from hilum.catalogue.listing import LotFilter
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import read_settings
from hilum.errors import BadInput, KeeperError
from hilum.labels.design_edits import OnTable, picture_added
from hilum.labels.design_files import design_in, read_design
from hilum.labels.design_lines import DesignLines, design_lines
from hilum.labels.design_values import FACES, FIELDS, PROTECTED, LabelDesign
from hilum.labels.design_writing import written
from hilum.labels.designs import FaultyDesign, design, designs, is_shipped, own_designs
from hilum.labels.errors import DesignError, LabelError, LabelWarning
from hilum.labels.geometry import Box
from hilum.labels.job import LabelData
from hilum.labels.pictures import read_picture
from hilum.labels.preview import PagePicture, part_picture
from hilum.labels.sampling import Chosen, choose_three
from hilum.labels.stocks import LabelStock
from hilum.labels.trying import CODE, TriedLabel, tried_label
from hilum.resources import resource

__all__ = [
    "CODE", "FACES", "FIELDS", "PROTECTED", "Box", "Chosen", "DesignError", "FaultyDesign", "LabelError",
    "LabelWarning", "LaidDesign", "OnTable", "PagePicture", "TriedLabel", "add_picture", "choose_lots",
    "faulty_designs", "file_name_of", "is_shipped", "label_picture", "lay", "lay_on", "save", "try_lots",
]  # fmt: skip

# What stands on a dish tag while its design is changed: a test as it might be laid today.
_DISH = {"dish": "dish 4 of 4, 100 seeds", "substrate": "between paper", "temperature": "20-30 °C"}
_SEEDS_PER_PACKET = 40


@dataclass(frozen=True, slots=True)
class LaidDesign:
    """A design as it was taken onto the table: where it came from, and the text its file had then."""

    on: OnTable
    remarks: DesignLines
    is_own: bool
    text: str

    @property
    def title(self) -> str:
        """What keepers call it."""
        return self.on.design.title


def faulty_designs(catalogue: Catalogue) -> tuple[FaultyDesign, ...]:
    """Give the keeper's own design files that cannot be used, each with file, line and reason."""
    return own_designs(own_designs_folder(catalogue.file))[1]


def lay(catalogue: Catalogue, name: str, stock: LabelStock) -> LaidDesign:
    """Take a design onto the table for a label stock; refused when it has no layout for labels of that size."""
    own = own_designs_folder(catalogue.file)
    found = design(name, own)
    is_own = not is_shipped(found.name)
    text = ((own if is_own else resource("designs")) / f"{found.name}.toml").read_text(encoding="utf-8")
    return LaidDesign(lay_on(OnTable(found, 0, own), stock), design_lines(text), is_own, text)


def lay_on(on: OnTable, stock: LabelStock) -> OnTable:
    """Turn to the layout that a label stock gets."""
    from hilum.labels.orders import layout_on

    layout = layout_on(on.design, stock)
    return replace(on, number=on.design.layouts.index(layout))


def choose_lots(catalogue: Catalogue, on: OnTable, *, today: date) -> tuple[Chosen, ...]:
    """Choose three of the library's lots by what fills this layout: the shortest, the oddest, the longest words.

    An empty library gives one invented label, so that there is something to see.
    """
    with catalogue.look() as connection:
        settings = read_settings(connection)
        lines, _ = listing.list_lots(connection, LotFilter(), on=today)
        tests: dict[int, list[GerminationTestLine]] = {}
        for each in germination_tests.finished_tests(connection):
            tests.setdefault(each.lot_id, []).append(each)
    dish = _dish_words(today) if "dish" in on.design.required else {}
    labels = []
    for line in lines:
        fields = lot_fields(
            view(line, settings), newest_result(tests.get(line.id, ())), settings, on=today,
            seeds_per_packet=_SEEDS_PER_PACKET,
        )  # fmt: skip
        labels.append(LabelData(line.number, fields | dish, line.number))
    return choose_three(on.layout, labels or [_invented(settings.library_name, dish)])


def _dish_words(today: date) -> dict[str, str]:
    return {**_DISH, "test_started": today.isoformat(), "count_days": "30 Nov, 8 Dec", "caution": ""}


def _invented(library: str, dish: dict[str, str]) -> LabelData:
    fields = {
        "crop": "Leek", "botanical": "Allium ampeloprasum Porrum Group", "variety": "Made-up Example", "year": "2025",
        "place_grown": "Example Garden", "lot": "LEK25-001-X", "grower": "A. Grower", "received": "2025-10-04",
        "germination": "86 % of 100 seeds, Jan 2026, home test", "seeds": "40 seeds", "sow": "sow 15 mm deep",
        "spacing_mm": "150", "library": library,
    }  # fmt: skip
    return LabelData("LEK25-001-X", fields | dish, "LEK25-001-X")


def try_lots(
    chosen: Sequence[Chosen], on: OnTable, stock: LabelStock, dpi: int = 300
) -> tuple[TriedLabel, ...]:
    """Make each chosen lot's label by the design as it lies there, with the engine's own words on each."""
    labels = [each.label for each in chosen]
    if on.design.is_back:
        # Its code stands on the front.
        labels = [replace(each, code=None) for each in labels]
    return tuple(tried_label(each, on.design, stock, dpi=dpi) for each in labels)


def label_picture(tried: TriedLabel, px_per_mm: float) -> PagePicture | None:
    """Draw a tried label out of the page it would be printed on; None where it is refused."""
    return None if tried.pdf is None else part_picture(tried.pdf, 0, tried.label, px_per_mm)


# Pictures and files.


def add_picture(on: OnTable, picture: Path) -> OnTable:
    """Lay a picture on the label; it is copied beside the keeper's designs."""
    read_picture(picture)
    data = picture.read_bytes()
    name = _free_picture(on.folder, picture.name, data)
    if not (on.folder / name).exists():
        _write_whole(on.folder / name, data)
    return picture_added(on, name)


def _free_picture(folder: Path, wanted: str, data: bytes) -> str:
    """Give a name that no other picture has; the same picture keeps the one it has."""
    path, number = folder / wanted, 2
    while path.exists() and path.read_bytes() != data:
        path = folder / f"{Path(wanted).stem} {number}{Path(wanted).suffix}"
        number += 1
    return path.name


def file_name_of(title: str) -> str:
    """Give the name under which a design is asked for everywhere, from its title: “Swap day” is “swap-day”."""
    plain = unicodedata.normalize("NFKD", title.casefold())
    bare = "".join(each for each in plain if not unicodedata.combining(each))
    return re.sub(r"[^\w]+", "-", bare).strip("-_")[:60]


def save(catalogue: Catalogue, laid: LaidDesign, title: str) -> LaidDesign:
    """Save a design under a title of the keeper's own, beside the catalogue; gives it as it lies there now.

    Refused: a title of a shipped design, or of another design of one's own; and a file that was changed at another
    desk since it was opened. Shipped designs are never written.
    """
    own = own_designs_folder(catalogue.file)
    wanted = file_name_of(title)
    if not wanted:
        raise BadInput("A design needs a title with letters or digits in it. Nothing was saved.")
    known = {each.title.casefold().strip(): each.name for each in designs(own)}
    taken = known.get(title.casefold().strip())
    is_same = laid.is_own and laid.on.design.name == wanted
    if is_shipped(wanted) or (taken is not None and is_shipped(taken)):
        raise BadInput(
            f"“{title.strip()}” came with the program and stays as it is. Give your design a title of its own, such as "
            f"“Our {title.strip().lower()}”. Nothing was saved."
        )
    path = own / f"{wanted}.toml"
    if not is_same and (path.exists() or taken is not None):
        raise BadInput(
            f"There is a design “{title.strip()}” already. Choose another title. Nothing was saved."
        )
    if is_same and path.exists() and path.read_text(encoding="utf-8") != laid.text:
        raise BadInput(
            f"The design “{title.strip()}” was changed elsewhere since it was opened here. Save yours under another "
            "title. Nothing was saved."
        )
    return _saved(laid, path, replace(laid.on.design, name=wanted, title=title.strip()))


def _saved(laid: LaidDesign, path: Path, made: LabelDesign) -> LaidDesign:
    # Remarks belong to boxes by their names, as they stood when the file was read.
    before = design_in(laid.text, made.name, path.parent) if laid.text else None
    text = written(made, laid.remarks, before)
    # What cannot be read again is never written.
    if design_in(text, made.name, path.parent, path.name) != made:
        raise LabelError(f"{path.name} would not read as it was made; nothing was saved.")
    _write_whole(path, text.encode("utf-8"))
    on = replace(laid.on, design=read_design(path), folder=path.parent)
    return LaidDesign(on, design_lines(text), True, text)


class DesignFileError(KeeperError):
    """A file of a design that could not be written."""


def _write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is there whole or stays as it was."""
    part = None
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        number, part = tempfile.mkstemp(prefix=".", suffix=".part", dir=path.parent)
        with os.fdopen(number, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(part).replace(path)
    except OSError as fault:
        if part is not None:
            Path(part).unlink(missing_ok=True)
        raise DesignFileError(f"{path} could not be written: {fault.strerror}. Nothing was saved.") from fault
