"""The order in which the strokes of a shot are numbered where a player is to choose among them."""

from __future__ import annotations

import random

from engine.routine.values import STUN, LaneAsk, Routine, Shot


def shuffled_lanes(routine: Routine, shot: Shot) -> tuple[str, ...]:
    """Letters of a shot's lanes in the order of their strokes' numbers, in lesson and on paper.

    The strokes are sorted by how they are struck, then shuffled by a seed that belongs to the
    routine and the shot: neither a letter nor its place in the coach's list tells which is which.
    """
    order = [lane.label for lane in sorted(shot.lanes, key=_struck)]
    random.Random(f"{routine.id or routine.title!r}/{shot.id!r}").shuffle(order)
    return tuple(order)


def _struck(lane: LaneAsk) -> tuple[float | str, ...]:
    stun = lane.tip_height == STUN
    height = 0.0 if stun else float(lane.tip_height)
    fast = lane.speed_m_s or 0.0
    # Strokes that are all the same may tell their letters: there is nothing to choose.
    return (stun, height, lane.pace, fast, lane.side, lane.elevation_deg, lane.label)
