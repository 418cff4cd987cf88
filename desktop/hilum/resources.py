"""Where the files that came with the program lie: reference tables, designs, fonts, the demo tables."""

from functools import cache
from pathlib import Path

from hilum.errors import ResourceError

_INSTALLED = Path(__file__).parent / "_resources"
_CHECKOUT = Path(__file__).parents[2] / "resources"


@cache
def _root() -> Path:
    for folder in (_INSTALLED, _CHECKOUT):
        if folder.is_dir():
            return folder
    raise ResourceError(
        f"The program's own files are missing: neither {_INSTALLED} nor {_CHECKOUT} exists. Install Hilum again."
    )


def resource(*parts: str) -> Path:
    """Give the path of one file or folder that came with the program, or say that it is missing."""
    path = _root().joinpath(*parts)
    if not path.exists():
        raise ResourceError(f"The program's own file {path} is missing. Install Hilum again.")
    return path
