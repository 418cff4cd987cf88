"""The program's own Python environment: built once from a lock file, then only looked at.

A folder (`.venv` for the program, `.venv-test` for the checks) is complete when it holds a stamp that
names this lock file, this Python and exactly the distributions that lie in it. The stamp is written last,
so whatever was broken off or tampered with is built again.
"""

import contextlib
import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import sysconfig
import time
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import debian

ROOT = Path(__file__).resolve().parent.parent
LOCK_FOLDER = ROOT / "packaging" / "lock"
STAMP = "hilum-stamp.json"
# Files of ours that outlive a rebuild: the guard is held open by whoever builds.
GUARD = "building.guard"
KEPT = (GUARD, ".gitignore")


class EnvironmentBuildError(Exception):
    """The environment cannot be built; the text says what to do."""


def python_of(folder: Path) -> Path:
    """Give the path of the environment's own Python."""
    return folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def ready_environment(folder_name: str, lock_name: str) -> Path:
    """Build the environment `folder_name` from lock/`lock_name`.txt unless it is there; give its Python."""
    folder = ROOT / folder_name
    lock_file = LOCK_FOLDER / f"{lock_name}.txt"
    wanted = _wanted(lock_file)
    if not is_complete(folder, wanted):
        _prepare_folder(folder)
        with _only_one_builder(folder):
            # Another start may have built it while this one waited.
            if not is_complete(folder, wanted):
                _build(folder, lock_file, wanted)
    return python_of(folder)


def _wanted(lock_file: Path) -> dict[str, str]:
    return {
        "lock": hashlib.sha256(lock_file.read_bytes()).hexdigest(),
        "python": f"{sys.implementation.name} {sys.version_info[0]}.{sys.version_info[1]}",
        "machine": sysconfig.get_platform(),
    }


def is_complete(folder: Path, wanted: dict[str, str]) -> bool:
    """Say whether the folder holds exactly what was built for this lock file and this Python."""
    try:
        stamp = json.loads((folder / STAMP).read_text(encoding="utf-8"))
        here = _distributions(folder)
    except (OSError, ValueError):
        return False
    # exists() follows the link: false when the Python it was built with is gone.
    return bool(stamp == {**wanted, "distributions": here}) and python_of(folder).exists()


def _distributions(folder: Path) -> list[str]:
    if os.name == "nt":
        packages = folder / "Lib" / "site-packages"
    else:
        packages = folder / "lib" / f"python{sys.version_info[0]}.{sys.version_info[1]}" / "site-packages"
    return sorted(name for name in os.listdir(packages) if name.endswith(".dist-info"))


def _prepare_folder(folder: Path) -> None:
    folder.mkdir(exist_ok=True)
    (folder / ".gitignore").write_text("*\n", encoding="utf-8")


@contextlib.contextmanager
def _only_one_builder(folder: Path) -> Iterator[None]:
    """Hold the folder for this process; the system lets go by itself when the process dies."""
    with (folder / GUARD).open("a+b") as guard:
        if not _take(guard):
            print("Another start is building the environment; waiting for it ...", flush=True)
            while not _take(guard):
                time.sleep(0.5)
        yield


def _take(guard: IO[bytes]) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            guard.seek(0)
            msvcrt.locking(guard.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(guard, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _build(folder: Path, lock_file: Path, wanted: dict[str, str]) -> None:
    _need_venv()
    print(f"Building the program's own environment in {folder} ...", flush=True)
    began = time.monotonic()
    _empty(folder)
    _run([sys.executable, "-m", "venv", str(folder)], "Python could not make a virtual environment.")
    # The lock names every distribution with its hashes, so nothing is left to resolve or to compile.
    install = "install --disable-pip-version-check --no-input --require-hashes --only-binary :all: --no-deps"
    _run(
        [str(python_of(folder)), "-m", "pip", *install.split(), "--requirement", str(lock_file)],
        "The program's parts could not be fetched. They need the package index (or a copy of it that pip is"
        " set up for) and one of: 64-bit Linux with glibc 2.34 or newer (Debian 12), macOS 13, Windows 10.",
    )
    stamp = {**wanted, "distributions": _distributions(folder)}
    unfinished = folder / (STAMP + ".new")
    unfinished.write_text(json.dumps(stamp, indent=1), encoding="utf-8")
    unfinished.replace(folder / STAMP)
    print(f"Environment ready after {time.monotonic() - began:.0f} s.", flush=True)


def _need_venv() -> None:
    # Debian keeps ensurepip, without which an environment has no pip, in a package of its own.
    if importlib.util.find_spec("ensurepip") is None or importlib.util.find_spec("venv") is None:
        package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
        debian.need_packages([package], "Python here comes without its venv module.")


def _empty(folder: Path) -> None:
    for entry in folder.iterdir():
        if entry.name in KEPT:
            continue
        if entry.is_dir() and not entry.is_symlink():
            shutil.rmtree(entry)
        else:
            entry.unlink()


def _run(command: list[str], trouble: str) -> None:
    # Settings meant for another Python would leak into the new environment.
    clean = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "PYTHONHOME")}
    result = subprocess.run(command, check=False, env=clean, stdin=subprocess.DEVNULL)
    if result.returncode != 0:
        raise EnvironmentBuildError(
            f"{trouble} The lines above say more. This command failed:\n    {' '.join(command)}"
        )
