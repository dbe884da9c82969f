"""A table in a coach's words: cloth, cushions and balls, each a set of figures.

A word says how the figures differ from those the table starts from, as ratios: a fast cloth on a
napped table is not that of a worsted one. The ratios of the cloth are the ends of the published
ranges for a napped cloth (Mathavan, Jackson & Parkin 2009, from memory) over their middle; which
end belongs to which word is our own guess, as are all ratios of cushions and balls, and what an old
club cloth takes from a rolling ball (a little beyond the published range).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from engine.conditions.model import CONDITION_FACTS, Conditions
from engine.errors import UnknownNameError

#: Of what, in which words, the figures as ratios of the table's own; the usual comes first.
SAID: Mapping[str, Mapping[str, Mapping[str, float]]] = MappingProxyType(
    {
        "cloth": {
            "usual": {},
            "fast": {"sliding_friction": 0.18 / 0.21, "rolling_resistance": 0.010 / 0.0127},
            "slow": {"sliding_friction": 0.23 / 0.21, "rolling_resistance": 0.0145 / 0.0127},
            "old club cloth": {
                "sliding_friction": 0.25 / 0.21,
                "rolling_resistance": 0.016 / 0.0127,
            },
        },
        "cushions": {
            "usual": {},
            "lively": {"cushion_restitution": 1.015},
            "dead": {"cushion_restitution": 0.87, "cushion_friction": 0.20 / 0.14},
        },
        "balls": {
            "usual": {},
            "new": {"ball_restitution": 1.01, "ball_friction_extra": 0.75},
            "worn": {"ball_restitution": 0.98, "ball_friction_extra": 1.4},
        },
    }
)


#: What a word takes back to the table's own besides its figures: it speaks of balls at any speed.
TAKEN_BACK: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {"cushions": ("cushion_restitution_slow", "cushion_restitution_fast")}
)


def names_of(what: str) -> frozenset[str]:
    """The conditions that words for the cloth, the cushions or the balls decide."""
    decided = (name for ratios in SAID[what].values() for name in ratios)
    return frozenset((*decided, *TAKEN_BACK.get(what, ())))


def figures_said(usual: Conditions, what: str, word: str) -> dict[str, float]:
    """The conditions that a word stands for, where they differ from those the table starts from.

    `UnknownNameError` for a word there is none of.

    >>> figures_said(Conditions(), "cloth", "fast")
    {'sliding_friction': 0.18, 'rolling_resistance': 0.01}
    """
    if word not in SAID.get(what, {}):
        raise UnknownNameError(f"word for {what}", word, tuple(SAID.get(what, {})))
    found = {}
    for name, ratio in SAID[what][word].items():
        low, high = CONDITION_FACTS[name].allowed
        found[name] = round(min(max(getattr(usual, name) * ratio, low), high), 6)
    return found


def word_for(usual: Conditions, present: Conditions, what: str) -> str:
    """The word whose figures are those at present; "" where none is.

    >>> word_for(Conditions(), Conditions(ball_restitution=0.7), "balls")
    ''
    """
    for word in SAID[what]:
        wanted = figures_said(usual, what, word)
        if all(
            _same(getattr(present, name), wanted.get(name, getattr(usual, name)))
            for name in names_of(what)
        ):
            return word
    return ""


def _same(one: float | None, other: float | None) -> bool:
    return one == other if one is None or other is None else math.isclose(one, other)
