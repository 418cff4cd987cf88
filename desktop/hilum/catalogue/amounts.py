"""A stock figure in words. No database comes along: the first page needs the words before it."""


def shown_amount(amount: int | None, unit: str) -> str:
    """Give a stock figure in words: grams for weighed lots, seeds for counted ones."""
    if amount is None:
        return "not weighed yet"
    if unit == "seeds":
        return f"{amount} seed" if amount == 1 else f"{amount} seeds"
    grams = f"{amount / 1000:.3f}".rstrip("0").rstrip(".")
    return f"{grams} g"


def shown_stock(stock: int | None, unit: str, *, is_estimate: bool) -> str:
    """Give a lot's stock as it is booked, in words; what was not weighed exactly says "about"."""
    words = shown_amount(stock, unit)
    return f"about {words}" if is_estimate and stock else words
