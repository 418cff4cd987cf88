"""PDF files of labels: written whole or not at all, and taken back when the work they belong to failed."""

import os
import tempfile
from pathlib import Path

from hilum.errors import KeeperError

# Characters that some system refuses in a file name.
UNFIT = '<>:"/\\|?*'


class PrintFileError(KeeperError):
    """A file of labels that could not be written; names the file and why."""


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is there whole or stays as it was."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        number, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=path.parent)
    except OSError as error:
        raise _trouble(path, error) from error
    part = Path(name)
    try:
        with os.fdopen(number, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise _trouble(path, error) from error


def _trouble(path: Path, error: OSError) -> PrintFileError:
    why = error.strerror or str(error)
    return PrintFileError(f"{path} could not be written: {why}. Choose another folder and try again.")


def file_name(words: str) -> str:
    """Give words as a file name that every system takes."""
    return "".join(" " if letter in UNFIT or ord(letter) < 32 else letter for letter in words).strip(" .")


def free_name(path: Path) -> Path:
    """Give a path that is not taken yet: the same name, or with a number behind it."""
    tried, number = path, 1
    while tried.exists():
        number += 1
        tried = path.with_name(f"{path.stem} ({number}){path.suffix}")
    return tried


class KeptPdf:
    """One PDF written inside a larger step; if the step fails after it, the folder is as it was before."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._before: bytes | None = None
        self._is_written = False

    def write(self, pdf: bytes) -> None:
        """Write the file; raises PrintFileError when it cannot be written."""
        try:
            self._before = self.path.read_bytes() if self.path.exists() else None
        except OSError as error:
            raise _trouble(self.path, error) from error
        write_whole(self.path, pdf)
        self._is_written = True

    def take_back(self) -> None:
        """Put back what was there before."""
        if not self._is_written:
            return
        if self._before is None:
            self.path.unlink(missing_ok=True)
        else:
            write_whole(self.path, self._before)
        self._is_written = False
