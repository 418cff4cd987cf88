"""The figures of a sum in words: the result with its unit, the named outputs, and the whole to be copied."""

from collections.abc import Mapping, Sequence
from typing import Any

from hilum.benches.reckoning import Outcome, Sum, SumOutput

DAYS_A_YEAR = 365.0
# From here on a time is easier to grasp in years.
LONG_DAYS = 400
# Shown in the picture and its table, or the same as the result.
ELSEWHERE = (
    "plan",
    "stages",
    "sets",
    "decision",
    "text",
    "seeds",
    "fill_mg",
    "shown",
    "years",
    "stop_at_g",
    "ki",
    "sigma_days",
    "lowest",
    "highest",
    "germination_percent",
    "real",
    "within",
    "rule",
)
POINTS = "points"


def figure(value: float, unit: str = "") -> str:
    """Give a figure with as many decimals as it bears."""
    size = abs(value)
    if unit in ("%", POINTS) and size >= 1 and not isinstance(value, int):
        return f"{value:.1f}".replace("-", "−")
    if unit == "seeds" or (unit == "plants" and (size >= 10 or value == int(value))):
        return f"{value:,.0f}".replace(",", " ")
    if isinstance(value, int) or size >= 1000:
        words = f"{value:.0f}"
    elif size >= 100:
        words = f"{value:.1f}".removesuffix(".0")
    else:
        words = f"{value:.2f}".rstrip("0").rstrip(".") if size >= 1 or size == 0 else f"{value:.3g}"
    return words.replace("-", "−") if value < 0 else words


def value_words(value: Any, unit: str = "") -> str:
    """Give one output in words."""
    if value is None:
        return "not known"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        if unit == "days" and value >= LONG_DAYS:
            return f"{value / DAYS_A_YEAR:.1f} years"
        if unit == POINTS and value > 0:
            return f"+{figure(value, unit)} points"
        return f"{figure(value, unit)} {unit}".strip()
    if isinstance(value, Mapping):
        parts = [
            f"{name.replace('_', ' ')} {value_words(each)}"
            for name, each in value.items()
            if each is not None
        ]
        return ", ".join(parts)
    if isinstance(value, str):
        return value
    if isinstance(value, Sequence) and len(value) == 2:
        return f"{figure(value[0], unit)} to {figure(value[1], unit)} {unit}".strip()
    return ", ".join(value_words(each) for each in value)


def result_words(wanted: Sum, outcome: Outcome) -> str:
    """Give the result to be read from a step away."""
    figures = outcome.outputs
    if wanted.name == "thousand-seed-weight":
        return f"{figures['shown']} g"
    if wanted.name == "tolerance":
        return {True: "They agree", False: "They disagree", None: "No telling"}[figures["within"]]
    if wanted.name == "compare":
        points = value_words(outcome.result, POINTS)
        return f"Real: {points}" if figures["real"] else f"May be chance: {points}"
    if wanted.name == "drying":
        return f"{figure(figures['water_g'])} g of water"
    if outcome.result is None:
        return "No answer"
    if isinstance(outcome.result, str):
        return outcome.result[:1].upper() + outcome.result[1:]
    return value_words(outcome.result, wanted.result.unit)


def output_lines(wanted: Sum, outcome: Outcome) -> tuple[tuple[str, str], ...]:
    """Give the named outputs in words, without those that the picture shows or the result repeats."""
    lines = []
    for one in wanted.outputs:
        if one.name in ELSEWHERE or one.name not in outcome.outputs:
            continue
        value = outcome.outputs[one.name]
        if one.name == "left_out_grams" or value is None:
            continue
        lines.append((_name(one), _output(one, value)))
    sets = outcome.outputs.get("sets", ())
    if len(sets) > 1:
        unit = wanted.result.unit
        lines += [(f"by {each['source']}", value_words(each["result"], unit)) for each in sets]
    return tuple(lines)


def _name(one: SumOutput) -> str:
    words = one.words.removesuffix(", 0 to 1")
    if words[:1].isdigit():
        # Only its scale is said: the figure needs its name too.
        words = f"{one.name.replace('_', ' ')} ({words})"
    return words[:1].upper() + words[1:]


def _output(one: SumOutput, value: Any) -> str:
    if one.words.endswith(", 0 to 1"):
        return f"{100 * value:.1f} %" if value >= 0.001 else "less than 0.1 %"
    return value_words(value, one.unit)


def copied(
    question: str,
    lot: str,
    inputs: Sequence[tuple[str, str]],
    result: str,
    outcome: Outcome,
    outputs: Sequence[tuple[str, str]],
    words: str,
) -> str:
    """Give question, inputs, result and source as text for a letter or a sheet."""  # fmt: skip
    lines = [question + (f" ({lot})" if lot else "")]
    lines += [f"{name}\t{value}" for name, value in inputs]
    lines += ["", f"Result\t{result}", words]
    lines += [f"{name}\t{value}" for name, value in outputs]
    lines += [*outcome.notes, f"Source: {outcome.source}"]
    return "\n".join(lines)
