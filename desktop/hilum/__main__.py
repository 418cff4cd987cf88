"""The one place where the parts are put together: `hilum` and `python -m hilum`."""

import sys
from collections.abc import Sequence

from hilum.commands.shell import run


def main(argv: Sequence[str] | None = None) -> int:
    """Run Hilum with the words typed after its name, and give the exit code."""
    return run(sys.argv[1:] if argv is None else argv, open_window=_open_window)


def _open_window(where: str | None, demo: bool) -> int:
    # Qt is loaded only where a window is wanted.
    from hilum.window.app import run_window

    return run_window(where, demo=demo)


if __name__ == "__main__":
    sys.exit(main())
