"""Advice as JSON (the `advice` of schema `reach.schema.json`): units in every key."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from engine.advice.values import Advice, Wish
from engine.answers.plain import Words, figures, number


def advice_to_json(wish: Wish, found: Sequence[Advice], words: Words) -> dict[str, Any]:
    """A wish and the changes that grant it, the smallest first."""
    return {"wish": figures(wish), "proposals": [_proposal(one, words) for one in found]}


def _proposal(one: Advice, words: Words) -> dict[str, Any]:
    keys = {"tip_height": "tip_height_ratio", "apart_mm": "lanes_apart_mm"}
    return {
        **figures(one, **keys),
        "sentence": words(one),
        "distance_mm": number(one.distance_mm),
    }
