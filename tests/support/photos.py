"""Pictures as a phone takes them, made of our own label sheets: askew, blurred, noisy and unevenly lit."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageFilter

from hilum.catalogue import numbering
from hilum.labels.job import LabelData, make_labels
from hilum.labels.proof import page_dots

DRAWN_DPI = 300


@dataclass(frozen=True)
class Shot:
    """How a picture is taken: dots a module, tilt as a share of the width, blur in modules, noise, light."""

    dots_a_module: float
    tilt: float = 0.08
    turn_degrees: float = 7.0
    blur_modules: float = 0.15
    noise: float = 8.0
    darkest: float = 0.45


def numbers(count: int) -> list[str]:
    """Give lot numbers with their check characters."""
    found: list[str] = []
    serial = 1
    while len(found) < count:
        number = numbering.compose("LEK", 2025, serial)
        serial += 1
        if number is not None:
            found.append(number)
    return found


def sheet(lots: Sequence[str], design: str = "jar", stock: str = "a4-3x8-70x37") -> bytes:
    """Give a sheet of our labels for some lots."""
    labels = [
        LabelData(
            key=lot,
            code=lot,
            fields={
                "crop": "Leek",
                "variety": "Harrow Blue",
                "year": "2025",
                "lot": lot,
                "place_grown": "Plot 4",
            },
        )
        for lot in lots
    ]
    return make_labels(labels, design, stock, title="test").pdf


def photograph(pdf: bytes, shot: Shot, path: Path, seed: int = 4) -> tuple[Path, float]:
    """Take a picture of the first page of a sheet; gives the file and its dots a module before the tilt."""
    import zxingcpp

    page = page_dots(pdf, 0, DRAWN_DPI)
    first = zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))[0]
    drawn = (first.position.top_right.x - first.position.top_left.x) / 21
    scale = shot.dots_a_module / drawn
    size = (round(page.shape[1] * scale), round(page.shape[0] * scale))
    shown = Image.fromarray(page).resize(size, Image.Resampling.LANCZOS)
    shown = shown.rotate(shot.turn_degrees, Image.Resampling.BICUBIC, expand=True, fillcolor=150)
    shown = _tilted(shown, shot.tilt).filter(ImageFilter.GaussianBlur(shot.blur_modules * shot.dots_a_module))
    random = np.random.default_rng(seed)
    pixels = np.asarray(shown, dtype=np.float64)
    across = np.linspace(1.0, shot.darkest, pixels.shape[1])[np.newaxis, :]
    down = np.linspace(1.0, (1 + shot.darkest) / 2, pixels.shape[0])[:, np.newaxis]
    lit = pixels * across * down + random.normal(0.0, shot.noise, pixels.shape)
    Image.fromarray(np.clip(lit, 0, 255).astype(np.uint8)).save(path, quality=85)
    return path, shot.dots_a_module


def _tilted(picture: Image.Image, tilt: float) -> Image.Image:
    """Look at a sheet from below and from one side: its far edge is shorter."""
    width, height = picture.size
    inward = tilt * width
    onto = [(inward, 0.04 * height), (width - inward / 2, 0), (width, height), (0, height)]
    of = [(0, 0), (width, 0), (width, height), (0, height)]
    rows: list[Any] = []
    for (x, y), (u, v) in zip(onto, of, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
    goal = np.array(of, dtype=np.float64).reshape(8)
    found = np.linalg.solve(np.array(rows, dtype=np.float64), goal)
    return picture.transform(
        picture.size, Image.Transform.PERSPECTIVE, tuple(found), Image.Resampling.BICUBIC, fillcolor=150
    )
