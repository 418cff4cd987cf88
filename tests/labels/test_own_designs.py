"""Own designs: found beside the shipped ones, each fault told with file and line, shipped names never taken."""

from pathlib import Path

import pytest

from hilum.labels.design_writing import written
from hilum.labels.designs import design, designs, own_designs
from hilum.labels.errors import LabelError


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """Give a folder with a good design, a faulty one and one that has taken a shipped name."""
    (tmp_path / "swap-day.toml").write_text(written(design("jar")), encoding="utf-8")
    (tmp_path / "bad.toml").write_text(
        written(design("jar")).replace("room_mm = 25.2", "room_mm = 3"), encoding="utf-8"
    )
    (tmp_path / "packet.toml").write_text(written(design("jar")), encoding="utf-8")
    return tmp_path


def test_own_designs_stand_after_the_shipped_ones(own: Path) -> None:
    """A faulty file stops no other."""
    assert [each.name for each in designs(own)][-1] == "swap-day"
    assert design("Swap-Day", own).layouts == design("jar").layouts
    assert [each.name for each in designs(own / "not-there")] == [each.name for each in designs()]


def test_a_faulty_file_is_named_with_its_line(own: Path) -> None:
    """Also when it is asked for by name."""
    faulty = {each.path.name: each.why for each in own_designs(own)[1]}
    assert faulty["bad.toml"].startswith(
        "bad.toml, line 13 (layout 1, code): room_mm is 3; allowed: a number from 12.5"
    )
    with pytest.raises(LabelError, match=r"“bad” cannot be used\. bad\.toml, line 13"):
        design("bad", own)


def test_a_shipped_design_is_never_replaced(own: Path) -> None:
    """A file of its name is told of instead."""
    assert design("packet", own) is design("packet")
    [words] = [each.why for each in own_designs(own)[1] if each.path.name == "packet.toml"]
    assert "a design called “packet” came with the program; give this file another name" in words


def test_a_design_that_was_changed_is_read_anew(own: Path) -> None:
    """Without starting again."""
    assert design("swap-day", own).title == "Jar"
    text = written(design("jar")).replace('title = "Jar"', 'title = "For the swap day"')
    (own / "swap-day.toml").write_text(text, encoding="utf-8")
    assert design("swap-day", own).title == "For the swap day"
