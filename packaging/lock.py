"""Remake the lock files: the exact versions, with hashes, that packaging/run.py and test.py install.

    python3 packaging/lock.py              keep every version that still fits run.in and test.in
    python3 packaging/lock.py --upgrade    take the newest that fit

The resolver (uv) is fetched into a folder that is thrown away, so neither environment carries it.
"""

import os
import re
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

LOCK_FOLDER = Path(__file__).resolve().parent / "lock"
# The oldest Python the program runs on; the lock holds for this one and every newer one.
OLDEST_PYTHON = "3.11"
RESOLVER = "uv>=0.9,<1"
# Package indexes that one machine is set up with must never be written into a lock file.
HOSTS = re.compile(r"^(--index-url|--extra-index-url|--find-links|--trusted-host)\b.*\n", re.MULTILINE)


def fetch_resolver(folder: Path) -> Path:
    """Install the resolver in `folder` and give its path."""
    venv.create(folder, with_pip=True)
    scripts = folder / ("Scripts" if os.name == "nt" else "bin")
    subprocess.run([scripts / "python", "-m", "pip", "install", "--quiet", RESOLVER], check=True)
    return scripts / "uv"


def remake(resolver: Path, name: str, options: list[str]) -> None:
    """Write lock/`name`.txt from lock/`name`.in; versions already in it are kept where they fit."""
    fixed = "pip compile --quiet --universal --generate-hashes --no-emit-index-url --no-emit-find-links"
    files = f"{name}.in --output-file {name}.txt"
    subprocess.run(
        [str(resolver), *fixed.split(), "--python-version", OLDEST_PYTHON, *options, *files.split()],
        cwd=LOCK_FOLDER,
        check=True,
        env={**os.environ, "UV_CUSTOM_COMPILE_COMMAND": "python3 packaging/lock.py"},
    )
    lock_file = LOCK_FOLDER / f"{name}.txt"
    lock_file.write_text(HOSTS.sub("", lock_file.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")


def main() -> int:
    """Remake both lock files."""
    with tempfile.TemporaryDirectory() as folder:
        resolver = fetch_resolver(Path(folder))
        for name in ("run", "test"):
            remake(resolver, name, sys.argv[1:])
            print(f"packaging/lock/{name}.txt remade from {name}.in")
    return 0


if __name__ == "__main__":
    sys.exit(main())
