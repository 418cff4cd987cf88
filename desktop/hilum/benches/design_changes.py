"""Design changes: what can be done to a design on the table; the rules are those of `labels`.

Each takes the state of the table and gives the next one, or refuses in words (`DesignError`); nothing is written.
"""

from hilum.labels.design_edits import (
    OnTable,
    code_added,
    gauge_added,
    removed,
    renamed,
    retyped,
    words_added,
)
from hilum.labels.design_moves import GRID_MM, moved, on_grid, passed, sized, stepped
from hilum.labels.design_values import CodeCorner, Part, TextBox

__all__ = [
    "GRID_MM",
    "CodeCorner",
    "OnTable",
    "Part",
    "TextBox",
    "code_added",
    "code_changed",
    "gauge_added",
    "moved",
    "on_grid",
    "passed",
    "removed",
    "renamed",
    "retyped",
    "sized",
    "stepped",
    "words_added",
]


def code_changed(on: OnTable, **changes: object) -> OnTable:
    """Give the code another corner, distance or size, or let it say something else (`payload`)."""
    from dataclasses import replace

    if "payload" in changes:
        return on.with_design(payload=changes["payload"])
    assert on.layout.code is not None
    return on.with_layout(code=replace(on.layout.code, **changes))  # type: ignore[arg-type]
