"""Units in which seed is handed in, and what they are in milligrams."""

from decimal import Decimal

SEEDS = "seeds"
# Exact by definition: international avoirdupois pound of 0.45359237 kg, its sixteenth the ounce
# (NIST Handbook 44, Appendix C).
MG_PER_UNIT = {
    "mg": Decimal(1),
    "g": Decimal(1_000),
    "kg": Decimal(1_000_000),
    "oz": Decimal("28349.523125"),
    "lb": Decimal("453592.37"),
}
UNITS = (*MG_PER_UNIT, SEEDS)
_WORDS = {
    "mg": "mg milligram milligrams milligramm miligramo miligramos milligramme milligrammes",
    "g": "g gr gm gms gram grams gramm gramme grammes gramo gramos",
    "kg": "kg kgs kilo kilos kilogram kilograms kilogramm kilogramo kilogramos kilogramme kilogrammes",
    "oz": "oz ounce ounces unze unzen onza onzas once onces",
    "lb": "lb lbs pound pounds",
    "seeds": "seed seeds samen korn korner semilla semillas graine graines semence semences",
}
UNIT_OF_WORD = {word: unit for unit, words in _WORDS.items() for word in words.split()}
