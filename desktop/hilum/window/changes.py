"""What tells open pages that the catalogue is no longer what they show."""

from PySide6.QtCore import QObject, Signal


class Changes(QObject):
    """One place to say, and to hear, that the catalogue has changed."""

    catalogue_changed = Signal(str)

    def tell(self, what: str) -> None:
        """Say in a few words what was changed; every open page reloads what it shows."""
        self.catalogue_changed.emit(what)
