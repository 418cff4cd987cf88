"""The scripts in packaging/: what they decide before the program itself runs."""

import ast
import importlib
import json
import sys
from pathlib import Path
from types import ModuleType

import pytest

from tests.support.sources import ROOT

PACKAGING = ROOT / "packaging"
WANTED = {"lock": "1f", "python": "cpython 3.11", "machine": "linux-x86_64"}


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """Give packaging/run.py as a module, found as its siblings find each other."""
    monkeypatch.syspath_prepend(str(PACKAGING))
    return importlib.import_module("run")


@pytest.fixture
def environment(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """Give packaging/environment.py as a module."""
    monkeypatch.syspath_prepend(str(PACKAGING))
    return importlib.import_module("environment")


def built(environment: ModuleType, folder: Path) -> Path:
    """Make a folder that looks as a finished build leaves it."""
    python = environment.python_of(folder)
    python.parent.mkdir(parents=True)
    python.touch()
    version = f"python{sys.version_info[0]}.{sys.version_info[1]}"
    packages = folder / ("Lib" if sys.platform == "win32" else f"lib/{version}") / "site-packages"
    (packages / "alembic-1.20.1.dist-info").mkdir(parents=True)
    stamp = {**WANTED, "distributions": ["alembic-1.20.1.dist-info"]}
    (folder / environment.STAMP).write_text(json.dumps(stamp), encoding="utf-8")
    return packages


def test_a_finished_environment_is_kept(environment: ModuleType, tmp_path: Path):
    """A second start has nothing to build."""
    built(environment, tmp_path / "env")
    assert environment.is_complete(tmp_path / "env", WANTED)


@pytest.mark.parametrize("changed", WANTED)
def test_another_lock_or_python_builds_anew(environment: ModuleType, tmp_path: Path, changed: str):
    """What was built for something else is not used."""
    built(environment, tmp_path / "env")
    assert not environment.is_complete(tmp_path / "env", {**WANTED, changed: "other"})


def test_a_broken_environment_is_noticed(environment: ModuleType, tmp_path: Path):
    """Broken off, tampered with, or without its Python: each is built again."""
    assert not environment.is_complete(tmp_path / "nothing", WANTED)
    packages = built(environment, tmp_path / "lost")
    (packages / "alembic-1.20.1.dist-info").rmdir()
    assert not environment.is_complete(tmp_path / "lost", WANTED)
    packages = built(environment, tmp_path / "more")
    (packages / "pytest-9.2.0.dist-info").mkdir()
    assert not environment.is_complete(tmp_path / "more", WANTED)
    built(environment, tmp_path / "headless")
    environment.python_of(tmp_path / "headless").unlink()
    assert not environment.is_complete(tmp_path / "headless", WANTED)
    built(environment, tmp_path / "torn")
    (tmp_path / "torn" / environment.STAMP).write_text('{"lock": "1f', encoding="utf-8")
    assert not environment.is_complete(tmp_path / "torn", WANTED)


def test_two_starts_do_not_build_at_once(environment: ModuleType, tmp_path: Path):
    """Who comes second does not get the guard while the first holds it, and gets it afterwards."""
    guard = tmp_path / "guard"
    with guard.open("a+b") as second:
        with guard.open("a+b") as first:
            assert environment._take(first)
            assert not environment._take(second)
        assert environment._take(second)


@pytest.mark.parametrize(
    ("words", "window"),
    [
        ("", True),
        ("--demo", True),
        ("--catalogue seeds.hilum", True),
        ("lots --due", False),
        ("--version", False),
        ("--help", False),
        ("--catalogue seeds.hilum lots --due", False),
        ("--json --catalogue seeds.hilum lots", False),
    ],
)
def test_which_arguments_open_the_window(run: ModuleType, words: str, window: bool):
    """Verbs and questions about the program need no screen."""
    assert run.opens_window(words.split()) is window


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux has no screen at times")
@pytest.mark.parametrize(
    ("settings", "screen"),
    [
        ({}, False),
        ({"DISPLAY": ""}, False),
        ({"DISPLAY": ":0"}, True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, True),
        ({"QT_QPA_PLATFORM": "offscreen"}, True),
        ({"QT_QPA_PLATFORM": "xcb"}, False),
    ],
)
def test_when_there_is_a_screen(run: ModuleType, settings: dict[str, str], screen: bool):
    """A display of the session's counts, and so does a platform of Qt that needs none."""
    assert run.has_screen(settings) is screen


def test_old_pythons_are_turned_away_in_words(run: ModuleType, monkeypatch: pytest.MonkeyPatch):
    """The two scripts can be read by older Pythons, and say which one is needed."""
    for name in ("run.py", "test.py"):
        ast.parse((PACKAGING / name).read_text(encoding="utf-8"), feature_version=(3, 7))
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    with pytest.raises(SystemExit, match=r"Hilum needs Python 3\.11 or newer"):
        run.refuse_old_python()


def test_missing_packages_are_told_with_the_one_command(monkeypatch: pytest.MonkeyPatch):
    """Where nothing may be installed, the keeper reads what is missing and the command that brings it."""
    monkeypatch.syspath_prepend(str(PACKAGING))
    debian = importlib.import_module("debian")
    monkeypatch.setattr(debian, "_administrator", lambda: None)
    with pytest.raises(debian.PackagesMissingError) as refusal:
        debian.need_packages(["libgl1", "libegl1"], "The window needs libraries.")
    assert "Missing packages: libgl1 libegl1" in str(refusal.value)
    assert "sudo apt-get install --yes --no-install-recommends libgl1 libegl1" in str(refusal.value)


def test_a_library_that_is_not_there_names_its_package(monkeypatch: pytest.MonkeyPatch):
    """A library that cannot be loaded is reported by the package that holds it."""
    monkeypatch.syspath_prepend(str(PACKAGING))
    debian = importlib.import_module("debian")
    monkeypatch.setattr(debian, "QT_LIBRARIES", {"libhilum-is-nowhere.so.9": "libnowhere9"})
    expected = ["libnowhere9"] if sys.platform.startswith("linux") else []
    assert debian.missing_for_qt(x_display=False) == expected
