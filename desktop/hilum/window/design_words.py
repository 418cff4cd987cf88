"""What the design table calls things: facts of a lot, what lies on a label, the three lots."""

from hilum.benches.design_table import CODE, FIELDS, Box, TriedLabel

# In the order in which a keeper looks for them; fields for the machine's own labels are not offered.
FACTS = {
    "crop": "the crop",
    "botanical": "the botanical name",
    "variety": "the variety",
    "year": "the harvest year",
    "place_grown": "the place grown",
    "grower": "the grower",
    "received": "when it was received",
    "lot": "the lot number",
    "germination": "the germination result",
    "seeds": "seeds in the packet",
    "packed": "when it was packed",
    "sow": "how deep to sow",
    "spacing_mm": "how far apart, in mm",
    "notes": "growing notes",
    "caution": "the caution of a poisonous crop",
    "treatment": "how it was treated",
    "below_standard": "that it is below the standard",
    "library": "the library's name",
    "dish": "the dish and its seeds",
    "test_started": "when the dishes were laid",
    "count_days": "the counting days",
    "substrate": "what the seeds lie on",
    "temperature": "the temperature of the test",
}
# A piece of words for each fact, as it is first laid on the label.
PIECES = {
    "spacing_mm": "{spacing_mm} mm apart",
    "year": "harvest {year}",
    "germination": "germination {germination}",
}
KIND_WORDS = {"shortest": "the shortest words", "oddest": "the oddest words", "longest": "the longest words"}
FACE_WORDS = {"regular": "plain", "bold": "bold", "italic": "slanted", "botanical": "plant name"}


def facts() -> tuple[tuple[str, str], ...]:
    """Give every fact that a label can show: its field and what it is called."""
    return tuple((name, words) for name, words in FACTS.items() if name in FIELDS)


def called(name: str) -> str:
    """Give what something on the label is called in a sentence."""
    if name == CODE:
        return "the code"
    if name == "gauge":
        return "the gauge of sowing depth"
    if name == "spacing":
        return "the gauge of spacing"
    if name.startswith("picture"):
        return f"the {name}" if name != "picture 1" else "the picture"
    return f"“{name}”"


def place_words(name: str, ground: Box) -> str:
    """Say where something stands, for whoever cannot see it."""
    return (
        f"{called(name)}, {ground.y_mm:.1f} mm from the top, {ground.x_mm:.1f} mm from the left, "
        f"{ground.width_mm:.1f} mm wide, {ground.height_mm:.1f} mm high"
    )


def findings(tried: TriedLabel) -> tuple[tuple[str, str], ...]:
    """Give what the engine says of a label: its kind (“bad”, “warn”) and its words."""
    if tried.refusal:
        return (("bad", tried.refusal),)
    said: dict[tuple[str, str], None] = {}
    for each in tried.warnings:
        said["warn", f"{called(each.box)}: {each.why}"] = None
    return tuple(said)
