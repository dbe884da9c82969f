"""Tables, conditions and paces in words: names of values, confidence, ranges."""

from __future__ import annotations

import math

from designer.texts import mark, tr
from engine.conditions import CONDITION_FACTS, PresetValue, preset
from engine.tables import Table
from engine.tables.measured import MEASURABLE

CONFIDENCE: dict[str, str] = {
    "A": mark("rule text read, or two copies agree"),
    "B": mark("one copy of the rule read"),
    "D": mark("worked out from rule values"),
    "Mem": mark("from memory, not confirmed"),
    "M": mark("measured or set by the coach"),
}


def value_name(name: str) -> str:
    """A table's value in words.

    >>> value_name("width_mm"), value_name("pink_spot_y_mm")
    ('Width between the cushion faces', 'Pink spot, along the table')
    >>> value_name("corner_jaw_radius_mm")
    'Corner jaw radius'
    """
    if name in MEASURABLE:
        words = tr(MEASURABLE[name][0])
    elif name.endswith("_spot_x_mm"):
        spot = name.removesuffix("_spot_x_mm").replace("_", " ")
        words = tr("{spot} spot, across the table", spot=tr(spot))
    elif name.endswith("_spot_y_mm"):
        spot = name.removesuffix("_spot_y_mm").replace("_", " ")
        words = tr("{spot} spot, along the table", spot=tr(spot))
    else:
        words = name.removesuffix("_mm").removesuffix("_kg").removesuffix("_deg")
        words = tr(words.replace("_", " "))
    return words[:1].upper() + words[1:]


def value_unit(name: str) -> str:
    """Unit of a table's value, from its name."""
    return next((unit for unit in ("mm", "kg", "deg") if name.endswith(f"_{unit}")), "")


def confidence_words(sign: str) -> str:
    """What a sign of confidence means."""
    return tr(CONFIDENCE.get(sign, sign))


def figure(value: float) -> str:
    """A figure as it is typed and read.

    >>> figure(0.0127), figure(26.25), figure(1778.0)
    ('0.0127', '26.25', '1778')
    """
    return f"{value:.6g}"


def condition_fact(table: Table, name: str) -> PresetValue:
    """Likely range, source and confidence of one condition on that table.

    What the table's usual cloth says goes before the general facts; a range of nan to nan means
    that none is known.
    """
    if table.preset:
        known = preset(table.preset).values.get(name)
        if known is not None:
            return known
    fact = CONDITION_FACTS[name]
    low, high = fact.likely or (math.nan, math.nan)
    return PresetValue(math.nan, low, high, fact.source, fact.confidence)


def range_words(low: float, high: float) -> str:
    """A likely range; "" where none is known."""
    return "" if math.isnan(low) else tr("{low} to {high}", low=figure(low), high=figure(high))
