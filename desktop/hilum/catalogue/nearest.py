"""What was probably meant: the nearest lot numbers and names to something mistyped."""

import difflib

from sqlalchemy import Connection, case, func, or_, select, union_all

from hilum.catalogue import numbering
from hilum.catalogue.folding import fold
from hilum.catalogue.records import crop, lot, synonym, variety

# Further away than this a number is another number, not a slip.
_MOST_SLIPS = 2
_CANDIDATES = 400
# How alike two words must be, 0 to 1, to stand for each other; chosen by trying, no source.
_ALIKE = 0.72


def nearest_lot_numbers(connection: Connection, typed: str, limit: int = 3) -> tuple[str, ...]:
    """Give the real lot numbers that differ from what was typed by at most two slips, nearest first."""
    bare = numbering.as_typed(typed.replace("ß", "-"))
    if len(bare) < 2 * _MOST_SLIPS:
        return ()
    stored = func.replace(lot.c.number, "-", "")
    # Two slips leave at least one of three pieces whole, so only numbers that hold one need measuring.
    third = -(-len(bare) // (_MOST_SLIPS + 1))
    pieces = [bare[start : start + third] for start in range(0, len(bare), third)]
    holds = [stored.contains(piece, autoescape=True) for piece in pieces]
    agreeing = sum((case((has, 1), else_=0) for has in holds[1:]), start=case((holds[0], 1), else_=0))
    numbers = connection.execute(
        select(lot.c.number)
        .where(or_(*holds))
        .where(func.length(stored).between(len(bare) - _MOST_SLIPS, len(bare) + _MOST_SLIPS))
        .order_by(agreeing.desc(), lot.c.id.desc())
        .limit(_CANDIDATES)
    ).scalars()
    measured = sorted(
        (slips, number.replace("-", "")[:-1] != bare[:-1], number)
        for number in numbers
        if (slips := count_slips(bare, number.replace("-", ""))) <= _MOST_SLIPS
    )
    return tuple(number for _slips, _body, number in measured[:limit])


def count_slips(one: str, other: str) -> int:
    """Count the slips between two texts: a wrong, missing or extra character, or two neighbours swapped."""
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, ch in enumerate(one, start=1):
        before, last, row = row, before, [i]
        for j, wanted in enumerate(other, start=1):
            best = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (ch != wanted))
            if i > 1 and j > 1 and ch == other[j - 2] and one[i - 2] == wanted:
                best = min(best, last[j - 2] + 1)
            row.append(best)
    return row[-1]


def did_you_mean(connection: Connection, words: str, limit: int = 3) -> tuple[str, ...]:
    """Give names of crops and varieties with lots that were probably meant, best first."""
    wanted = fold(words)
    if not wanted:
        return ()
    names = _names_with_lots(connection)
    whole = {fold(name): name for name in names}
    found = [whole[near] for near in difflib.get_close_matches(wanted, whole, n=limit, cutoff=_ALIKE)]
    mended = _word_by_word(wanted.split(), names)
    if mended is not None:
        found.append(mended)
    shown: dict[str, str] = {}
    for name in found:
        if fold(name) != wanted:
            shown.setdefault(fold(name), name)
    return tuple(shown.values())[:limit]


def _word_by_word(wanted: list[str], names: tuple[str, ...]) -> str | None:
    """Put the nearest known word for each word that begins none; None where one has no near word."""
    known: dict[str, str] = {}
    for name in names:
        for word in name.split():
            for part in fold(word).split():
                known.setdefault(part, word.strip("“”‘’\"'(),.;:") or part)
    mended = []
    for word in wanted:
        if any(part.startswith(word) for part in known):
            mended.append(known.get(word, word))
            continue
        near = difflib.get_close_matches(word, known, n=1, cutoff=_ALIKE)
        if not near:
            return None
        mended.append(known[near[0]])
    return " ".join(mended)


def _names_with_lots(connection: Connection) -> tuple[str, ...]:
    of_lots = select(lot.c.variety_id)
    mine = variety.c.id.in_(of_lots)
    statement = union_all(
        select(variety.c.name).where(mine),
        select(synonym.c.name).join(variety, variety.c.id == synonym.c.variety_id).where(mine),
        select(crop.c.name).where(crop.c.id.in_(select(variety.c.crop_id).where(mine))),
    ).subquery()
    rows = connection.execute(select(statement.c.name).distinct().order_by(statement.c.name)).scalars()
    return tuple(rows)
