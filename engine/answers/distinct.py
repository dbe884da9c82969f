"""Distinctness: how far apart the lanes lie where the player is asked to point.

The player points at the rim: where the cue ball first meets a cushion, or where it comes to rest
or falls when it meets none; at the ball it touches when it touches one before.
"""

from __future__ import annotations

import math
from itertools import combinations

from engine.results import Lane, LanePair, Point, ShotAnswer

#: Nearer than two ball widths, one pointing finger could mean either (our own threshold).
APART_MM = 105.0


def pointing_place(lane: Lane) -> Point | None:
    """Where a player points to name a lane, mm; None for a lane without a way."""
    for room in lane.clearances:
        if room.ball == lane.first_touched and room.clearance_mm < 0.0 == room.after_cushions:
            return room.at_mm
    if lane.first_cushion_mm is not None:
        return lane.first_cushion_mm
    if len(lane.path_mm):
        x, y = lane.path_mm[-1]
        return (float(x), float(y))
    return None


def lane_pairs(answer: ShotAnswer, apart_mm: float = APART_MM) -> tuple[LanePair, ...]:
    """Every pair of lanes of a shot with the distance between their pointing places."""
    places = [(lane.label, pointing_place(lane)) for lane in answer.lanes]
    return tuple(
        LanePair(one, two, math.dist(a, b), math.dist(a, b) >= apart_mm)
        for (one, a), (two, b) in combinations(places, 2)
        if a is not None and b is not None
    )
