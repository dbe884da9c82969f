"""How carefully to set up and to ask, as JSON: set-up tolerance and how far lanes lie apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from engine.answers.plain import number
from engine.results import BallTolerance, LanePair


def tolerance_json(found: Sequence[BallTolerance]) -> list[dict[str, Any]]:
    """How far each ball may be misplaced, and which claim changes first."""
    return [
        {
            "ball": one.ball,
            "tolerance_mm": number(one.tolerance_mm),
            "at_least": one.at_least,
            "claim": one.claim,
            "direction_deg": number(one.direction_deg),
        }
        for one in found
    ]


def pairs_json(pairs: Sequence[LanePair]) -> list[dict[str, Any]]:
    """How far apart lanes lie where the player points."""
    return [
        {
            "one": pair.one,
            "two": pair.two,
            "distance_mm": number(pair.distance_mm),
            "apart": pair.apart,
        }
        for pair in pairs
    ]
