"""The look of the window in one place: colours of paper, bean leaf and seed coat, sizes for damp hands."""

from typing import Literal, NamedTuple

from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QApplication

from hilum.window.style_sheet import CONTROL_PX, ROW_PX, style_sheet

__all__ = ["CONTROL_PX", "DARK", "LIGHT", "MODES", "ROW_PX", "Mode", "Theme", "apply_theme", "theme"]

Mode = Literal["light", "dark", "system"]
MODES: tuple[Mode, ...] = ("system", "light", "dark")

BODY_POINT = 11.0


# A named tuple, not a dataclass: this is read before the first paint, and making a dataclass takes milliseconds.
class Theme(NamedTuple):
    """Every colour the window uses, as "#rrggbb"; words keep a contrast of 4.5 to 1 on their ground."""

    name: str
    paper: str  # the ground of the window
    sheet: str  # cards, tables and fields lying on it
    ink: str
    quiet: str  # secondary words
    line: str  # borders and rules
    edge: str  # borders of what can be typed into or pressed
    accent: str  # bean leaf: actions, the chosen bench
    accent_held: str
    accent_ink: str  # words on the accent
    coat: str  # seed coat: headings, lot numbers, marks
    good: str
    good_ground: str
    warn: str
    warn_ground: str
    bad: str
    bad_ground: str
    band: str  # every other row, intervals, the rail
    chosen: str  # ground of what is selected
    chosen_ink: str


LIGHT = Theme(
    name="light",
    paper="#f6f2e7",
    sheet="#fffdf7",
    ink="#26281f",
    quiet="#5f5c4c",
    line="#ddd5c0",
    edge="#9a9078",
    accent="#2e5b34",
    accent_held="#234728",
    accent_ink="#fffdf7",
    coat="#7a4526",
    good="#2b6331",
    good_ground="#e3edd8",
    warn="#7d5200",
    warn_ground="#f8e9c4",
    bad="#98291c",
    bad_ground="#f7ded6",
    band="#eee8d8",
    chosen="#d5e3c8",
    chosen_ink="#1d2a1c",
)
DARK = Theme(
    name="dark",
    paper="#1d1f19",
    sheet="#272a22",
    ink="#ece7d8",
    quiet="#b3ad99",
    line="#3c4035",
    edge="#777a68",
    accent="#8fbf82",
    accent_held="#a9d29d",
    accent_ink="#14200f",
    coat="#dca67c",
    good="#9ccf8e",
    good_ground="#2b3a27",
    warn="#eec36a",
    warn_ground="#40351b",
    bad="#f2a092",
    bad_ground="#47261f",
    band="#23261f",
    chosen="#3d5538",
    chosen_ink="#f4f2e6",
)

_current = LIGHT
# How the desktop looked before this window put colours of its own over it.
_desktop_was_dark: bool | None = None


def theme() -> Theme:
    """Give the colours in force."""
    return _current


def apply_theme(app: QApplication, mode: Mode = "system") -> Theme:
    """Put the whole window into light or dark colours; "system" follows the desktop."""
    global _current  # noqa: PLW0603 -- one application, one look
    desktop_is_dark = _desktop_is_dark(app)
    dark = mode == "dark" or (mode == "system" and desktop_is_dark)
    _current = DARK if dark else LIGHT
    if app.style().name().lower() != "fusion":
        app.setStyle("Fusion")
    font = QFont(app.font())
    font.setPointSizeF(BODY_POINT)
    app.setFont(font)
    app.setPalette(_palette(_current))
    app.setStyleSheet(style_sheet(_current))
    return _current


def _desktop_is_dark(app: QApplication) -> bool:
    """Say whether the desktop is dark; asked of its palette at the start, which needs less than asking Qt's hints."""
    global _desktop_was_dark  # noqa: PLW0603 -- one application, one desktop
    if _desktop_was_dark is None:
        _desktop_was_dark = app.palette().window().color().lightness() < 128
        return _desktop_was_dark
    from PySide6.QtCore import Qt

    scheme = app.styleHints().colorScheme()
    return _desktop_was_dark if scheme == Qt.ColorScheme.Unknown else scheme == Qt.ColorScheme.Dark


def _palette(t: Theme) -> QPalette:
    palette = QPalette()
    role = QPalette.ColorRole
    for which, colour in (
        (role.Window, t.paper),
        (role.WindowText, t.ink),
        (role.Base, t.sheet),
        (role.AlternateBase, t.band),
        (role.Text, t.ink),
        (role.PlaceholderText, t.quiet),
        (role.Button, t.sheet),
        (role.ButtonText, t.ink),
        (role.Highlight, t.chosen),
        (role.HighlightedText, t.chosen_ink),
        (role.Accent, t.accent),
        (role.ToolTipBase, t.sheet),
        (role.ToolTipText, t.ink),
        (role.Link, t.accent),
        (role.LinkVisited, t.accent),
        (role.Light, t.sheet),
        (role.Mid, t.line),
        (role.Dark, t.edge),
        (role.Shadow, t.edge),
    ):
        palette.setColor(which, QColor(colour))
    for which in (role.Text, role.WindowText, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, QColor(t.edge))
    return palette
