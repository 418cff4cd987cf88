"""What is known of each crop, joined from the crop table, the table of names and links, and the weights."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from hilum.errors import BadInput
from hilum.seedlore.tables import Line, table

LANGUAGES = ("en_gb", "en_us", "de", "es", "fr")
BEHAVIOURS = ("orthodox", "intermediate", "recalcitrant")
LABEL_CAUTION_LETTERS = 60  # longer words do not fit a small packet label in a size that is read


class UnknownCrop(BadInput):
    """No crop has this key or name."""


@dataclass(frozen=True, slots=True)
class CropSource:
    """One publication a crop's facts were taken from."""

    key: str
    citation: str


# There is one object for each crop, so two are equal when they are the same; comparing every fact of
# them would be slow where long lists are read.
@dataclass(frozen=True, slots=True, eq=False)
class Crop:
    """One kind of plant as the seed trade groups it, with the facts about it.

    What is not known is None or empty; nothing here is guessed from another crop.
    """

    key: str
    code: str
    names: Mapping[str, str]
    aliases: Mapping[str, tuple[str, ...]]
    family: str
    genus: str
    species: str
    infraspecific: str | None
    botanical_synonyms: tuple[str, ...]
    life_cycle: str
    mating: str | None
    pollination: str | None
    isolation_m_min: float | None
    isolation_m_max: float | None
    plants_min: int | None
    plants_recommended: int | None
    thousand_seed_weight_g: float | None
    thousand_seed_weight_source: str | None
    storage_life_years: float | None
    germination_c: float | None
    sowing_depth_mm: float | None
    plant_spacing_mm: float | None
    seed_behaviour: str
    seed_process: str | None
    oily: bool | None
    oily_source: str
    cautions: tuple[str, ...]
    poisonous: bool
    label_caution: str | None
    unfit_for_children: bool
    unfit_why: str | None
    method_key: str | None
    standard_kind: str | None
    constants_species: str | None
    sources: tuple[CropSource, ...]
    notes: str | None

    @property
    def binomial(self) -> str:
        """Genus and species, or the genus alone where the crop is a hybrid of genera."""
        return f"{self.genus} {self.species}".strip()

    @property
    def botanical_name(self) -> str:
        """The whole botanical name, with subspecies, variety or group."""
        return f"{self.binomial} {self.infraspecific or ''}".strip()

    @property
    def botanical_names(self) -> tuple[str, ...]:
        """The botanical name and its synonyms."""
        return (self.botanical_name, *self.botanical_synonyms)

    @property
    def names_source(self) -> str:
        """Where the names in five languages come from."""
        return "from memory"


def all_crops() -> tuple[Crop, ...]:
    """Give every crop the program knows, in the order of the crop table.

    Returns
    -------
    tuple of Crop

    Raises
    ------
    TableError
        A table is damaged, or a crop has no name or a link is missing.

    Source
    ------
    Each crop names its own in `sources`.

    Examples
    --------
    >>> len(all_crops())
    166
    """
    return tuple(_crops().values())


def crop(key: str) -> Crop:
    """Give one crop by its key.

    Parameters
    ----------
    key : str
        For instance "leek".

    Returns
    -------
    Crop

    Raises
    ------
    UnknownCrop
        No crop has this key.

    Source
    ------
    The crop names its own in `sources`.

    Examples
    --------
    >>> crop("leek").botanical_name
    'Allium ampeloprasum Porrum Group'
    """
    try:
        return _crops()[key]
    except KeyError:
        raise UnknownCrop(
            f"There is no crop with the key {key!r}. Choose one from the list of crops."
        ) from None


def crop_name(of: Crop, language: str = "en_gb") -> str:
    """Give a crop's name in one language.

    Parameters
    ----------
    of : Crop
        The crop.
    language : str
        One of en_gb, en_us, de, es, fr.

    Returns
    -------
    str

    Raises
    ------
    UnknownCrop
        The program has no names in that language.

    Source
    ------
    Names are from memory.

    Examples
    --------
    >>> crop_name(crop("swede"), "en_us"), crop_name(crop("leek"), "de")
    ('Rutabaga', 'Lauch')
    """
    if language not in LANGUAGES:
        raise UnknownCrop(
            f"There are no crop names in {language!r}; there are some in {', '.join(LANGUAGES)}."
        )
    return of.names[language]


@cache
def _crops() -> Mapping[str, Crop]:
    facts = {line.text("crop"): line for line in table("crops")}
    weights = {line.text("crop"): line for line in table("crop_weights")}
    citations = {line.text("key"): line.text("citation") for line in table("crops_sources")}
    found: dict[str, Crop] = {}
    codes: set[str] = set()
    for names in table("crop_names"):
        title = names.text("crop")
        if title not in facts:
            raise names.wrong(f"{title!r} is not in the crop table")
        one = _joined(names, facts.pop(title), weights.get(title), citations)
        if one.key in found or one.code in codes:
            raise names.wrong(f"the key {one.key} or the code {one.code} stands there twice")
        codes.add(one.code)
        found[one.key] = one
    for line in facts.values():
        raise line.wrong(f"{line.text('crop')!r} has no line in crop_names.csv")
    return MappingProxyType(found)


def _joined(names: Line, facts: Line, weight: Line | None, citations: Mapping[str, str]) -> Crop:
    """Make one crop of its line in each table."""
    code = names.text("code")
    if not re.fullmatch("[A-HJ-NP-Z]{3}", code):
        raise names.wrong(f"the code {code!r} is not three capitals without I and O")
    poisonous, caution = names.is_yes("poisonous"), names.optional_text("label_caution")
    if poisonous != (caution is not None) or len(caution or "") > LABEL_CAUTION_LETTERS:
        raise names.wrong(
            "a crop has words of caution for its label exactly when it is poisonous, and at most "
            f"{LABEL_CAUTION_LETTERS} letters of them"
        )
    unfit, why = names.is_yes("unfit_for_children"), names.optional_text("unfit_why")
    if unfit != (why is not None) or (poisonous and not unfit):
        raise names.wrong("a crop unfit for children needs its reason, and a poisonous one is always unfit")
    weight_g, weight_source = _thousand_seed_weight(facts, weight)
    spacing_cm = facts.optional_number("plant_spacing_cm")
    return Crop(
        key=names.text("key"),
        code=code,
        names=MappingProxyType({language: names.text(language) for language in LANGUAGES}),
        aliases=MappingProxyType({lang: names.pieces(f"aliases_{lang}") for lang in LANGUAGES}),
        family=facts.text("family"),
        genus=_hybrid_sign(facts.text("genus")),
        species=_hybrid_sign(facts.optional_text("species_epithet") or ""),
        infraspecific=facts.optional_text("infraspecific"),
        botanical_synonyms=names.pieces("botanical_synonyms"),
        life_cycle=facts.text("life_cycle"),
        mating=facts.optional_text("mating"),
        pollination=facts.optional_text("pollination"),
        isolation_m_min=facts.optional_number("isolation_m_min"),
        isolation_m_max=facts.optional_number("isolation_m_max"),
        plants_min=facts.optional_whole("population_min"),
        plants_recommended=facts.optional_whole("population_recommended"),
        thousand_seed_weight_g=weight_g,
        thousand_seed_weight_source=weight_source,
        storage_life_years=facts.optional_number("storage_life_years_typical"),
        germination_c=facts.optional_number("germination_temp_c_optimum"),
        sowing_depth_mm=facts.optional_number("sowing_depth_mm"),
        plant_spacing_mm=None if spacing_cm is None else 10 * spacing_cm,
        seed_behaviour=facts.one_of("seed_behaviour", BEHAVIOURS),
        seed_process=facts.optional_text("seed_process"),
        oily={"yes": True, "no": False, "unknown": None}[names.one_of("oily", ("yes", "no", "unknown"))],
        oily_source=names.text("oily_source"),
        cautions=facts.pieces("cautions"),
        poisonous=poisonous,
        label_caution=caution,
        unfit_for_children=unfit,
        unfit_why=why,
        method_key=names.link("method"),
        standard_kind=names.link("standard"),
        constants_species=names.link("constants_species"),
        sources=tuple(
            CropSource(key, citations[key])
            for key in facts.pieces("sources")
            if _cited(facts, key, citations)
        ),
        notes=facts.optional_text("notes"),
    )


def _hybrid_sign(text: str) -> str:
    """Write the sign of a hybrid as a sign; the crop table has a letter."""
    return f"× {text[2:]}" if text.startswith("x ") else text


def _cited(facts: Line, key: str, citations: Mapping[str, str]) -> bool:
    if key not in citations:
        raise facts.wrong(f"the source {key} is not in crops_sources.csv")
    return True


def _column_source(facts: Line, column: str) -> str:
    """Say which publication one column came from; the notes list them as "KEY: column, column | KEY: ..."."""
    listed = (facts.optional_text("notes") or "").partition("by column: ")[2].partition(";")[0]
    for part in listed.split("|"):
        key, _, columns = part.partition(":")
        if column in (name.strip() for name in columns.split(",")):
            return key.strip()
    return "from memory"


def _thousand_seed_weight(facts: Line, weight: Line | None) -> tuple[float | None, str | None]:
    """Choose the best figure: a published weight, else seeds per gram turned round, else one from memory."""
    grams = facts.optional_number("thousand_seed_weight_g")
    if grams is not None:
        return grams, f"published weight, {_column_source(facts, 'thousand_seed_weight_g')}"
    low, high = facts.optional_number("seeds_per_gram_low"), facts.optional_number("seeds_per_gram_high")
    if low is not None and high is not None:
        source = _column_source(facts, "seeds_per_gram_low")
        if low == high:
            return 1000 / low, f"from {low:g} seeds per gram, {source}"
        return 2000 / (low + high), f"middle of {low:g}-{high:g} seeds per gram, {source}"
    if weight is not None:
        return weight.number("thousand_seed_weight_g"), weight.text("source")
    return None, None
