"""Printer dots: how large one is, and measures moved to a whole number of them."""

from hilum.labels.geometry import MM_PER_INCH

# Thermal print heads sold as "203 dpi" have 8 dots to the millimetre, which is 203.2 dots to the inch.
_DOTS_PER_MM_203 = 8.0


def dot_mm(dpi: int) -> float:
    """Give the size of one printer dot.

    Parameters
    ----------
    dpi : int
        The printer's resolution as it is sold; 203 stands for 8 dots to the millimetre.

    Returns
    -------
    float
        Millimetres.

    Raises
    ------
    ValueError
        Below 1.

    Source
    ------
    Denso Wave, https://www.qrcode.com/en/howto/cell.html: the table of printer dots gives 0.125 mm for
    203 dpi.

    Examples
    --------
    >>> dot_mm(203)
    0.125
    >>> round(dot_mm(300), 4)
    0.0847
    """
    if dpi < 1:
        raise ValueError(f"{dpi} dpi is no resolution.")
    return 1 / _DOTS_PER_MM_203 if dpi == 203 else MM_PER_INCH / dpi


def snapped(value_mm: float, step_mm: float) -> float:
    """Move a measure to the nearest whole number of steps.

    Parameters
    ----------
    value_mm : float
        Any measure from the page's corner.
    step_mm : float
        Above 0.

    Returns
    -------
    float
        At most half a step away.

    Raises
    ------
    ValueError
        The step is not above 0.

    Source
    ------
    Plain arithmetic.

    Examples
    --------
    >>> snapped(10.07, 0.125)
    10.125
    """
    if step_mm <= 0:
        raise ValueError(f"A step of {step_mm} mm leads nowhere.")
    return round(value_mm / step_mm) * step_mm
