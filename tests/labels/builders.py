"""Label data with sensible defaults; a test names only what it is about."""

from hilum.labels.job import LabelData

LONG_VARIETY = (
    "Grandmother’s Blue-Podded Climbing Winter Keeper from the High Terraces above Saltmarsh Bridge, Early "
    "Speckled Selection"
)


def a_label(lot: str = "LEK25-0017-X", code: str | None = "", **changes: str) -> LabelData:
    """Give a packet label of an invented lot; the code says the lot number unless told otherwise."""
    fields = {
        "crop": "Leek",
        "botanical": "Allium ampeloprasum Porrum Group",
        "variety": "Hollow Lane Giant",
        "year": "2025",
        "place_grown": "Upper Mill Garden",
        "lot": lot,
        "seeds": "40 seeds",
        "sow": "sow 15 mm deep",
        "packed": "packed Nov 2026",
        "germination": "86 % of 100 seeds, Jan 2026, home test",
        "library": "Threeways Valley Seed Library",
        "dish": "dish 2 of 4",
        "test_started": "24 Nov 2026",
        "count_days": "30 Nov and 8 Dec",
        "substrate": "top of paper",
        "temperature": "20 °C",
        "grower": "M. Fenwick",
        "received": "received 3 Oct 2025",
    }
    return LabelData(lot, fields | changes, lot if code == "" else code)


def some_labels(count: int) -> list[LabelData]:
    """Give labels of as many different lots."""
    return [
        a_label(f"LEK25-{number:04d}-X", variety=f"Terrace Leek {number}") for number in range(1, count + 1)
    ]
