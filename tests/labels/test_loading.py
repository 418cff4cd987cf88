"""The room is cheap to import: heavy libraries are loaded when first used."""

import subprocess
import sys
from pathlib import Path

from hilum import labels


def test_importing_the_room_loads_no_heavy_library() -> None:
    """So the window paints before any of them is needed."""
    rooms = sorted(path.stem for path in Path(labels.__file__).parent.glob("[a-z]*.py"))
    code = (
        "import sys\n"
        + "".join(f"import hilum.labels.{name}\n" for name in rooms)
        + "heavy = set('uharfbuzz bidi pyphen qrcode PIL pypdfium2 zxingcpp numpy'.split()) & set(sys.modules)\n"
        "print(sorted(heavy))\n"
    )
    path = next(each for each in sys.path if each.endswith("desktop"))
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env={"PYTHONPATH": path}, check=False
    )
    assert done.stderr == ""
    assert done.stdout == "[]\n"
