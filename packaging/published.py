"""Count the checks of our figures against print by what stands behind them, and say whether all hold.

python3 packaging/published.py              counts
python3 packaging/published.py -v           counts and every check by name
"""

import os
import subprocess
import sys
from pathlib import Path

from run import refuse_old_python

ROOT = Path(__file__).resolve().parent.parent


def command(python: Path, arguments: list[str]) -> list[str]:
    """Give the call of pytest that runs the checks with the counter loaded."""
    wanted = ["-q", "--no-header", *arguments]
    return [str(python), "-m", "pytest", "-p", "tests.support.published_kinds", *wanted, "tests/published"]


def main(arguments: list[str]) -> int:
    """Set up the environment of the checks, run them and count them by kind."""
    import environment

    try:
        python = environment.ready_environment(".venv-test", "test")
    except environment.EnvironmentBuildError as problem:
        print(problem, file=sys.stderr)
        return 1
    # Plugins named on the command line are looked for before pytest reads where its tests lie.
    paths = os.pathsep.join(str(ROOT / folder) for folder in (".", "desktop"))
    return subprocess.run(
        command(python, arguments), cwd=ROOT, env={**os.environ, "PYTHONPATH": paths}, check=False
    ).returncode


if __name__ == "__main__":
    refuse_old_python()
    sys.exit(main(sys.argv[1:]))
