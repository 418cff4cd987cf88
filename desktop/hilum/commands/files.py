"""Files that commands write: whole or not at all, and never over anything but a PDF."""

import os
import tempfile
from contextlib import suppress
from pathlib import Path
from types import TracebackType

from hilum.errors import BadInput, KeeperError

PDF_BEGINS = b"%PDF"


class PdfFile:
    """A PDF that lies complete in its place when the block ends well; after an error all is as it was before."""

    def __init__(self, path: Path) -> None:
        self._shown = path
        # Through a link the file itself is written, not the link.
        self._path = path.resolve() if path.is_symlink() else path.absolute()
        self._before: Path | None = None
        self._is_new = False
        self._refuse_unfit()

    def _refuse_unfit(self) -> None:
        folder = self._path.parent
        if self._path.is_dir():
            raise BadInput(
                f"{self._shown} is a folder. Name a file in it, for example {self._shown / 'labels.pdf'}"
            )
        if not folder.is_dir():
            raise BadInput(
                f"There is no folder {folder}. Make it first, or choose another place for {self._path.name}."
            )
        if not self._path.is_file():
            return
        try:
            with self._path.open("rb") as file:
                begins = file.read(len(PDF_BEGINS))
        except OSError as error:
            raise self._failure(error) from error
        # A slip of the hand must not cost a catalogue or a list.
        if begins not in (b"", PDF_BEGINS):
            raise BadInput(
                f"{self._shown} is there already and is no PDF. Choose another name for the labels."
            )
        if not os.access(self._path, os.W_OK):
            raise KeeperError(f"{self._shown} is write-protected. Choose another name. Nothing was changed.")

    def __enter__(self) -> "PdfFile":
        return self

    def write(self, content: bytes) -> None:
        """Put the content in its place in one move; the file that was there waits beside it until the end."""
        try:
            if self._path.exists() and not self._path.is_file():
                # A pipe or a device: nothing can be moved into its place.
                self._path.write_bytes(content)
            else:
                self._move_into_place(content)
        except OSError as error:
            self._put_back()
            raise self._failure(error) from error

    def _move_into_place(self, content: bytes) -> None:
        handle, name = tempfile.mkstemp(prefix=f".{self._path.name}.", suffix=".part", dir=self._path.parent)
        fresh = Path(name)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            fresh.chmod(0o666 & ~_umask())
            if self._path.exists():
                before = fresh.with_suffix(".before")
                self._path.replace(before)
                self._before = before
            fresh.replace(self._path)
            self._is_new = True
        finally:
            fresh.unlink(missing_ok=True)

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if kind is not None:
            self._put_back()
        elif self._before is not None:
            # The new file is in its place; a leftover of the old one is no reason to call the work failed.
            with suppress(OSError):
                self._before.unlink(missing_ok=True)

    def _put_back(self) -> None:
        if self._before is not None:
            self._before.replace(self._path)
        elif self._is_new:
            self._path.unlink(missing_ok=True)
        self._before, self._is_new = None, False

    def _failure(self, error: OSError) -> KeeperError:
        return KeeperError(
            f"{self._shown} cannot be written: {error.strerror or error}. Nothing was changed."
        )


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
