"""The folder of the keeper's own designs: one program has one catalogue open, and its designs lie beside it."""

from pathlib import Path

_folder: Path | None = None


def own_folder() -> Path | None:
    """Give the folder in which own designs are looked for; None before a catalogue was opened."""
    return _folder


def look_in(folder: Path | None) -> None:
    """Look for own designs in a folder from now on; it need not be there yet."""
    global _folder  # noqa: PLW0603 -- one program, one catalogue
    _folder = folder
