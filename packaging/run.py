"""Start Hilum from a checkout: build its environment if needed, look at what Qt needs, open the window.

    python3 packaging/run.py            the keeper's own catalogue
    python3 packaging/run.py --demo     the invented demo library
    python3 packaging/run.py lots --due and every other verb of the command line

Where there is no screen the program does its main job without one. Deleting `.venv` makes the next start
build it anew.
"""

import os
import sys
from collections.abc import Mapping
from pathlib import Path

# This module and test.py must be readable by older Pythons, down to the sentence that turns them away:
# no syntax and no annotations newer than 3.6 outside quotes.
OLDEST_PYTHON = (3, 11)
# Platforms of Qt that draw without a display of the system's.
SCREENLESS_PLATFORMS = ("offscreen", "minimal", "vnc", "linuxfb", "eglfs")
# Options that only print a few lines.
TALK_ONLY = ("-h", "--help", "--version")


def refuse_old_python() -> None:
    """End with a plain sentence where this Python is too old to read the rest."""
    if sys.version_info < OLDEST_PYTHON:
        sys.exit(
            "Hilum needs Python {}.{} or newer; this is {}. Start it with a newer one, for example: "
            "python3.11 packaging/run.py".format(*OLDEST_PYTHON, sys.version.split()[0])
        )


def opens_window(arguments: "list[str]") -> bool:
    """Say whether these arguments start the window: no verb, and not only a question about the program."""
    rest = list(arguments)
    while rest:
        first = rest.pop(0)
        if first in TALK_ONLY or not first.startswith("-"):
            return False
        if first == "--catalogue" and rest:
            rest.pop(0)
    return True


def has_screen(environ: "Mapping[str, str]") -> bool:
    """Say whether a window can be shown, going by the session's settings; true off Linux."""
    if not sys.platform.startswith("linux"):
        return True
    if environ.get("QT_QPA_PLATFORM", "").split(":")[0] in SCREENLESS_PLATFORMS:
        return True
    return bool(environ.get("DISPLAY") or environ.get("WAYLAND_DISPLAY"))


def check_system(screen: bool) -> None:
    """See that what Qt loads from the system is there; without a screen only say what a window would need."""
    import debian

    missing = debian.missing_for_qt(x_display=screen and bool(os.environ.get("DISPLAY")))
    if missing and screen:
        debian.need_packages(missing, "The window needs libraries that this system does not have yet.")
    elif missing:
        print("Note: no screen here. A window would also need: " + " ".join(missing), file=sys.stderr)


def hand_over(python: Path, arguments: "list[str]") -> int:
    """Become the program; on Windows, which cannot do that, wait for it and give its exit code."""
    import environment

    os.environ["PYTHONPATH"] = str(environment.ROOT / "desktop")
    # -P: nothing is imported from the folder one happens to stand in.
    command = [str(python), "-P", "-m", "hilum", *arguments]
    if os.name == "nt":
        import subprocess

        return subprocess.call(command)
    sys.stdout.flush()
    os.execv(command[0], command)


def main(arguments: "list[str]") -> int:
    """Prepare everything and hand over to the program."""
    refuse_old_python()
    import debian
    import environment

    try:
        python = environment.ready_environment(".venv", "run")
        if opens_window(arguments):
            screen = has_screen(os.environ)
            check_system(screen)
            if not screen:
                arguments = ["--no-screen", *arguments]
    except (debian.PackagesMissingError, environment.EnvironmentBuildError) as problem:
        print(problem, file=sys.stderr)
        return 1
    return hand_over(python, arguments)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
