"""Measure how many codes of a photographed sheet are read, by dots a module, and how long it takes.

Run from the root of the project: python packaging/bench_photo.py
"""

import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "desktop"), str(ROOT)]

SIZES = (6.0, 4.0, 3.0, 2.0, 1.5)
# An even picture, and one taken in a hurry under one lamp.
CALM = {"tilt": 0.03, "turn_degrees": 2.0, "blur_modules": 0.1, "noise": 4.0, "darkest": 0.8}
HURRIED = {"tilt": 0.15, "turn_degrees": 14.0, "blur_modules": 0.3, "noise": 14.0, "darkest": 0.3}


def main() -> None:
    """Print one line a size: codes there, read in a calm and in a hurried picture, seconds for each."""
    from hilum.labels.photo import read_photo
    from tests.support.photos import Shot, numbers, photograph, sheet

    lots = numbers(24)
    pdf = sheet(lots)
    print("dots a module | codes | read, calm | s | read, hurried | s | dots of the picture")
    with tempfile.TemporaryDirectory() as folder:
        for size in SIZES:
            cells = []
            for kind in (CALM, HURRIED):
                file, _ = photograph(pdf, Shot(size, **kind), Path(folder) / "shot.jpg")
                began = time.perf_counter()
                read = read_photo(file)
                took = time.perf_counter() - began
                right = len({code.text for code in read.codes} & set(lots))
                wrong = len({code.text for code in read.codes} - set(lots))
                cells += [f"{right}" + (f" (+{wrong} wrong)" if wrong else ""), f"{took:.1f}"]
            print(
                " | ".join([f"{size:g}", str(len(lots)), *cells, f"{read.width} x {read.height}"]), flush=True
            )


if __name__ == "__main__":
    main()
