"""Columns: what each heading means, in English, German, Spanish and French."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hilum.errors import BadInput
from hilum.exchange.dates import DAY_FIRST, MONTH_FIRST
from hilum.exchange.rows import TableRow
from hilum.exchange.units import SEEDS, UNIT_OF_WORD
from hilum.exchange.words import folded, listed, shown

CROP = "crop"
BOTANICAL_NAME = "botanical name"
VARIETY = "variety"
YEAR = "year"
PLACE_GROWN = "place grown"
GROWER = "grower"
DONOR = "donor"
RECEIVED = "received"
AMOUNT = "amount"
SEED_COUNT = "seed count"
UNIT = "unit"
PLANTS = "plants"
ISOLATION = "isolation"
NOTES = "notes"
NOT_USED = "not used"

# Headings are compared folded (no case, accents or punctuation) and whole: a heading that only resembles
# one of these is shown as unknown and goes to the notes, where nothing is lost.
_HEADINGS: Mapping[str, str] = {
    CROP: "crop|crops|crop name|common name|kind|kind of plant|vegetable|plant|"
    "kultur|kulturart|pflanze|pflanzenart|gemuse|gemuseart|art|fruchtart|kulturpflanze|"
    "cultivo|planta|hortaliza|nombre comun|"
    "espece cultivee|culture|plante|legume|nom commun",
    BOTANICAL_NAME: "botanical name|botanical|latin name|latin|scientific name|species|taxon|"
    "botanischer name|botanisch|lateinischer name|wissenschaftlicher name|"
    "nombre botanico|nombre cientifico|nombre latino|especie|"
    "nom botanique|nom scientifique|nom latin|espece",
    VARIETY: "variety|variety name|cultivar|cultivar name|landrace|sort|"
    "sorte|sortenname|sortenbezeichnung|landsorte|"
    "variedad|nombre de la variedad|cultivar nombre|"
    "variete|nom de la variete|nom de variete",
    YEAR: "year|harvest year|year of harvest|year harvested|harvested|harvest|year grown|grown in|crop year|"
    "jahr|erntejahr|jahr der ernte|ernte|jahrgang|"
    "ano|ano de cosecha|cosecha|ano cosecha|"
    "annee|annee de recolte|recolte|annee recolte|millesime",
    PLACE_GROWN: "place grown|where grown|grown at|place|site|garden|plot|location|origin|place of growing|"
    "grown where|where it was grown|"
    "ort|anbauort|standort|garten|herkunft|wo gewachsen|wo angebaut|"
    "lugar|lugar de cultivo|huerto|huerta|origen|procedencia|parcela|"
    "lieu|lieu de culture|jardin|origine|provenance|parcelle",
    GROWER: "grower|grown by|gardener|farmer|producer|who grew it|"
    "anbauer|anbauerin|gartner|gartnerin|vermehrer|vermehrerin|angebaut von|"
    "cultivador|cultivadora|agricultor|agricultora|hortelano|hortelana|productor|cultivado por|"
    "cultivateur|cultivatrice|jardinier|jardiniere|producteur|productrice|cultive par",
    DONOR: "donor|donated by|given by|from whom|from|brought by|received from|who brought it|giver|"
    "spender|spenderin|von|von wem|erhalten von|gebracht von|geber|"
    "donante|donado por|de quien|de parte de|entregado por|recibido de|"
    "donateur|donatrice|donne par|de qui|apporte par|recu de",
    RECEIVED: "received|date received|received on|came in|date|date in|arrived|intake date|date of receipt|"
    "eingang|eingangsdatum|erhalten|erhalten am|datum|eingegangen|eingegangen am|angekommen|"
    "recibido|fecha|fecha de recepcion|fecha de entrada|recibido el|entrada|"
    "recu|recu le|date de reception|date d entree|reception|arrivee",
    AMOUNT: "weight|amount|quantity|mass|net weight|seed weight|weight of seed|how much|stock|qty|"
    "gewicht|menge|masse|nettogewicht|saatgutmenge|samengewicht|wieviel|"
    "peso|cantidad|masa|peso neto|cuanto|"
    "poids|quantite|poids net|combien",
    SEED_COUNT: "number of seeds|seed count|seed number|count of seeds|no of seeds|how many seeds|count|"
    "samenzahl|anzahl samen|anzahl der samen|kornzahl|anzahl korner|stuckzahl|"
    "numero de semillas|cantidad de semillas|"
    "nombre de graines|nombre de semences",
    UNIT: "unit|units|lot unit|weight unit|unit of weight|einheit|gewichtseinheit|mengeneinheit|unidad|unite",
    PLANTS: "plants|number of plants|no of plants|plant count|seed parents|how many plants|"
    "pflanzen|anzahl pflanzen|pflanzenzahl|zahl der pflanzen|samentrager|"
    "plantas|numero de plantas|"
    "plantes|nombre de plantes|porte graines",
    ISOLATION: "isolation|isolated|isolation distance|how isolated|distance|"
    "isolierung|isoliert|abstand|isolationsabstand|"
    "aislamiento|aislado|distancia|distancia de aislamiento|"
    "isolement|distance d isolement",
    NOTES: "notes|note|remarks|remark|comments|comment|observations|description|"
    "notizen|notiz|bemerkung|bemerkungen|anmerkung|anmerkungen|kommentar|beschreibung|"
    "notas|nota|observaciones|comentarios|comentario|descripcion|"
    "remarque|remarques|commentaire|commentaires",
}
MEANINGS = (*_HEADINGS, NOT_USED)
_MEANING_OF = {phrase: meaning for meaning, phrases in _HEADINGS.items() for phrase in phrases.split("|")}
_LINKS = {"in", "en", "de", "the", "der", "des"}  # between a heading and its unit: "weight in g"
_MANY = {NOTES}
_ASIDE = re.compile(r"[(\[]([^)\]]*)[)\]]")
_DATE_FORMS = {
    **dict.fromkeys(
        ("dd mm yyyy", "dd mm yy", "tt mm jjjj", "tt mm jj", "dd mm aaaa", "jj mm aaaa"), DAY_FIRST
    ),
    **dict.fromkeys(("mm dd yyyy", "mm dd yy"), MONTH_FIRST),
}
# Words in brackets that leave a heading's meaning as it is; any others may change it: "date (sown)".
_SAYS_NOTHING_MORE = {
    *_DATE_FORMS,
    *("yyyy mm dd", "yyyy", "with unit", "with units", "optional", "required", "if known", "mit einheit"),
}
_IN_WORDS = {
    YEAR: "the year of harvest",
    PLACE_GROWN: "the place where it was grown",
    RECEIVED: "the date received",
    AMOUNT: "the weight or number of seeds",
    SEED_COUNT: "the number of seeds",
    PLANTS: "the number of plants it was saved from",
    ISOLATION: "how it was isolated",
    NOTES: "notes",
}


@dataclass(frozen=True, slots=True)
class ColumnReading:
    """What one column was taken for; `meaning` is None where nobody could tell."""

    position: int
    heading: str
    meaning: str | None
    words: str
    unit: str | None = None
    date_order: str | None = None


def read_columns(
    header: tuple[str, ...], rows: Sequence[TableRow], chosen: Mapping[str, str]
) -> tuple[ColumnReading, ...]:
    """Say what each column with anything in it means; `chosen` gives meanings by heading, as settled."""
    settled = _settled(header, chosen)
    taken: dict[str, str] = {}
    readings = []
    # What the keeper chose comes first, so that no other column can take the meaning before it.
    headings = [heading_at(header, position) for position in range(len(header))]
    for position in sorted(range(len(header)), key=lambda at: folded(headings[at]) not in settled):
        heading = headings[position]
        if any(position < len(row.cells) and row.cells[position].strip() for row in rows):
            readings.append(_read_column(heading, position, settled, taken))
        else:
            words = f"{shown(heading)} is empty: not used"
            readings.append(ColumnReading(position, heading, NOT_USED, words))
    return tuple(sorted(readings, key=lambda reading: reading.position))


def _settled(header: tuple[str, ...], chosen: Mapping[str, str]) -> dict[str, str]:
    """Check the keeper's choices of columns against the file and the meanings there are."""
    headings = {folded(heading_at(header, position)) for position in range(len(header))}
    for heading, meaning in chosen.items():
        if folded(heading) not in headings:
            raise BadInput(f"No column of the file is headed {shown(heading)}. Choose one of its headings.")
        if meaning not in MEANINGS:
            raise BadInput(f"A column cannot be {shown(meaning)}. It can be {listed(list(MEANINGS), 'or')}.")
    return {folded(heading): meaning for heading, meaning in chosen.items()}


def heading_at(header: tuple[str, ...], position: int) -> str:
    """Give a column's heading, or the letter a spreadsheet shows over it when it has none."""
    if position < len(header) and header[position]:
        return header[position]
    letters, rest = "", position + 1
    while rest:
        rest, digit = divmod(rest - 1, 26)
        letters = chr(ord("A") + digit) + letters
    return f"column {letters}"


def _read_column(
    heading: str, position: int, settled: Mapping[str, str], taken: dict[str, str]
) -> ColumnReading:
    meaning, unit = _meaning(heading)
    chosen = settled.get(folded(heading))
    if chosen == NOT_USED:
        return ColumnReading(position, heading, NOT_USED, f"{shown(heading)}: not used, as you chose")
    if chosen is not None:
        meaning = chosen
    if meaning is None:
        words = f"{shown(heading)} is not known here: kept in the notes"
        return ColumnReading(position, heading, None, words)
    if meaning in taken and meaning not in _MANY:
        words = f"{shown(heading)} looks like {shown(taken[meaning])}, which is used: kept in the notes"
        return ColumnReading(position, heading, None, words)
    taken[meaning] = heading
    words = f"{shown(heading)} is {_IN_WORDS.get(meaning, 'the ' + meaning)}" + (
        f", in {unit}" if unit else ""
    )
    words += ", as you chose" if chosen else ""
    order = _date_order(heading) if meaning == RECEIVED else None
    return ColumnReading(position, heading, meaning, words, unit, order)


def _without_asides(heading: str) -> tuple[str, set[str]]:
    """Part a heading from what stands in brackets behind it, both folded."""
    return folded(_ASIDE.sub(" ", heading)), {folded(aside) for aside in _ASIDE.findall(heading)}


def _date_order(heading: str) -> str | None:
    """Give the order of dates a heading asks for: "Received (DD/MM/YYYY)"."""
    _, asides = _without_asides(heading)
    return next((_DATE_FORMS[aside] for aside in asides if aside in _DATE_FORMS), None)


def _meaning(heading: str) -> tuple[str | None, str | None]:
    """Give the meaning of a heading and the unit it names: "Weight (g)", "gewicht in kg", "grams"."""
    words = folded(heading)
    if words in _MEANING_OF:
        meaning = _MEANING_OF[words]
        return meaning, SEEDS if meaning == SEED_COUNT else None
    bare, asides = _without_asides(heading)
    if asides and asides <= _SAYS_NOTHING_MORE and bare in _MEANING_OF:
        return _MEANING_OF[bare], None
    *rest, last = words.split() or [""]
    unit = UNIT_OF_WORD.get(last)
    if unit is None:
        return None, None
    while rest and rest[-1] in _LINKS:
        rest.pop()
    if not rest or _MEANING_OF.get(" ".join(rest)) == AMOUNT:
        return (SEED_COUNT if unit == SEEDS and not rest else AMOUNT), unit
    return None, None
