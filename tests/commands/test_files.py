"""PDFs that commands write: whole or not at all, and never over something else."""

import os
from pathlib import Path

import pytest

from hilum.commands.files import PdfFile
from hilum.errors import BadInput, KeeperError

NEW, OLD = b"%PDF-1.7 new", b"%PDF-1.7 old"


def test_a_file_appears_whole(tmp_path: Path):
    """After the block the file is there, and nothing else."""
    with PdfFile(tmp_path / "sheet.pdf") as file:
        file.write(NEW)
    assert [each.name for each in tmp_path.iterdir()] == ["sheet.pdf"]
    assert (tmp_path / "sheet.pdf").read_bytes() == NEW


@pytest.mark.parametrize("before", [None, OLD])
def test_an_error_brings_back_what_was_there(tmp_path: Path, before: bytes | None):
    """When the work fails after the file was written, the folder is as it was."""
    target = tmp_path / "sheet.pdf"
    if before is not None:
        target.write_bytes(before)

    def broken_off() -> None:
        with PdfFile(target) as file:
            file.write(NEW)
            raise RuntimeError

    with pytest.raises(RuntimeError):
        broken_off()
    assert [each.read_bytes() for each in tmp_path.iterdir()] == ([] if before is None else [before])


def test_an_older_sheet_is_written_over(tmp_path: Path):
    """A sheet of labels can be made again, so a script may run twice."""
    target = tmp_path / "sheet.pdf"
    target.write_bytes(OLD)
    with PdfFile(target) as file:
        file.write(NEW)
    assert target.read_bytes() == NEW
    assert len(list(tmp_path.iterdir())) == 1


def test_what_is_no_pdf_is_never_written_over(tmp_path: Path):
    """A slip of the hand costs no catalogue."""
    catalogue = tmp_path / "library.hilum"
    catalogue.write_bytes(b"SQLite format 3\0")
    with pytest.raises(BadInput, match=r"is no PDF. Choose another name"):
        PdfFile(catalogue)
    assert catalogue.read_bytes() == b"SQLite format 3\0"


def test_a_missing_folder_and_a_folder_are_refused(tmp_path: Path):
    """The words say what to do."""
    with pytest.raises(BadInput, match=r"There is no folder .*nowhere. Make it first"):
        PdfFile(tmp_path / "nowhere" / "sheet.pdf")
    with pytest.raises(BadInput, match=r"is a folder. Name a file in it"):
        PdfFile(tmp_path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="only POSIX systems have named pipes")
def test_a_pipe_is_written_into_and_stays(tmp_path: Path):
    """What is no plain file, such as a pipe, is never replaced by one."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        with PdfFile(pipe) as file:
            file.write(NEW)
        assert os.read(reader, 100) == NEW
    finally:
        os.close(reader)
    assert pipe.is_fifo()


@pytest.mark.skipif(not hasattr(os, "symlink") or os.name == "nt", reason="links need rights on Windows")
def test_through_a_link_the_file_itself_is_written(tmp_path: Path):
    """A link stays a link."""
    target, link = tmp_path / "sheet.pdf", tmp_path / "newest.pdf"
    target.write_bytes(OLD)
    link.symlink_to(target)
    with PdfFile(link) as file:
        file.write(NEW)
    assert link.is_symlink()
    assert target.read_bytes() == NEW


def test_a_disk_that_refuses_is_told_in_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """A full disk is no bare error, and the sheet that was there stays."""
    target = tmp_path / "sheet.pdf"
    target.write_bytes(OLD)

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with (
        pytest.raises(KeeperError, match=r"No space left on device. Nothing was changed"),
        PdfFile(target) as file,
    ):
        file.write(NEW)
    assert [each.read_bytes() for each in tmp_path.iterdir()] == [OLD]
