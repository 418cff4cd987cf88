"""What the program needs from the system, in the words of Debian's packages, and how it gets there."""

import ctypes
import os
import shutil
import subprocess
import sys

# Without these not even QtWidgets can be imported. Library -> Debian 12 package.
QT_LIBRARIES = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libglib-2.0.so.0": "libglib2.0-0",
}
# Without these there is no window on an X display.
X_LIBRARIES = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}


class PackagesMissingError(Exception):
    """Packages are missing and may not be installed from here; the text gives the command."""


def missing_for_qt(*, x_display: bool) -> list[str]:
    """Give the Debian packages whose libraries Qt needs and cannot load; empty on other systems."""
    if not sys.platform.startswith("linux"):
        return []
    libraries = {**QT_LIBRARIES, **(X_LIBRARIES if x_display else {})}
    return [package for library, package in libraries.items() if not _loads(library)]


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def need_packages(packages: list[str], why: str) -> None:
    """Install Debian packages where that is allowed; else raise with the one command that does it."""
    command = ["apt-get", "install", "--yes", "--no-install-recommends", *packages]
    prefix = _administrator()
    if prefix is None or shutil.which("apt-get") is None:
        hint = "sudo " + " ".join(command)
        if shutil.which("apt-get") is None:
            hint += "\n(these are Debian's names; other systems name them differently)"
        missing = " ".join(packages)
        raise PackagesMissingError(f"{why}\nMissing packages: {missing}\nInstall them with:\n    {hint}")
    print(f"{why}\nInstalling: {' '.join(packages)}", flush=True)
    if _apt(prefix, command) != 0:
        # A new machine has no lists of packages yet, and old lists name files that are gone.
        _apt(prefix, ["apt-get", "update"])
        if _apt(prefix, command) != 0:
            raise PackagesMissingError(
                f"{why}\nCould not be installed: {' '.join(packages)}\nThe lines above say why."
            )


def _administrator() -> list[str] | None:
    """Give what to put before a command so that it may change the system, or None when it may not."""
    if not sys.platform.startswith("linux"):
        return None
    if os.geteuid() == 0:
        return []
    if shutil.which("sudo") is None:
        return None
    # -n: never ask for a password here.
    asked = subprocess.run(["sudo", "-n", "true"], check=False, capture_output=True)
    return ["sudo", "-n"] if asked.returncode == 0 else None


def _apt(prefix: list[str], command: list[str]) -> int:
    setting = ["env", "DEBIAN_FRONTEND=noninteractive"]
    return subprocess.run([*prefix, *setting, *command], check=False, stdin=subprocess.DEVNULL).returncode


def has_program(name: str) -> bool:
    """Say whether a program of this name can be started."""
    return shutil.which(name) is not None
