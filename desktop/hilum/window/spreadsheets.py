"""What is copied for a spreadsheet: cells that it takes as words, never as formulas."""


def one_line(text: str) -> str:
    """Give a cell on one line, with what a spreadsheet would run marked as text."""
    # A cell that a spreadsheet would run as a formula stays text.
    text = " ".join(text.split())
    return f"'{text}" if text[:1] in ("=", "+", "@") or (text[:1] == "-" and not _is_number(text)) else text


def _is_number(text: str) -> bool:
    return text.lstrip("-").replace(".", "").replace(",", "").replace(" ", "").rstrip("g% ").isdigit()
