"""What travels: scripts stay scripts, locks hold what is asked, resources are sound and in the wheel."""

import csv
import json
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.support.sources import ROOT

PACKAGING = ROOT / "packaging"
RESOURCES = ROOT / "resources"
PINNED = re.compile(r"^(?P<name>[A-Za-z0-9._-]+)==(?P<version>[^\s;]+)(?P<rest>.*)$")
# The first bytes of the kinds of files that are no text.
MAGIC = {
    ".png": b"\x89PNG\r\n\x1a\n",
    ".ttf": b"\x00\x01\x00\x00",
    ".otf": b"OTTO",
    ".pdf": b"%PDF-",
    ".jpg": b"\xff\xd8\xff",
}


def pins_in(name: str) -> dict[str, set[str]]:
    """Give the versions a lock file names for each distribution: more than one where Pythons differ."""
    pins: dict[str, set[str]] = {}
    for line in (PACKAGING / "lock" / f"{name}.txt").read_text(encoding="utf-8").splitlines():
        if match := PINNED.match(line):
            pins.setdefault(canonicalize_name(match["name"]), set()).add(match["version"])
    return pins


def asked_by_the_program() -> list[Requirement]:
    """Give the requirements in pyproject.toml."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return [Requirement(line) for line in project["dependencies"]]


def resource_files(*suffixes: str) -> list[Path]:
    """Give the resource files with one of these suffixes, or all."""
    files = [path for path in sorted(RESOURCES.rglob("*")) if path.is_file()]
    return [path for path in files if not suffixes or path.suffix in suffixes]


def short(path: Path) -> str:
    """Give a path as it is called within the project."""
    return path.relative_to(ROOT).as_posix()


def test_packaging_is_no_package():
    """An importable folder `packaging` would hide the library of that name."""
    assert list(PACKAGING.rglob("__init__.py")) == []
    import packaging

    assert packaging.__file__ is not None
    assert not Path(packaging.__file__).is_relative_to(PACKAGING)


@pytest.mark.parametrize("wanted", asked_by_the_program(), ids=lambda wanted: wanted.name)
def test_the_lock_covers_what_the_program_asks(wanted: Requirement):
    """Each requirement is pinned, within its bounds."""
    versions = pins_in("run").get(canonicalize_name(wanted.name), set())
    assert versions, f"{wanted.name} is in no lock; run packaging/lock.py"
    assert all(wanted.specifier.contains(version) for version in versions)


def test_the_program_is_tested_with_what_it_runs_on():
    """The lock of the checks holds the very versions of the program's own lock."""
    run, test = pins_in("run"), pins_in("test")
    assert {name: test.get(name) for name in run} == run


@pytest.mark.parametrize("name", ["run", "test"])
def test_every_pin_has_its_hashes(name: str):
    """Each distribution is pinned and followed by a hash, and the head says how the file is remade."""
    text = (PACKAGING / "lock" / f"{name}.txt").read_text(encoding="utf-8")
    assert "python3 packaging/lock.py" in text.split("==")[0]
    statements = [
        line for line in text.replace("\\\n", " ").splitlines() if line and not line.lstrip().startswith("#")
    ]
    assert statements
    loose = [line for line in statements if not PINNED.match(line) or "--hash=sha256:" not in line]
    assert loose == []


@pytest.mark.parametrize("path", resource_files(".csv"), ids=short)
def test_every_table_parses(path: Path):
    """A table has a header of distinct names, at least one row, and in every row as many cells as names."""
    with path.open(encoding="utf-8", newline="") as file:
        header, *rows = list(csv.reader(file, strict=True))
    assert all(header)
    assert len(set(header)) == len(header)
    assert not header[0].startswith("\ufeff"), "a byte order mark would become part of the first name"
    assert rows
    assert [number for number, row in enumerate(rows, start=2) if len(row) != len(header)] == []


@pytest.mark.parametrize("path", resource_files(".toml", ".json"), ids=short)
def test_every_settings_file_parses(path: Path):
    """TOML and JSON files are whole and not empty."""
    text = path.read_text(encoding="utf-8")
    assert tomllib.loads(text) if path.suffix == ".toml" else json.loads(text)


def test_pictures_and_fonts_are_what_they_are_called():
    """The first bytes fit the suffix, and no resource is empty."""
    empty = [short(path) for path in resource_files() if path.stat().st_size == 0]
    wrong = [
        short(path) for path in resource_files(*MAGIC) if not path.read_bytes().startswith(MAGIC[path.suffix])
    ]
    assert (empty, wrong) == ([], [])


def test_the_wheel_holds_the_resources(tmp_path: Path):
    """`pip install .` brings every module and resource, and the command."""
    built = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        check=False,
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert built.returncode == 0, built.stderr
    [wheel] = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        held = set(archive.namelist())
        [entry_points] = [name for name in held if name.endswith("entry_points.txt")]
        assert "hilum = hilum.__main__:main" in archive.read(entry_points).decode()
    resources = {f"hilum/_resources/{path.relative_to(RESOURCES).as_posix()}" for path in resource_files()}
    modules = {p.relative_to(ROOT / "desktop").as_posix() for p in (ROOT / "desktop" / "hilum").rglob("*.py")}
    assert (resources | modules) - held == set()
    assert not [name for name in held if name.startswith(("packaging", "tests"))]
