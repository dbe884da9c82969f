"""Tables, conditions and paces in words: names of values, confidence, ranges."""

from __future__ import annotations

import math

from designer.texts import mark, tr
from engine.conditions import CONDITION_FACTS, Conditions, PresetValue, preset, usual_conditions
from engine.conditions.said import word_for
from engine.tables import Table

CONFIDENCE: dict[str, str] = {
    "A": mark("rule text read, or two copies agree"),
    "B": mark("one copy of the rule read"),
    "D": mark("worked out from rule values"),
    "Mem": mark("from memory, not confirmed"),
    "M": mark("measured or set by the coach"),
}
#: What a coach can measure, by the names of a table's data.
_MEASURABLE = {
    "width_mm": mark("width between the cushion faces"),
    "length_mm": mark("length between the cushion faces"),
    "baulk_y_mm": mark("baulk line from the bottom cushion face"),
    "d_radius_mm": mark("radius of the D"),
    "black_from_top_mm": mark("black spot from the top cushion face"),
    "cushion_nose_mm": mark("height of the cushion’s nose above the cloth"),
    "corner_opening_mm": mark("opening of the corner pockets"),
    "middle_opening_mm": mark("opening of the middle pockets"),
    "ball_diameter_mm": mark("diameter of the balls"),
    "ball_mass_kg": mark("mass of the balls"),
    "cue_ball_diameter_mm": mark("diameter of the cue ball"),
    "cue_ball_mass_kg": mark("mass of the cue ball"),
}

#: What of a table a coach has a word for, and the words.
WHAT_WORDS = {"cloth": mark("cloth"), "cushions": mark("cushions"), "balls": mark("balls")}
CONDITION_WORDS = {
    "usual": mark("usual"),
    "fast": mark("fast"),
    "slow": mark("slow"),
    "old club cloth": mark("old club cloth"),
    "lively": mark("lively"),
    "dead": mark("dead"),
    "new": mark("new"),
    "worn": mark("worn"),
}


def value_name(name: str) -> str:
    """A table's value in words.

    >>> value_name("width_mm"), value_name("pink_spot_y_mm")
    ('Width between the cushion faces', 'Pink spot, along the table')
    >>> value_name("corner_jaw_radius_mm"), value_name("top-left_opening_mm")
    ('Corner jaw radius', 'Opening of the top left pocket')
    """
    if name in _MEASURABLE:
        words = tr(_MEASURABLE[name])
    elif name.endswith("_spot_x_mm"):
        spot = name.removesuffix("_spot_x_mm").replace("_", " ")
        words = tr("{spot} spot, across the table", spot=tr(spot))
    elif name.endswith("_spot_y_mm"):
        spot = name.removesuffix("_spot_y_mm").replace("_", " ")
        words = tr("{spot} spot, along the table", spot=tr(spot))
    elif name.endswith("_opening_mm"):
        pocket = name.removesuffix("_opening_mm").replace("-", " ")
        words = tr("opening of the {pocket}", pocket=tr(f"{pocket} pocket"))
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


def cloth_word(table: Table, conditions: Conditions) -> str:
    """The coach's word for the cloth; that it has figures of its own where there is no word.

    >>> from engine.tables import load_table
    >>> cloth_word(load_table("snooker-12ft"), usual_conditions(load_table("snooker-12ft")))
    'usual cloth'
    """
    word = word_for(usual_conditions(table), conditions, "cloth")
    if not word:
        return tr("cloth with figures of its own")
    if word == "old club cloth":
        return tr("old club cloth")
    return tr("{word} cloth", word=tr(CONDITION_WORDS[word]))
