"""Advice as JSON (the `advice` of schema `reach.schema.json`): units in every key."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from engine.advice.values import Advice, Move, Wish
from engine.answers.plain import Words, number, pair


def advice_to_json(wish: Wish, found: Sequence[Advice], words: Words) -> dict[str, Any]:
    """A wish and the changes that grant it, the smallest first."""
    return {
        "wish": {
            "shot": wish.shot,
            "gap": wish.gap,
            "pace_min": number(wish.pace_min),
            "pace_max": number(wish.pace_max),
            "margin_mm": number(wish.margin_mm),
            "apart_mm": number(wish.apart_mm),
            "movable": list(wish.movable),
        },
        "proposals": [_proposal(one, words) for one in found],
    }


def _proposal(one: Advice, words: Words) -> dict[str, Any]:
    return {
        "sentence": words(one),
        "distance_mm": number(one.distance_mm),
        "moves": [_move(move) for move in one.moves],
        "tip_height_ratio": number(one.tip_height),
        "pace": number(one.pace),
        "strike_name": one.strike_name,
        "margin_mm": number(one.margin_mm),
        "lanes_apart_mm": number(one.apart_mm),
        "claims_lost": list(one.claims_lost),
    }


def _move(move: Move) -> dict[str, Any]:
    return {
        "ball": move.ball,
        "from_mm": pair(move.from_mm),
        "to_mm": pair(move.to_mm),
        "distance_mm": number(move.distance_mm),
    }
