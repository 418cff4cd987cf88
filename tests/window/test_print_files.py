"""Files of labels: whole or not at all, taken back when the step around them fails; what is remembered."""

import os

import pytest

from hilum.window.print_files import KeptPdf, PrintFileError, file_name, free_name, write_whole
from hilum.window.print_memory import PrintMemory, memory_file, remember, remembered


def test_a_file_is_there_whole_and_nothing_lies_beside_it(tmp_path):
    """Writing leaves the file and no scraps."""
    write_whole(tmp_path / "labels" / "a.pdf", b"pages")
    assert [path.name for path in (tmp_path / "labels").iterdir()] == ["a.pdf"]
    assert (tmp_path / "labels" / "a.pdf").read_bytes() == b"pages"


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="needs a path that is a file")
def test_a_folder_that_cannot_be_is_named(tmp_path):
    """The message names the file and what to do."""
    (tmp_path / "file").write_text("here", encoding="utf-8")
    with pytest.raises(PrintFileError, match=r"file.a\.pdf could not be written.*Choose another folder"):
        write_whole(tmp_path / "file" / "a.pdf", b"pages")


def test_a_new_file_is_gone_when_it_is_taken_back(tmp_path):
    """After a failed step the folder is as before."""
    kept = KeptPdf(tmp_path / "a.pdf")
    kept.write(b"pages")
    kept.take_back()
    assert list(tmp_path.iterdir()) == []


def test_an_older_file_comes_back_when_it_is_taken_back(tmp_path):
    """A file that was overwritten by wish is not lost by a failure."""
    (tmp_path / "a.pdf").write_bytes(b"older")
    kept = KeptPdf(tmp_path / "a.pdf")
    kept.write(b"pages")
    kept.take_back()
    assert (tmp_path / "a.pdf").read_bytes() == b"older"


def test_taking_back_what_was_never_written_touches_nothing(tmp_path):
    """A file of the same name that is not ours stays."""
    (tmp_path / "a.pdf").write_bytes(b"older")
    KeptPdf(tmp_path / "a.pdf").take_back()
    assert (tmp_path / "a.pdf").read_bytes() == b"older"


def test_names_fit_every_system_and_none_is_taken_twice(tmp_path):
    """Names are made fit, and a taken one gets a number."""
    assert file_name('Pea "Long/Wharf"?') == "Pea  Long Wharf"
    (tmp_path / "a.pdf").touch()
    assert free_name(tmp_path / "a.pdf").name == "a (2).pdf"


def test_choices_are_remembered(keeper_home):
    """What was chosen comes back from the file."""
    remember(PrintMemory(design="jar", stocks={"jar": "a4-2x7-99.1x38.1"}, dpi=600, folder="/somewhere"))
    assert remembered().design == "jar"
    assert remembered().stock_for("jar") == "a4-2x7-99.1x38.1"
    assert remembered().dpi == 600


@pytest.mark.parametrize("text", ["", "{", "[]", '{"dpi": 301, "stocks": 4, "design": null}'])
def test_a_damaged_memory_counts_for_nothing(text, keeper_home):
    """Unfit contents give the choices of the first day."""
    memory_file().parent.mkdir(parents=True, exist_ok=True)
    memory_file().write_text(text, encoding="utf-8")
    assert remembered() == PrintMemory()
