"""Imports run downwards only, and each outside library enters through the rooms it belongs to."""

import ast
import re
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.support.sources import HOUSE, Module, house_modules, imports_of, modules_in


@dataclass(frozen=True)
class Room:
    """What a room may import: other rooms of ours, and libraries from outside."""

    ours: frozenset[str] = frozenset()
    outside: frozenset[str] = frozenset()


def room(ours: str = "", outside: str = "") -> Room:
    """Write a room's rights as two short lists of words."""
    return Room(frozenset(ours.split()), frozenset(outside.split()))


ROOMS = {
    "seedlore": room("", "numpy scipy"),
    "labels": room("", "qrcode numpy PIL pypdfium2 zxingcpp uharfbuzz bidi pyphen"),
    "catalogue": room("seedlore", "sqlalchemy alembic psycopg"),
    "exchange": room("seedlore", "openpyxl reportlab"),
    "benches": room("catalogue exchange labels seedlore", "numpy platformdirs"),
    "commands": room("benches"),
    "window": room("benches", "PySide6"),
    # The root: what everyone may know, and the one place where the parts are put together.
    "errors": room(),
    "resources": room("errors"),
    "__init__": room(),
    "__main__": room("commands window errors"),
}
FOR_EVERYONE = frozenset({"errors", "resources"})
# A library that only the named modules of a room may know.
ONLY_IN = {
    "qrcode": ("hilum.labels.codes", "hilum.labels.codewords", "hilum.labels.masks"),
    "bidi": ("hilum.labels.directions",),
    "pyphen": ("hilum.labels.breaks",),
}
# Wrong imports that are borne for now, as "file:line"; starts and should stay empty.
EXCEPTIONS: frozenset[str] = frozenset()

# The clock is read by the faces only; everything below is handed the day.
CLOCK_ROOMS = frozenset({"commands", "window", "__main__"})
CLOCK = re.compile(r"(^|\.)((date|datetime)\.(today|now|utcnow)|time\.(time|time_ns|localtime|gmtime))$")


def room_of(module_name: str) -> str:
    """Give the room a dotted name lies in: hilum.labels.ink -> labels."""
    parts = module_name.split(".")
    return parts[1] if len(parts) > 1 else "__init__"


def wrong_imports(modules: list[Module]) -> list[str]:
    """Give one line for each import that goes the wrong way."""
    found = []
    for module in modules:
        here = room_of(module.name)
        rights = ROOMS.get(here)
        if rights is None:
            found.append(
                f"{module.at(1)}: the room {here!r} stands in no table; see tests/house/test_rooms.py"
            )
            continue
        for each in imports_of(module):
            why = _trouble(module, here, rights, each.target)
            if why and module.at(each.line) not in EXCEPTIONS:
                found.append(f"{module.at(each.line)}: {why}")
    return found


def _trouble(module: Module, here: str, rights: Room, target: str) -> str:
    top = target.split(".", maxsplit=1)[0]
    if top == "hilum":
        there = room_of(target)
        if there in FOR_EVERYONE or there == here or there in rights.ours or there not in ROOMS:
            return ""  # what is no room is a name from hilum/__init__, such as the version
        holders = sorted(name for name, other in ROOMS.items() if there in other.ours)
        return f"{here} imports {there}; code that needs it belongs into {' or '.join(holders) or 'no room'}"
    if top in sys.stdlib_module_names:
        return ""
    if top not in rights.outside:
        holders = sorted(name for name, other in ROOMS.items() if top in other.outside)
        return f"{here} imports {top}; that library belongs into {' or '.join(holders) or 'no room'}"
    if here == "labels" and top in ONLY_IN and module.name not in ONLY_IN[top]:
        return f"only {' and '.join(ONLY_IN[top])} import {top}"
    return ""


def test_imports_run_downwards_only():
    """Every import of the program, local ones too, is one its room may make."""
    assert wrong_imports(house_modules()) == []


def clock_calls(modules: list[Module]) -> list[str]:
    """Give one line for each look at the real clock below the faces; a clock handed in is no such look."""
    return [
        f"{module.at(node.lineno)}: {ast.unparse(node.func)}()"
        for module in modules
        if room_of(module.name) not in CLOCK_ROOMS
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and CLOCK.search(ast.unparse(node.func))
    ]


def test_only_the_faces_ask_the_clock():
    """Below the faces nothing asks what day it is: the day comes in as an argument."""
    assert clock_calls(house_modules()) == []


def test_a_look_at_the_clock_is_found(tmp_path: Path):
    """The check sees both spellings, and leaves a clock that was handed in alone."""
    path = tmp_path / "hilum" / "benches" / "intake.py"
    path.parent.mkdir(parents=True)
    path.write_text(
        "datetime.date.today()\ndatetime.now(UTC)\ntime.time()\ncatalogue.now()\n", encoding="utf-8"
    )
    found = clock_calls(list(modules_in(tmp_path, tmp_path)))
    assert [line.split(": ")[1] for line in found] == [
        "datetime.date.today()",
        "datetime.now()",
        "time.time()",
    ]


def test_every_room_of_the_table_is_there():
    """The table above names no room that has gone."""
    missing = [name for name in ROOMS if not list((HOUSE / "hilum").glob(f"{name}*")) and name != "__main__"]
    assert missing == []


@pytest.mark.parametrize(
    ("where", "line", "words"),
    [
        ("seedlore/tables.py", "from hilum.catalogue import lots", "seedlore imports catalogue"),
        ("seedlore/tables.py", "from .. import benches", "seedlore imports benches"),
        ("labels/ink.py", "def draw():\n    import sqlalchemy.orm", "labels imports sqlalchemy"),
        (
            "labels/ink.py",
            "import qrcode",
            "only hilum.labels.codes and hilum.labels.codewords and hilum.labels.masks import qrcode",
        ),
        ("window/shell.py", "from hilum import catalogue", "belongs into benches"),
        (
            "benches/intake.py",
            "import importlib\nimportlib.import_module('PySide6.QtCore')",
            "belongs into window",
        ),
        ("cellar/jars.py", "import os", "stands in no table"),
    ],
)
def test_a_wrong_import_is_found(tmp_path: Path, where: str, line: str, words: str):
    """The check itself sees local, relative, dynamic and outside imports, and names file and line."""
    path = tmp_path / "hilum" / where
    path.parent.mkdir(parents=True)
    path.write_text(line + "\n", encoding="utf-8")
    [found] = wrong_imports(list(modules_in(tmp_path, tmp_path)))
    assert words in found
    assert f"{path.name}:{1 + line.count(chr(10))}" in found


def test_a_right_import_is_left_alone(tmp_path: Path):
    """Downward imports, the common ground and the standard library pass."""
    path = tmp_path / "hilum" / "benches" / "intake.py"
    path.parent.mkdir(parents=True)
    path.write_text(
        "import json\nfrom hilum import __version__\nfrom hilum.errors import KeeperError\n"
        "from hilum.seedlore.crops import all_crops\nfrom . import packing\n",
        encoding="utf-8",
    )
    assert wrong_imports(list(modules_in(tmp_path, tmp_path))) == []
