"""The style sheet of the window, made from the colours of a theme."""

from typing import TYPE_CHECKING

from hilum.resources import resource

if TYPE_CHECKING:
    from hilum.window.theme import Theme

# The least height of anything that is pressed or typed into, in pixels.
CONTROL_PX = 36
ROW_PX = 34


def style_sheet(t: "Theme") -> str:
    """Give the whole style sheet."""
    # Qt reads forward slashes on every system.
    icons = resource("icons").as_posix()
    parts = (_words, _buttons, _fields, _steppers, _tables, _rest, _bars)
    return "\n".join(part(t, icons) for part in parts)


def _words(t: "Theme", _icons: str) -> str:
    """Words, cards and notices."""
    return f"""
QToolTip {{ color: {t.ink}; background: {t.sheet}; border: 1px solid {t.edge}; padding: 4px; }}
QMainWindow, QDialog {{ background: {t.paper}; }}
QLabel[look="heading"] {{ color: {t.coat}; font-size: 15pt; font-weight: 600; }}
QLabel[look="title"] {{ color: {t.ink}; font-size: 19pt; font-weight: 600; }}
QLabel[look="quiet"] {{ color: {t.quiet}; }}
QLabel[look="figure"] {{ font-size: 14pt; font-weight: 600; }}
QLabel[look="number"] {{ color: {t.coat}; font-size: 24pt; font-weight: 600; }}
QLabel[tone="good"] {{ color: {t.good}; }}
QLabel[tone="warn"] {{ color: {t.warn}; }}
QLabel[tone="bad"] {{ color: {t.bad}; }}
QFrame#card {{ background: {t.sheet}; border: 1px solid {t.line}; border-radius: 8px; }}
QScrollArea#cloth {{ border: 1px solid {t.line}; border-radius: 8px; background: {t.band}; }}
QWidget#cloth {{ background: {t.band}; }}
QFrame#notice {{ border-radius: 6px; border: 1px solid {t.line}; border-left-width: 5px; }}
QFrame#notice[kind="good"] {{ background: {t.good_ground}; border-color: {t.good}; }}
QFrame#notice[kind="warn"] {{ background: {t.warn_ground}; border-color: {t.warn}; }}
QFrame#notice[kind="bad"] {{ background: {t.bad_ground}; border-color: {t.bad}; }}
"""


def _buttons(t: "Theme", _icons: str) -> str:
    """Buttons."""
    return f"""
QPushButton {{
    min-height: {CONTROL_PX - 14}px; padding: 6px 16px; color: {t.ink}; background: {t.sheet};
    border: 1px solid {t.edge}; border-radius: 6px;
}}
QPushButton:hover {{ border-color: {t.accent}; }}
QPushButton:pressed {{ background: {t.band}; }}
QPushButton:focus {{ border: 2px solid {t.accent}; padding: 5px 15px; }}
QPushButton:disabled {{ color: {t.edge}; border-color: {t.line}; background: {t.paper}; }}
QPushButton[look="primary"] {{
    color: {t.accent_ink}; background: {t.accent}; border-color: {t.accent}; font-weight: 600;
}}
QPushButton[look="primary"]:hover, QPushButton[look="primary"]:pressed {{ background: {t.accent_held}; }}
QPushButton[look="primary"]:focus {{ border: 2px solid {t.coat}; }}
QPushButton[look="primary"]:disabled {{ color: {t.paper}; background: {t.edge}; border-color: {t.edge}; }}
"""


def _fields(t: "Theme", _icons: str) -> str:
    """Lines, boxes and dates to type into."""
    return f"""
QLineEdit, QComboBox, QSpinBox, QDoubleSpinBox {{
    min-height: {CONTROL_PX - 12}px; padding: 4px 8px; color: {t.ink}; background: {t.sheet};
    border: 1px solid {t.edge}; border-radius: 5px;
    selection-background-color: {t.accent}; selection-color: {t.accent_ink};
}}
QAbstractSpinBox QLineEdit, QComboBox QLineEdit, QAbstractSpinBox QLineEdit:focus, QComboBox QLineEdit:focus {{
    min-height: 0; padding: 0; border: 0; background: transparent;
}}
QPlainTextEdit, QTextEdit {{
    color: {t.ink}; background: {t.sheet}; border: 1px solid {t.edge}; border-radius: 5px; padding: 4px;
    selection-background-color: {t.accent}; selection-color: {t.accent_ink};
}}
QLineEdit:focus, QComboBox:focus, QSpinBox:focus, QDoubleSpinBox:focus,
QPlainTextEdit:focus, QTextEdit:focus {{ border: 2px solid {t.accent}; padding: 3px 7px; }}
QLineEdit[wrong="true"], QSpinBox[wrong="true"], QDoubleSpinBox[wrong="true"] {{
    border: 2px solid {t.bad}; padding: 3px 7px;
}}
QLineEdit:disabled, QComboBox:disabled, QSpinBox:disabled, QDoubleSpinBox:disabled {{
    color: {t.quiet}; background: {t.paper}; border-color: {t.line};
}}
"""


def _steppers(t: "Theme", icons: str) -> str:
    """Arrows of boxes, and lists that drop down."""
    return f"""
QComboBox::drop-down {{ border: 0; width: 28px; }}
QComboBox::down-arrow {{ image: url("{icons}/arrow-down-{t.name}.png"); }}
QSpinBox, QDoubleSpinBox {{ qproperty-alignment: "AlignRight | AlignVCenter"; }}
QSpinBox::up-button, QDoubleSpinBox::up-button {{
    subcontrol-origin: border; subcontrol-position: top right; width: 26px; border: 0;
}}
QSpinBox::down-button, QDoubleSpinBox::down-button {{
    subcontrol-origin: border; subcontrol-position: bottom right; width: 26px; border: 0;
}}
QSpinBox::up-arrow, QDoubleSpinBox::up-arrow {{ image: url("{icons}/arrow-up-{t.name}.png"); }}
QSpinBox::down-arrow, QDoubleSpinBox::down-arrow {{ image: url("{icons}/arrow-down-{t.name}.png"); }}
QComboBox QAbstractItemView, QAbstractItemView#suggestions {{
    background: {t.sheet}; border: 1px solid {t.edge}; outline: 0;
    selection-background-color: {t.chosen}; selection-color: {t.chosen_ink};
}}
QComboBox QAbstractItemView::item {{ min-height: {ROW_PX - 4}px; }}
QAbstractItemView#suggestions::item {{ padding: 6px 8px; }}
"""


def _tables(t: "Theme", _icons: str) -> str:
    """Tables, trees, headings and tabs."""
    return f"""
QTableView, QTreeView, QListView {{
    background: {t.sheet}; alternate-background-color: {t.band}; border: 1px solid {t.line};
    border-radius: 6px; gridline-color: {t.line}; outline: 0;
    selection-background-color: {t.chosen}; selection-color: {t.chosen_ink};
}}
QTableView::item {{ padding: 0 6px; }}
QTableView:focus, QTreeView:focus, QListView:focus {{ border: 1px solid {t.accent}; }}
QTreeView::item {{ min-height: {ROW_PX - 4}px; }}
QHeaderView {{ background: transparent; border: 0; }}
QHeaderView::section {{
    color: {t.quiet}; background: {t.sheet}; padding: 6px 8px; border: 0; border-bottom: 2px solid {t.line};
    font-weight: 600;
}}
QTabWidget::pane {{ border: 0; border-top: 2px solid {t.line}; }}
QTabBar {{ qproperty-drawBase: 0; }}
QTabBar::tab {{ min-height: {CONTROL_PX - 12}px; padding: 6px 18px; color: {t.quiet}; background: transparent;
    border: 0; border-bottom: 3px solid transparent; }}
QTabBar::tab:selected {{ color: {t.ink}; border-bottom-color: {t.accent}; font-weight: 600; }}
QTabBar::tab:hover {{ color: {t.ink}; }}
QTabBar::tab:focus {{ border-bottom-color: {t.coat}; }}
"""


def _rest(t: "Theme", icons: str) -> str:
    """The rail, the find box, groups and ticks."""
    return f"""
QFrame#rail {{ background: {t.band}; border: 0; border-right: 1px solid {t.line}; }}
QFrame#rail QPushButton {{
    text-align: left; min-height: {CONTROL_PX}px; padding: 6px 14px 6px 12px; margin: 1px 8px; border: 0;
    border-radius: 6px; background: transparent; color: {t.ink};
}}
QFrame#rail QPushButton:hover {{ background: {t.paper}; }}
QFrame#rail QPushButton:focus {{ border: 2px solid {t.accent}; padding: 4px 12px 4px 10px; }}
QFrame#rail QPushButton:checked {{ background: {t.accent}; color: {t.accent_ink}; font-weight: 600; }}
QFrame#rail QPushButton:checked:focus {{ border-color: {t.coat}; }}
QLineEdit#scan {{ min-height: {CONTROL_PX + 14}px; font-size: 20pt; border-radius: 8px; padding-left: 12px; }}
QLineEdit#find {{ min-height: {CONTROL_PX}px; font-size: 13pt; border-radius: 8px; padding-left: 10px; }}
QGroupBox {{ border: 1px solid {t.line}; border-radius: 6px; margin-top: 12px; padding: 10px 6px 6px 6px; }}
QGroupBox::title {{ subcontrol-origin: margin; left: 10px; padding: 0 4px; color: {t.coat}; }}
QCheckBox, QRadioButton {{ min-height: {CONTROL_PX - 8}px; spacing: 8px; }}
QCheckBox::indicator, QTableView::indicator {{ width: 18px; height: 18px; border: 1px solid {t.edge};
    border-radius: 4px; background: {t.sheet}; }}
QCheckBox::indicator:checked, QTableView::indicator:checked {{ background: {t.accent}; border-color: {t.accent};
    image: url("{icons}/tick-{t.name}.png"); }}
QCheckBox:focus {{ color: {t.accent}; }}
QCheckBox::indicator:focus {{ border: 2px solid {t.accent}; }}
QCheckBox::indicator:disabled {{ background: {t.paper}; border-color: {t.line}; }}
"""


def _bars(t: "Theme", _icons: str) -> str:
    """Menus, the status line, scroll bars and progress."""
    return f"""
QMenuBar {{ background: {t.paper}; }}
QMenuBar::item {{ padding: 6px 10px; background: transparent; }}
QMenuBar::item:selected, QMenu::item:selected {{ background: {t.chosen}; color: {t.chosen_ink}; }}
QMenu {{ background: {t.sheet}; border: 1px solid {t.edge}; padding: 4px; }}
QMenu::item {{ padding: 7px 26px 7px 20px; }}
QMenu::item:disabled {{ color: {t.edge}; }}
QMenu::separator {{ height: 1px; background: {t.line}; margin: 4px 8px; }}
QStatusBar {{ background: {t.band}; border-top: 1px solid {t.line}; }}
QStatusBar::item {{ border: 0; }}
QStatusBar QPushButton {{ border: 0; background: transparent; color: {t.coat}; margin: 1px 8px; padding: 4px 10px; }}
QStatusBar QPushButton:hover {{ background: {t.paper}; }}
QStatusBar QPushButton:focus {{ border: 2px solid {t.accent}; padding: 2px 8px; }}
QStatusBar QLabel {{ padding-left: 12px; }}
QAbstractScrollArea::corner {{ background: transparent; border: 0; }}
QScrollBar {{ background: transparent; border: 0; }}
QScrollBar:vertical {{ width: 14px; }}
QScrollBar:horizontal {{ height: 14px; }}
QScrollBar::handle {{ background: {t.line}; border-radius: 4px; margin: 3px; min-width: 30px; min-height: 30px; }}
QScrollBar::handle:hover {{ background: {t.edge}; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
QScrollArea {{ border: 0; background: transparent; }}
QProgressBar {{ min-height: 18px; border: 1px solid {t.edge}; border-radius: 5px; text-align: center;
    background: {t.sheet}; }}
QProgressBar::chunk {{ background: {t.chosen}; border-radius: 4px; }}
QSplitter::handle {{ background: {t.line}; }}
"""
