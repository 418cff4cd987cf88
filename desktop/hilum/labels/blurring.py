"""Blurring: how unsharp a scanner's picture may be before a code of a real label is no longer read."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hilum.labels.designs import LabelDesign
from hilum.labels.dots import dot_mm
from hilum.labels.errors import LabelError
from hilum.labels.ink import drawn
from hilum.labels.orders import LabelData, order
from hilum.labels.placing import Placing
from hilum.labels.proof import page_dots
from hilum.labels.sheets import places
from hilum.labels.stocks import LabelStock

if TYPE_CHECKING:
    from hilum.labels.proof import Pixels

# Share of light that comes back: toner, white paper, brown kraft paper (from memory; one verifier's grade C
# needs 40 % between the two, which kraft does not reach).
INK = 0.05
PAPERS: Mapping[str, float] = {"white": 0.85, "kraft": 0.35}
_STEP_MODULES, _MOST_MODULES = 0.05, 1.5
_PIXELS_A_MODULE = 8
# How bright paper comes out in a picture.
_EXPOSED = 0.8


@dataclass(frozen=True, slots=True)
class BlurMargin:
    """How much blur one code survives: the standard deviation of a Gaussian, in modules and in millimetres."""

    design: str
    stock: str
    dpi: int
    paper: str
    module_mm: float
    blur_modules: float

    @property
    def blur_mm(self) -> float:
        """The same blur on the label."""
        return self.blur_modules * self.module_mm


def blur_margin(
    label: LabelData, design: LabelDesign, stock: LabelStock, dpi: int = 300, paper: str = "white"
) -> BlurMargin:
    """Draw a label as a printer of some resolution would, blur its code more and more, and read it each time."""
    if paper not in PAPERS:
        raise LabelError(f"There is no paper “{paper}” to try; there are {', '.join(PAPERS)}.")
    asked = order([label], design, stock, dpi)
    [inked] = Placing(asked, "en").labels(places(1, stock), lambda done: None)
    code = inked.code
    if code is None:
        raise LabelError(f"Label {label.key} has no code whose blur could be tried.")
    pdf = drawn([inked], (stock.page_w_mm, stock.page_h_mm), "Blur", "en")
    dots, per_mm = page_dots(pdf, 0, dpi), 1 / dot_mm(dpi)
    left, right = round(code.box.x_mm * per_mm), round(code.box.right_mm * per_mm)
    low = dots.shape[0] - round((stock.page_h_mm - code.box.bottom_mm) * per_mm)
    crop = dots[low - round(code.box.height_mm * per_mm) : low, left:right]
    survived, step = 0.0, 1
    while step * _STEP_MODULES <= _MOST_MODULES:
        if not _is_read(
            crop, code.symbol.quiet_side_modules, step * _STEP_MODULES, paper, code.symbol.payload
        ):
            break
        survived = step * _STEP_MODULES
        step += 1
    return BlurMargin(design.name, stock.name, dpi, paper, code.module.module_mm, survived)


def _is_read(crop: "Pixels", modules: int, blur_modules: float, paper: str, payload: str) -> bool:
    """Blur a code as a lens does, in the light that ink and paper give back, and let the decoder look."""
    import numpy
    import zxingcpp
    from PIL import Image, ImageFilter

    side = modules * _PIXELS_A_MODULE
    picture = Image.fromarray(crop).resize((side, side), Image.Resampling.BOX)
    blurred = picture.filter(ImageFilter.GaussianBlur(blur_modules * _PIXELS_A_MODULE))
    light = INK + (PAPERS[paper] - INK) * numpy.asarray(blurred, numpy.float64) / 255
    # A camera's own noise, the same each time: 1 % of full light. It opens up for dark paper, noise and all.
    noise = numpy.random.default_rng(20).normal(0, 0.01, light.shape)
    exposed = (light + noise) * _EXPOSED / PAPERS[paper]
    seen = numpy.clip(255 * exposed, 0, 255).astype(numpy.uint8)
    kinds = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    return payload in [found.text for found in zxingcpp.read_barcodes(seen, formats=kinds)]
