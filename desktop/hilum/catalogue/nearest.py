"""What was probably meant: the nearest lot numbers and names to something mistyped."""

from collections.abc import Iterable, Iterator
from itertools import islice, product

from sqlalchemy import Connection, and_, func, or_, select

from hilum.catalogue import numbering
from hilum.catalogue.engines import begins_with
from hilum.catalogue.find_records import find_word
from hilum.catalogue.find_words import asked_words, has_lots
from hilum.catalogue.folding import fold
from hilum.catalogue.opening import hides_people
from hilum.catalogue.records import crop, lot, person, synonym, variety

# Further away than this a number is another number, not a slip.
_MOST_SLIPS = 2
_YEARS = (*(f"{year:02d}" for year in range(100)), numbering.YEAR_UNKNOWN)
# Code and year: the first five characters of a number. One more or less was typed where one slipped in or out.
_HEAD = 5
_ASKED_AT_ONCE = 500
# Words this short bear one slip, longer ones two; chosen by trying, no source.
_SHORT_WORD = 4
_CANDIDATES = 6_000
_OF_EACH_WORD = 3
_NAMES_READ = 20


def nearest_lot_numbers(connection: Connection, typed: str, limit: int = 3) -> tuple[str, ...]:
    """Give the real lot numbers that differ from what was typed by at most two slips, nearest first."""
    bare = numbering.as_typed(typed.replace("ß", "-"))
    if len(bare) < 2 * _MOST_SLIPS or len(bare) > numbering.LONGEST_NUMBER + _MOST_SLIPS:
        return ()
    measured = sorted(
        (slips, number.replace("-", "")[:-1] != bare[:-1], number)
        for number in _candidates(connection, bare)
        if (slips := count_slips(bare, number.replace("-", ""))) <= _MOST_SLIPS
    )
    return tuple(number for _slips, _body, number in measured[:limit])


def _candidates(connection: Connection, bare: str) -> set[str]:
    """Give the real numbers that are worth measuring, found by the index of numbers alone.

    Whatever slipped in code and year leaves the fewer slips for the rest: with none there, all lots of that crop and
    year are looked at; with one, those whose rest is nearly right; with two, the one whose rest is exactly right.
    """
    # A number keeps the code it was born with, whatever became of the crop's: what was typed is tried as it is too.
    codes = {bare[:3], *connection.execute(select(crop.c.code)).scalars()}
    found: set[str] = set()
    exact: set[str] = set()
    for head_typed, rest in ((bare[:cut], bare[cut:]) for cut in (_HEAD, _HEAD - 1, _HEAD + 1)):
        for head, slips in _heads(codes, head_typed).items():
            if slips == _MOST_SLIPS:
                exact.add(numbering.composed(head + rest))
                continue
            begin = f"{head[:3]}-{head[3:]}-"
            numbers = connection.execute(
                select(lot.c.number).where(begins_with(connection, lot.c.number, begin))
            ).scalars()
            found.update(
                number
                for number in numbers
                if slips == 0 or _is_within_one(number[len(begin) :].replace("-", ""), rest)
            )
    waiting = iter(sorted(exact))
    while part := tuple(islice(waiting, _ASKED_AT_ONCE)):
        found.update(connection.execute(select(lot.c.number).where(lot.c.number.in_(part))).scalars())
    return found


def _heads(codes: Iterable[str], typed: str) -> dict[str, int]:
    """Give the codes with years that lie within two slips of what was typed for them, with their slips."""
    near: dict[str, int] = {}
    for code in codes:
        of_code = min(count_slips(code, typed[:length]) for length in (2, 3, 4))
        if of_code > _MOST_SLIPS:
            continue
        # Where the code took both slips the year must stand there as it is.
        years = _YEARS if of_code < _MOST_SLIPS else (typed[-2:],)
        for year in years:
            slips = count_slips(code + year, typed)
            if slips <= _MOST_SLIPS and year in _YEARS:
                near[code + year] = min(slips, near.get(code + year, slips))
    return near


def _is_within_one(one: str, other: str) -> bool:
    """Say whether two texts differ by one slip at most; quicker than counting them."""
    if one == other:
        return True
    if abs(len(one) - len(other)) > 1:
        return False
    same = 0
    for a, b in zip(one, other, strict=False):
        if a != b:
            break
        same += 1
    a, b = one[same:], other[same:]
    return (
        a[1:] == b[1:] or a[1:] == b or a == b[1:] or (a[:2] == b[:2][::-1] and len(a) > 1 and a[2:] == b[2:])
    )


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
    """Give the nearest words that find something, best first, spelled as the names in the catalogue are."""
    asked = asked_words(words)
    choices = [_nearest_words(connection, word) for word in asked]
    if not asked or not all(choices):
        return ()
    found: dict[str, str] = {}
    for mended in islice(product(*choices), _OF_EACH_WORD**2):
        if mended != asked and has_lots(connection, mended):
            folded = " ".join(mended)
            found.setdefault(folded, _as_spelled(connection, folded))
        if len(found) == limit:
            break
    return tuple(dict.fromkeys(found.values()))


def _nearest_words(connection: Connection, word: str) -> tuple[str, ...]:
    """Give the known words nearest to one, itself alone where some word begins with it."""
    if any(ch.isdigit() for ch in word):
        return (word,)
    begun = and_(find_word.c.word >= word, find_word.c.word < word + "\U0010ffff")
    if connection.execute(select(find_word.c.word).where(begun).limit(1)).first() is not None:
        return (word,)
    slips = 1 if len(word) <= _SHORT_WORD else _MOST_SLIPS
    if len(word) <= slips + 1:
        return ()
    length = func.length(find_word.c.word)
    holds = [find_word.c.word.contains(piece, autoescape=True) for piece in _pieces(word, slips)]
    candidates = connection.execute(
        select(find_word.c.word)
        .where(length.between(len(word) - slips, len(word) + slips))
        .where(or_(*holds))
        .limit(_CANDIDATES)
    ).scalars()
    hidden = _words_of_people(connection) if hides_people(connection) else frozenset()
    measured = sorted(
        (count, known[:1] != word[:1], known)
        for known in candidates
        if known not in hidden and (count := count_slips(word, known)) <= slips
    )
    return tuple(known for _count, _begins, known in measured[:_OF_EACH_WORD])


def _words_of_people(connection: Connection) -> frozenset[str]:
    """Give the words of people's names, which the visitors' view offers to nobody."""
    names = connection.execute(select(person.c.name)).scalars()
    return frozenset(fold(" ".join(name for name in names if name)).split())


def _pieces(word: str, slips: int) -> Iterator[str]:
    """Part a word so that some piece stays whole; swapped neighbours may spoil two pieces at once."""
    size = max(1, len(word) // (2 * slips + 1))
    for start in range(0, len(word) - size + 1, size):
        yield word[start : start + size]


def _as_spelled(connection: Connection, folded: str) -> str:
    """Give folded words as a name of the catalogue spells them, the words themselves where none does."""
    for named in (variety, synonym, crop):
        whole = connection.execute(select(named.c.name).where(named.c.folded == folded).limit(1)).scalar()
        if whole is not None:
            return str(whole)
    return " ".join(_word_as_spelled(connection, word) for word in folded.split())


def _word_as_spelled(connection: Connection, folded: str) -> str:
    for named in (variety, synonym, crop):
        names = connection.execute(
            select(named.c.name).where(named.c.folded.contains(folded, autoescape=True)).limit(_NAMES_READ)
        ).scalars()
        for word in " ".join(names).split():
            if fold(word) == folded:
                return word.strip("“”‘’\"'(),.;:")
    return folded
