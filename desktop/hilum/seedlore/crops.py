"""Crops and their names: what a keeper, a grower or a seed list may call them, and which crop is meant.

A name is never guessed silently. Only a name of the library's own languages, or a botanical name,
settles a crop; everything else is a suggestion that somebody has to confirm.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from hilum.seedlore.crop_records import (
    LANGUAGES,
    Crop,
    CropSource,
    UnknownCrop,
    all_crops,
    crop,
    crop_name,
)
from hilum.seedlore.spelling import folded, name_keys, slips_allowed, slips_between

__all__ = [
    "LANGUAGES",
    "MATCH_KINDS",
    "Crop",
    "CropIndex",
    "CropMatch",
    "CropSource",
    "UnknownCrop",
    "all_crops",
    "crop",
    "crop_index",
    "crop_name",
]

MATCH_KINDS = ("exact", "open_group", "ambiguous", "foreign", "misspelt", "conflict", "unknown")
_RANK_WORDS = frozenset(["subsp", "ssp", "var", "convar", "f", "group", "gp", "cv", "x", "sp", "spp", "l"])
_LANGUAGE_WORDS = {"en_gb": "British", "en_us": "American", "de": "German", "es": "Spanish", "fr": "French"}
_SUGGESTIONS = 8  # as many as fit a sentence; the cabbages are seven


@dataclass(frozen=True, slots=True)
class CropMatch:
    """Which crop a name may mean: one of `MATCH_KINDS`, the candidates best first, and a sentence."""

    kind: str
    crops: tuple[Crop, ...]
    words: str


@dataclass(frozen=True, slots=True)
class _Botanical:
    """A botanical name taken apart into folded words."""

    genus: str
    species: str
    rest: frozenset[str]

    @classmethod
    def read(cls, text: str) -> "_Botanical | None":
        words = [word for word in folded(text).split() if word not in _RANK_WORDS]
        if not words:
            return None
        return cls(words[0], words[1] if len(words) > 1 else "", frozenset(words[2:]))


class CropIndex:
    """Looks crops up by name and botanical name, in the languages this library writes in."""

    def __init__(self, languages: tuple[str, ...], crops: tuple[Crop, ...]) -> None:
        self._language = languages[0]
        self._crops = crops
        self._order = {one.key: place for place, one in enumerate(crops)}
        self._own: dict[str, list[Crop]] = {}
        self._first_names: dict[str, list[Crop]] = {}
        self._foreign: dict[str, dict[str, list[Crop]]] = {}
        self._typed: list[tuple[str, str, Crop]] = []
        self._botanical: dict[tuple[str, str], list[tuple[Crop, frozenset[str]]]] = {}
        self._near: dict[str, tuple[tuple[int, bool, Crop], ...]] = {}
        for one in crops:
            self._file_names(one, languages)
            self._file_botanical(one)

    def _file_names(self, one: Crop, languages: tuple[str, ...]) -> None:
        for language in LANGUAGES:
            for name in (one.names[language], *one.aliases[language]):
                if language in languages:
                    _file(self._own, name, one)
                    self._typed.append((folded(name), name, one))
                else:
                    _file(self._foreign.setdefault(language, {}), name, one)
            if language in languages:
                _file(self._first_names, one.names[language], one)

    def _file_botanical(self, one: Crop) -> None:
        for name in one.botanical_names:
            read = _Botanical.read(name)
            if read is not None:
                self._botanical.setdefault((read.genus, read.species), []).append((one, read.rest))

    def match(self, name: str | None, botanical: str | None = None) -> CropMatch:
        """Say which crop a name, a botanical name or both together mean.

        Parameters
        ----------
        name : str or None
            The crop's name as written: any case, accents, plural and order of words.
        botanical : str or None
            Its botanical name, where one was given; authors' names behind it do no harm.

        Returns
        -------
        CropMatch
            kind "exact": the one crop meant. "open_group": the botanical name is shared by several
            crops and leaves the choice open. "ambiguous": the name is shared by several crops.
            "foreign", "misspelt": suggestions to be confirmed. "conflict": name and botanical name
            disagree. "unknown": nothing fits.

        Source
        ------
        Names are from memory; botanical names as in the crop table.

        Examples
        --------
        >>> index = crop_index()
        >>> found = index.match("Beans, dwarf")
        >>> found.kind, found.crops[0].key
        ('exact', 'common-bean')
        >>> index.match("Squash", "Cucurbita maxima").crops[0].key
        'squash-maxima'
        >>> index.match("Letuce").words
        'No crop is called "Letuce". Is Lettuce meant?'
        """
        name, botanical = (name or "").strip(), (botanical or "").strip()
        if not folded(name):
            return self._by_botanical(botanical)
        own = self._filed(self._own, name)
        if not own and not folded(botanical) and self._botanical_crops(name):
            return self._by_botanical(name)
        if own:
            return self._settle(name, own, botanical)
        return self._suggest(name, botanical)

    def complete(self, typed: str, most: int = 10) -> tuple[tuple[str, Crop], ...]:
        """Give the names that go on from what was typed so far, for a field that types ahead.

        Parameters
        ----------
        typed : str
            The beginning of a name, or of a word in it.
        most : int
            At most so many are given.

        Returns
        -------
        tuple of (str, Crop)
            Name and crop; names that begin so stand before names with a later word that does.

        Source
        ------
        Names are from memory.

        Examples
        --------
        >>> [name for name, _ in crop_index().complete("swed")]
        ['Swede', 'Swedish turnip']
        """
        start = folded(typed)
        if not start:
            return ()
        fitting = [
            (not key.startswith(start), key, name, one)
            for key, name, one in self._typed
            if key.startswith(start) or f" {start}" in key
        ]
        found: dict[tuple[str, str], tuple[str, Crop]] = {}
        for _, key, name, one in sorted(fitting, key=lambda item: item[:2]):
            found.setdefault((key, one.key), (name, one))
        return tuple(found.values())[:most]

    def _botanical_crops(self, text: str) -> tuple[Crop, ...]:
        """Give the crops a botanical name may mean, narrowed by the subspecies, variety or group in it."""
        read = _Botanical.read(text)
        filed = self._botanical.get((read.genus, read.species), []) if read else []
        if read is None or not filed:
            return ()
        known = frozenset().union(*(rest for _, rest in filed)) & read.rest
        return _once(one for one, rest in filed if known <= rest)

    def _by_botanical(self, botanical: str) -> CropMatch:
        if not folded(botanical):
            return CropMatch("unknown", (), "No crop is named. Write the crop's name.")
        crops = self._botanical_crops(botanical)
        if len(crops) == 1:
            return CropMatch("exact", crops, f"{botanical} is {self._named(crops)}.")
        if crops:
            words = (
                f"{botanical} is shared by several crops: {self._named(crops)}. Choose one when you know it."
            )
            return CropMatch("open_group", crops, words)
        near = self._near_botanical(botanical, self._crops)
        if near:
            words = f'No crop has the botanical name "{botanical}". Is {self._named(near)} meant?'
            return CropMatch("misspelt", near, words)
        words = (
            f'No crop has the botanical name "{botanical}". Write the crop\'s name, or check the spelling.'
        )
        return CropMatch("unknown", (), words)

    def _settle(self, name: str, own: tuple[Crop, ...], botanical: str) -> CropMatch:
        """Choose among the crops that bear a name of our own languages."""
        if not folded(botanical):
            return self._choose(name, own, "ambiguous", "Write the botanical name too, or choose one.")
        meant = self._botanical_crops(botanical)
        both = tuple(one for one in own if one in meant)
        if both:
            why = "The botanical name leaves it open: choose one when you know it."
            return self._choose(name, both, "open_group", why)
        read = _Botanical.read(botanical)
        if read is not None and read.species == "":
            of_genus = tuple(one for one in own if self._has_genus(one, read.genus))
            if of_genus:
                return self._choose(
                    name, of_genus, "ambiguous", "Write the whole botanical name, or choose one."
                )
        near = () if meant else self._near_botanical(botanical, own)
        if near:
            words = (
                f'{name} fits, but "{botanical}" is not a botanical name we know. '
                f"Is {near[0].botanical_name} meant?"
            )
            return CropMatch("misspelt", near, words)
        other = f"that is {self._named(meant)}" if meant else "which no crop here has"
        words = (
            f"{name} and {botanical} do not go together: {name} is {own[0].botanical_name}; the botanical "
            f"name written is {botanical}, {other}. Correct one of the two."
        )
        return CropMatch("conflict", _once((*own, *meant)), words)

    def _choose(self, name: str, crops: tuple[Crop, ...], otherwise: str, advice: str) -> CropMatch:
        """Take the only crop, or the only one whose first name it is; else leave the choice open."""
        first = tuple(one for one in self._filed(self._first_names, name) if one in crops)
        best = crops if len(crops) == 1 else first
        if len(best) == 1:
            return CropMatch("exact", best, f"{name} is {self._named(best)}, {best[0].botanical_name}.")
        return CropMatch(otherwise, crops, f"{name} can be {self._named(crops)}. {advice}")

    def _suggest(self, name: str, botanical: str) -> CropMatch:
        """Offer crops for a name that is in none of our own languages."""
        meant = self._botanical_crops(botanical)
        for language, names in self._foreign.items():
            foreign = self._filed(names, name)
            if foreign:
                return self._suggest_foreign(name, botanical, foreign, meant, _LANGUAGE_WORDS[language])
        near = tuple(one for one in self._near_names(name) if not meant or one[2] in meant)
        if near:
            crops = _once(one for _, _, one in near)[:_SUGGESTIONS]
            kind = "foreign" if near[0][1] else "misspelt"
            return CropMatch(kind, crops, f'No crop is called "{name}". Is {self._named(crops)} meant?')
        if meant:
            words = f'No crop is called "{name}"; {botanical} is {self._named(meant)}. Is that meant?'
            return CropMatch("unknown", meant, words)
        within = self._named_within(name)
        asked = f" Is {self._named(within)} meant?" if within else " Choose a crop from the list."
        return CropMatch("unknown", within, f'No crop is called "{name}".{asked}')

    def _suggest_foreign(
        self, name: str, botanical: str, foreign: tuple[Crop, ...], meant: tuple[Crop, ...], language: str
    ) -> CropMatch:
        both = tuple(one for one in foreign if one in meant)
        if meant and not both:
            words = (
                f"{name} ({language}) is {self._named(foreign)}, but {botanical} is {self._named(meant)}. "
                "Correct one of the two."
            )
            return CropMatch("conflict", _once((*foreign, *meant)), words)
        crops = both or foreign
        return CropMatch("foreign", crops, f'"{name}" is a {language} name. Is {self._named(crops)} meant?')

    def _near_names(self, name: str) -> tuple[tuple[int, bool, Crop], ...]:
        """Give (slips, is foreign, crop) for the names that are nearest in spelling, best first."""
        keys = name_keys(name)
        if not keys:
            return ()
        joined = keys[-1]
        if joined not in self._near:
            books = [(False, self._own), *((True, names) for names in self._foreign.values())]
            found = [
                (slips, foreign, one) for foreign, names in books for slips, one in _near_in(names, keys)
            ]
            found.sort(key=lambda item: (item[0], item[1], self._order[item[2].key]))
            fewest = found[0][0] if found else 0
            self._near[joined] = tuple(item for item in found if item[0] == fewest)
        return self._near[joined]

    def _near_botanical(self, text: str, among: Iterable[Crop]) -> tuple[Crop, ...]:
        read = _Botanical.read(text)
        if read is None:
            return ()
        written = f"{read.genus} {read.species}".strip()
        most = slips_allowed(written)
        found = [
            (slips, one)
            for one in among
            for slips in (min(slips_between(written, _binomial(name), most) for name in one.botanical_names),)
            if slips <= most
        ]
        fewest = min((slips for slips, _ in found), default=0)
        return tuple(one for slips, one in found if slips == fewest)[:_SUGGESTIONS]

    def _named_within(self, name: str) -> tuple[Crop, ...]:
        """Find crops whose own one-word name stands in a longer name ("black Tuscan kale")."""
        words = (name_keys(name) or ("",))[0].split()
        return (
            _once(one for word in words for one in self._own.get(word, ()))[:_SUGGESTIONS]
            if len(words) > 1
            else ()
        )

    def _has_genus(self, one: Crop, genus: str) -> bool:
        return any(_binomial(name).split()[0] == genus for name in one.botanical_names)

    def _filed(self, book: Mapping[str, list[Crop]], name: str) -> tuple[Crop, ...]:
        return next((tuple(book[key]) for key in name_keys(name) if key in book), ())

    def _named(self, crops: Iterable[Crop]) -> str:
        names = [crop_name(one, self._language) for one in crops][:_SUGGESTIONS]
        return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def _file(book: dict[str, list[Crop]], name: str, one: Crop) -> None:
    for key in name_keys(name):
        crops = book.setdefault(key, [])
        if one not in crops:
            crops.append(one)


def _once(crops: Iterable[Crop]) -> tuple[Crop, ...]:
    return tuple({one.key: one for one in crops}.values())


def _binomial(name: str) -> str:
    read = _Botanical.read(name)
    return f"{read.genus} {read.species}".strip() if read else ""


def _near_in(names: Mapping[str, list[Crop]], keys: tuple[str, ...]) -> Iterable[tuple[int, Crop]]:
    for filed, crops in names.items():
        for key in keys:
            most = slips_allowed(key)
            slips = slips_between(key, filed, most)
            if slips <= most:
                yield from ((slips, one) for one in crops)


@cache
def crop_index(langs: tuple[str, ...] = ("en_gb", "en_us")) -> CropIndex:
    """Give the index of crop names for a library that writes in these languages.

    Parameters
    ----------
    langs : tuple of str
        Languages whose names count without asking, the one shown first; some of en_gb, en_us, de, es, fr.

    Returns
    -------
    CropIndex

    Raises
    ------
    UnknownCrop
        There are no names in one of the languages.

    Source
    ------
    Names are from memory.

    Examples
    --------
    >>> crop_index(("de",)).match("Kürbis").kind
    'ambiguous'
    """
    unknown = [language for language in langs if language not in LANGUAGES]
    if unknown or not langs:
        raise UnknownCrop(
            f"There are no crop names in {', '.join(unknown) or 'no language'}; there are some in "
            f"{', '.join(LANGUAGES)}."
        )
    return CropIndex(langs, all_crops())
