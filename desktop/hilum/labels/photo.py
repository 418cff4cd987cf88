"""Photo: every code in a picture of a tray or shelf, read at once; small, tilted and badly lit ones too."""

import warnings
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hilum.labels.errors import LabelError, LabelsStopped

if TYPE_CHECKING:
    import numpy as np

    Pixels = np.ndarray[tuple[int, ...], np.dtype[np.uint8]]

# More would fill the memory of a small computer; a phone's camera takes 12 to 50 million.
_MOST_PIXELS = 80_000_000
# Side of a tile in dots of the picture, and how many times it is enlarged: a code is read best when a module is
# four dots or more, and among few neighbours. Tiles overlap by a third so that no code is cut in all of them.
_TILES = ((1_500, 1), (900, 2), (450, 4))
_LAP = 3
# Shadows are wider than this, the grain of a dim picture is finer.
_SHADE_DOTS, _GRAIN_DOTS = 24, 0.8


@dataclass(frozen=True, slots=True)
class SeenCode:
    """One code in a picture: what it says, and its middle and side in dots of the picture."""

    text: str
    x: float
    y: float
    side: float


@dataclass(frozen=True, slots=True)
class PhotoReading:
    """A picture as it was read: its size in dots, and its codes from top to bottom."""

    name: str
    width: int
    height: int
    codes: tuple[SeenCode, ...]


def read_photo(
    path: Path,
    *,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> PhotoReading:
    """Read every code in a picture file; `progress` hears passes done and in all, `stop` is asked between them.

    The same code at two places is told twice. Raises LabelError for a file that is no picture.
    """
    pixels = _grey(path)
    height, width = pixels.shape
    passes = list(_passes(width, height))
    even = _evenly_lit(pixels)
    found: list[SeenCode] = []
    for number, (x, y, side, times) in enumerate(passes, start=1):
        if stop is not None and stop():
            raise LabelsStopped("Reading the picture was stopped. Nothing was noted.")
        looked_at = pixels if number == 1 else even
        for seen in _read(looked_at[y : y + side, x : x + side], times):
            _add(found, SeenCode(seen.text, x + seen.x, y + seen.y, seen.side))
        if progress is not None:
            progress(number, len(passes))
    # Rows as a person reads them: codes within one code's height of each other stand in one row.
    ordered = sorted(found, key=lambda code: (round(code.y / max(code.side, 1) / 2), code.x))
    return PhotoReading(path.name, width, height, tuple(ordered))


def _grey(path: Path) -> "Pixels":
    import numpy as np
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(path) as opened:
                if opened.width * opened.height > _MOST_PIXELS:
                    raise LabelError(
                        f"{path.name} has {opened.width} x {opened.height} dots; at most "
                        f"{_MOST_PIXELS // 1_000_000} million are read. Save it smaller, or take two pictures."
                    )
                # A phone notes in the file which way it was held.
                upright = ImageOps.exif_transpose(opened)
                return np.asarray(upright.convert("L"))
    except FileNotFoundError as error:
        raise LabelError(f"There is no file {path}. Check the name.") from error
    except (Image.DecompressionBombWarning, Image.DecompressionBombError) as error:
        raise LabelError(f"{path.name} is too large a picture. Save it smaller, or take two.") from error
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError) as error:
        raise LabelError(
            f"{path.name} is no picture that can be read. Save it as JPEG or PNG and try again."
        ) from error


def _evenly_lit(pixels: "Pixels") -> "Pixels":
    """Take the fall of the light and the grain out of a picture: each dot against the paper around it."""
    import numpy as np
    from PIL import Image, ImageFilter

    picture = Image.fromarray(pixels)
    small = picture.resize(
        (max(1, picture.width // _SHADE_DOTS), max(1, picture.height // _SHADE_DOTS)), Image.Resampling.BOX
    )
    shade = np.asarray(
        small.filter(ImageFilter.MaxFilter(3)).resize(picture.size, Image.Resampling.BICUBIC),
        dtype=np.float32,
    )
    smooth = np.asarray(picture.filter(ImageFilter.GaussianBlur(_GRAIN_DOTS)), dtype=np.float32)
    even: Pixels = np.clip(smooth / np.maximum(shade, 1.0) * 220.0, 0, 255).astype(np.uint8)
    return even


def _passes(width: int, height: int) -> Iterator[tuple[int, int, int, int]]:
    """Give left, top and side of what is looked at, and how many times it is enlarged: the whole, then tiles."""
    yield 0, 0, max(width, height), 1
    for side, times in _TILES:
        if times == 1 and max(width, height) <= side:
            continue
        step = side - side // _LAP
        for top in range(0, max(1, height - side // _LAP), step):
            for left in range(0, max(1, width - side // _LAP), step):
                yield left, top, side, times


def _read(part: "Pixels", times: int) -> Iterator[SeenCode]:
    import numpy as np
    import zxingcpp
    from PIL import Image

    if min(part.shape) < 20:
        return
    shown: Any = np.ascontiguousarray(part)
    if times > 1:
        wide = Image.fromarray(part).resize(
            (part.shape[1] * times, part.shape[0] * times), Image.Resampling.BICUBIC
        )
        shown = np.asarray(wide)
    kinds = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    for each in zxingcpp.read_barcodes(shown, formats=kinds):
        at = each.position
        corners = (at.top_left, at.top_right, at.bottom_right, at.bottom_left)
        side = abs(at.top_right.x - at.top_left.x) + abs(at.top_right.y - at.top_left.y)
        yield SeenCode(
            each.text, sum(one.x for one in corners) / 4 / times, sum(one.y for one in corners) / 4 / times,
            side / times,
        )  # fmt: skip


def _add(found: list[SeenCode], seen: SeenCode) -> None:
    """Keep a code unless an earlier pass has read it at the same place."""
    for other in found:
        near = max(other.side, seen.side, 1.0)
        if other.text == seen.text and abs(other.x - seen.x) < near and abs(other.y - seen.y) < near:
            return
    found.append(seen)
