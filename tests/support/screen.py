"""Pictures of what is on the screen, for looking at by eye."""

from pathlib import Path

from PySide6.QtWidgets import QWidget


def grab(widget: QWidget, path: Path) -> Path:
    """Save a picture of one widget or window as PNG; gives the path back."""
    path.parent.mkdir(parents=True, exist_ok=True)
    assert widget.grab().save(str(path), "PNG"), f"no picture of {widget!r} at {path}"
    return path
