"""How two ways of writing one name are told to be the same, or nearly the same."""

import unicodedata

_LIGATURES = str.maketrans({"œ": "oe", "æ": "ae", "ø": "o", "ł": "l", "×": " "})
_APOSTROPHES = str.maketrans("", "", "'’‘`´")


def folded(text: str) -> str:
    """Fold case, accents and punctuation away, so that only the words remain.

    Parameters
    ----------
    text : str
        A name as somebody wrote it.

    Returns
    -------
    str
        Lower-case words of letters and digits with one space between them.

    Source
    ------
    Unicode Standard Annex 15 (compatibility decomposition).

    Examples
    --------
    >>> folded("Bean, Common"), folded("Kürbis"), folded("Œillet d’Inde")
    ('bean common', 'kurbis', 'oeillet dinde')
    """
    plain = text.casefold().translate(_APOSTROPHES).translate(_LIGATURES)
    letters = (c for c in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(c))
    return " ".join("".join(c if c.isalnum() else " " for c in letters).split())


def singular(word: str) -> str:
    """Take the plural ending off one folded English word; other words may lose an s and do no harm.

    Both the name in the table and the name that was typed go through here, so it matters that the
    two come out alike and not that the result is a word.

    Parameters
    ----------
    word : str
        One folded word.

    Returns
    -------
    str

    Source
    ------
    Common English spelling, no source.

    Examples
    --------
    >>> [singular(word) for word in ("tomatoes", "leeks", "radishes", "peas", "cress", "asparagus")]
    ['tomato', 'leek', 'radish', 'pea', 'cress', 'asparagus']
    """
    if len(word) < 4 or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("oes", "shes", "ches", "xes", "sses")):
        return word[:-2]
    return word[:-1]


def name_keys(text: str) -> tuple[str, ...]:
    """Give the keys under which a name is filed and looked up.

    The first key has the words in alphabetical order ("Bean, common" is "common bean"), the
    second has them run together ("sweetcorn" is "sweet corn").

    Parameters
    ----------
    text : str
        A name as somebody wrote it.

    Returns
    -------
    tuple of str
        No key at all for a name without letters.

    Source
    ------
    Our own choice.

    Examples
    --------
    >>> name_keys("Bean, common")
    ('bean common', 'beancommon')
    >>> name_keys("common beans")
    ('bean common', 'commonbean')
    """
    words = [singular(word) for word in folded(text).split()]
    if not words:
        return ()
    return " ".join(sorted(words)), "".join(words)


def slips_between(a: str, b: str, most: int) -> int:
    """Count the slips of the hand (letter missing, added, changed, two swapped) between two words.

    Parameters
    ----------
    a, b : str
        Folded words.
    most : int
        Counting stops above this.

    Returns
    -------
    int
        The number of slips, or `most` + 1 where there are more.

    Source
    ------
    F. J. Damerau (1964), Communications of the ACM 7, 171-176, in the restricted form: no part is
    changed twice.

    Examples
    --------
    >>> slips_between("letuce", "lettuce", 2), slips_between("carrto", "carrot", 2)
    (1, 1)
    """
    if abs(len(a) - len(b)) > most:
        return most + 1
    before: list[int] = []
    last = list(range(len(b) + 1))
    for i, letter in enumerate(a, start=1):
        now = [i]
        for j, other in enumerate(b, start=1):
            cost = min(last[j] + 1, now[j - 1] + 1, last[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == b[j - 2] and a[i - 2] == other:
                cost = min(cost, before[j - 2] + 1)
            now.append(cost)
        if min(now) > most:
            return most + 1
        before, last = last, now
    return min(last[-1], most + 1)


def slips_allowed(word: str) -> int:
    """Say how many slips still make a word a misspelling of another.

    Parameters
    ----------
    word : str
        A folded word.

    Returns
    -------
    int
        None in very short words, up to three in long ones.

    Source
    ------
    Our own choice.

    Examples
    --------
    >>> [slips_allowed(word) for word in ("pea", "leak", "letuce", "watermellon")]
    [0, 1, 2, 3]
    """
    steps = ((4, 0), (5, 1), (10, 2))
    return next((slips for length, slips in steps if len(word) < length), 3)
