"""The figures of a lot that are read from a step away: stock, reserve, germination, next test, state."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QSizePolicy, QVBoxLayout, QWidget

from hilum.benches.lots import LotStory
from hilum.benches.wording import month_words
from hilum.window import lot_words
from hilum.window.widgets import Figure, Quiet, card

COLUMNS = 4


class FigureBox(QWidget):
    """One figure with what it is and what is to be known of it."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name, self._figure, self._words = Quiet(name), Figure(), Quiet()
        self._figure.setWordWrap(True)
        self._figure.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._figure.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 8, 4)
        layout.setSpacing(1)
        for widget in (self._name, self._figure, self._words):
            layout.addWidget(widget)
        layout.addStretch(1)

    def show_figure(self, figure: str, words: str = "", tone: str = "") -> None:
        """Show the figure."""
        self._figure.setText(figure)
        self._figure.set_tone(tone)
        self._words.setText(words)
        self._words.setVisible(bool(words))


class LotFigures(QFrame):
    """The figures of one lot on a card."""

    def __init__(self) -> None:
        super().__init__()
        names = (
            "Stock",
            "Germination",
            "Next test",
            "State",
            "Reserve",
            "A thousand seeds",
            "Lies in",
            "Comes from",
        )
        self._boxes = {name: FigureBox(name) for name in names}
        grid = QGridLayout()
        grid.setHorizontalSpacing(12)
        for place, box in enumerate(self._boxes.values()):
            grid.addWidget(box, place // COLUMNS, place % COLUMNS)
        for column in range(COLUMNS):
            grid.setColumnStretch(column, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card(grid))

    def show_story(self, story: LotStory) -> None:
        """Show the figures of a lot."""
        boxes, lot = self._boxes, story.lot
        line = lot.line
        low = "low: little above the reserve" if line.low else ""
        boxes["Stock"].show_figure(*_stock(story), "warn" if line.stock is None or line.low else "")
        boxes["Germination"].show_figure(*_germination(story), "bad" if line.below_standard else "")
        boxes["Next test"].show_figure(
            line.due_bar or lot_words.day(line.due_on),
            "; ".join(text for text in (_due_since(story), line.due_why) if text),
        )
        held = ", ".join(hold.kind for hold in story.holds if hold.lifted_on is None)
        boxes["State"].show_figure(line.state, held or low, lot_words.state_tone(lot))
        spare = "" if lot.spare_seeds is None else f"{lot_words.seeds(lot.spare_seeds, about=True)} above it"
        boxes["Reserve"].show_figure(lot_words.seeds(lot.reserve_seeds), spare)
        boxes["A thousand seeds"].show_figure(*_weight(story))
        stay = next((stay for stay in reversed(story.stays) if stay.until_on is None), None)
        if stay is None:
            boxes["Lies in"].show_figure("no store place", "not put into the store yet")
        else:
            cold = "" if stay.temperature_c is None else f"{stay.temperature_c:g} °C, "
            boxes["Lies in"].show_figure(stay.path, f"{cold}since {stay.from_on.isoformat()}")
        boxes["Comes from"].show_figure(*_origin(story))


def _stock(story: LotStory) -> tuple[str, str]:
    lot = story.lot
    if lot.line.stock is None:
        return "to be weighed", "its stock is not known"
    if lot.line.unit == "seeds":
        other = lot_words.grams(lot.stock_mg, about=lot.stock_mg_is_estimate)
    else:
        other = lot_words.seeds(lot.stock_seeds, about=lot.stock_seeds_is_estimate)
    return lot_words.stock(lot), "" if other == "not known" else other


def _due_since(story: LotStory) -> str:
    line = story.lot.line
    return f"date reached {line.due_on.isoformat()}" if line.due_bar and line.due_on else ""


def _germination(story: LotStory) -> tuple[str, str]:
    line, lot = story.lot.line, story.lot
    standard = "no standard" if lot.standard_percent is None else f"standard {lot.standard_percent} %"
    newest = max(
        (run for run in story.tests if run.state == "finished" and run.finished_on is not None),
        key=lambda run: (run.finished_on or run.started_on, run.id),
        default=None,
    )
    if newest is None or line.germination_percent is None:
        return "not tested", standard
    said = []
    if newest.low_percent is not None and newest.high_percent is not None:
        said.append(f"{newest.low_percent:.0f} to {newest.high_percent:.0f} % (90 % interval)")
    said.append(f"{newest.seeds} seeds, {month_words(newest.finished_on or newest.started_on)}")
    if newest.origin != "here":
        said.append(f"result of {newest.origin}")
    said.append(f"below {standard}" if line.below_standard else standard)
    return f"{line.germination_percent} %", "; ".join(said)


def _weight(story: LotStory) -> tuple[str, str]:
    tsw_ug = story.lot.thousand_seed_weight_ug
    if tsw_ug is None:
        return "not known", "count and weigh a sample"
    about = story.lot.thousand_seed_weight_is_estimate
    words = "usual for the crop; count and weigh a sample to be sure" if about else "counted and weighed"
    return f"{'about ' if about else ''}{tsw_ug / 1_000_000:.4g} g", words


def _origin(story: LotStory) -> tuple[str, str]:
    line = story.lot.line
    said = [f"came in {story.lot.received_words}"]
    if line.grower:
        said.insert(0, line.grower)
    if story.donor and story.donor != line.grower:
        said.append(f"given by {story.donor}")
    if story.plants:
        said.append(lot_words.counted(story.plants, "plant"))
    if story.isolation:
        said.append(f"isolation: {story.isolation}")
    said.append(f"identity {line.identity}")
    return line.place_grown or "place not known", "; ".join(said)
