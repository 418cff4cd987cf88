"""The pages of a PDF of labels as they will be printed: the file itself, drawn by the renderer that proofed it."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QKeySequence, QPixmap, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.printing import PagePicture, page_picture
from hilum.window.theme import theme
from hilum.window.work import WorkDay

MM_PER_INCH = 25.4
# A page wider than this on the screen would only fill the memory.
MOST_PX = 6_000


def picture_of(picture: PagePicture) -> QImage:
    """Give a page as a picture that keeps its own bytes."""
    stride = picture.width * 3
    return QImage(picture.rgb, picture.width, picture.height, stride, QImage.Format.Format_RGB888).copy()


class PageArea(QScrollArea):
    """The page itself, with bars when it is larger than its place."""

    page_turned = Signal(int)
    resized = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.page = QLabel()
        self.page.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setWidget(self.page)
        self.setWidgetResizable(True)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_PageDown:
            self.page_turned.emit(1)
        elif event.key() == Qt.Key.Key_PageUp:
            self.page_turned.emit(-1)
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.resized.emit()


class LabelPreview(QWidget):
    """Shows one page at a time, fitted to its place or at 100 %."""

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._pdf: bytes | None = None
        self._page_w_mm, self._page_h_mm = 210.0, 297.0
        self._is_fitted = True
        # Counts what was asked for, so that a page drawn for an earlier wish is not shown.
        self._asked = 0
        self._empty_words = ""
        self.area = PageArea()
        self.area.setAccessibleName("Page")
        self.earlier, self.later = QPushButton("‹ &Back"), QPushButton("O&n ›")
        self.earlier.setAccessibleName("Page before")
        self.later.setAccessibleName("Next page")
        self.number = QSpinBox()
        self.number.setAccessibleName("Page number")
        self.number.setMinimum(1)
        self._of = QLabel("of 1")
        self.zoom = QComboBox()
        self.zoom.addItems(("Whole page", "100 %"))
        self.zoom.setAccessibleName("Zoom")
        self.zoom.setToolTip("Ctrl+0: the whole page; Ctrl+1: as large as on paper")
        self._bar = self._made_bar()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.area, 1)
        layout.addWidget(self._bar)
        self._connect()
        self.show_nothing("")

    def _made_bar(self) -> QWidget:
        bar = QWidget()
        layout = QHBoxLayout(bar)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        for widget in (self.earlier, self.number, self._of, self.later):
            layout.addWidget(widget)
        layout.addStretch(1)
        layout.addWidget(self.zoom)
        return bar

    def _connect(self) -> None:
        self.earlier.clicked.connect(self.on_earlier)
        self.later.clicked.connect(self.on_later)
        self.number.valueChanged.connect(self.on_page_chosen)
        self.area.page_turned.connect(self.turn)
        self.area.resized.connect(self.on_resized)
        self.zoom.currentIndexChanged.connect(self.on_zoom_chosen)
        for keys, slot in (("Ctrl+0", self.show_fitted), ("Ctrl+1", self.show_full)):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(slot)

    # What is shown.

    def show_pages(self, pdf: bytes, pages: int, page_w_mm: float, page_h_mm: float) -> None:
        """Show a PDF from its first page on."""
        self._pdf, self._page_w_mm, self._page_h_mm = pdf, page_w_mm, page_h_mm
        self.number.blockSignals(True)
        self.number.setMaximum(pages)
        self.number.setValue(1)
        self.number.blockSignals(False)
        self._of.setText(f"of {pages}")
        self._bar.setEnabled(True)
        self._draw()

    def show_nothing(self, words: str) -> None:
        """Show words in the place of pages."""
        self._asked += 1
        self._pdf, self._empty_words = None, words
        self._bar.setEnabled(False)
        self.area.page.setPixmap(QPixmap())
        self.area.page.setWordWrap(True)
        self.area.page.setStyleSheet(f"color: {theme().quiet}; padding: 24px;")
        self.area.page.setText(words)

    @property
    def page(self) -> int:
        """The page shown, counted from 1."""
        return self.number.value()

    def shown_picture(self) -> QPixmap:
        """Give the picture on the screen; null while there is none."""
        return self.area.page.pixmap()

    def turn(self, by: int) -> None:
        """Go some pages on or back."""
        self.number.setValue(self.number.value() + by)

    def on_earlier(self) -> None:
        """Go one page back."""
        self.turn(-1)

    def on_later(self) -> None:
        """Go one page on."""
        self.turn(1)

    def on_page_chosen(self, _page: int) -> None:
        """Show the page whose number was chosen."""
        self._draw()

    def show_fitted(self) -> None:
        """Show the whole page."""
        self.zoom.setCurrentIndex(0)

    def show_full(self) -> None:
        """Show the page as large as it will be on paper."""
        self.zoom.setCurrentIndex(1)

    def on_zoom_chosen(self, place: int) -> None:
        """Show the page as large as was chosen."""
        self._is_fitted = place == 0
        self._draw()

    def on_resized(self) -> None:
        """Fit the page to its new place."""
        if self._is_fitted:
            self._draw()

    def forget(self) -> None:
        """Let pages that are still being drawn go by; called when the window around it closes."""
        self._asked += 1
        self._pdf = None

    # Drawing, in the pool.

    def wanted_size(self) -> QSize:
        """Give how large the page is to be on the screen, in device-independent pixels."""
        if not self._is_fitted:
            per_mm = self.logicalDpiX() / MM_PER_INCH
            return QSize(round(self._page_w_mm * per_mm), round(self._page_h_mm * per_mm))
        room = self.area.viewport().size() - QSize(16, 16)
        scale = min(room.width() / self._page_w_mm, room.height() / self._page_h_mm)
        return QSize(round(self._page_w_mm * scale), round(self._page_h_mm * scale))

    def _draw(self) -> None:
        self.earlier.setEnabled(self.number.value() > 1)
        self.later.setEnabled(self.number.value() < self.number.maximum())
        self._asked += 1
        if self._pdf is None:
            return
        width = round(self.wanted_size().width() * self.devicePixelRatioF())
        if width < 1:
            return
        self._work.run(
            _asked_picture, self._asked, self._pdf, self.number.value() - 1, min(width, MOST_PX),
            done=self.on_drawn, failed=self.on_failed,
        )  # fmt: skip

    def on_drawn(self, drawn: tuple[int, PagePicture]) -> None:
        """Show a page that was drawn, unless another is wanted by now."""
        asked, picture = drawn
        if asked != self._asked:
            return
        pixmap = QPixmap.fromImage(picture_of(picture))
        pixmap.setDevicePixelRatio(self.devicePixelRatioF())
        self.area.page.setStyleSheet("")
        self.area.page.setPixmap(pixmap)
        self.area.page.setAccessibleName(f"Page {self.page} of {self.number.maximum()}")

    def on_failed(self, words: str) -> None:
        """Say why a page cannot be shown."""
        if self._pdf is not None:
            self.show_nothing(words)


def _asked_picture(asked: int, pdf: bytes, page: int, width: int) -> tuple[int, PagePicture]:
    return asked, page_picture(pdf, page, width)
