"""Edits of a shot's lanes."""

from __future__ import annotations

from dataclasses import replace
from string import ascii_uppercase

from engine.routine.edits.pieces import changed, inserted, moved
from engine.routine.rules import hold, shot_breaches
from engine.routine.values import Claim, LaneAsk, Routine, Shot


def add_lane(routine: Routine, shot_id: str, lane: LaneAsk, at: int | None = None) -> Routine:
    """With one more lane in the shot, at place `at` (0 is first) or at the end."""
    shot = routine.shot(shot_id)
    return _with_lanes(routine, shot_id, inserted(shot.lanes, lane, at))


def remove_lane(routine: Routine, shot_id: str, label: str) -> Routine:
    """Without the lane and the claims about it."""
    shot = routine.shot(shot_id)
    shot.lane(label)
    claims = tuple(c for c in routine.claims if c.shot != shot_id or label not in (c.lane, c.other))
    kept = tuple(lane for lane in shot.lanes if lane.label != label)
    return _with_lanes(replace(routine, claims=claims), shot_id, kept)


def set_lane(routine: Routine, shot_id: str, label: str, lane: LaneAsk) -> Routine:
    """With another lane in its place; claims follow a new letter."""
    shot = routine.shot(shot_id)
    shot.lane(label)

    def claim_with(claim: Claim) -> Claim:
        if claim.shot != shot_id or lane.label == label or label not in (claim.lane, claim.other):
            return claim
        return replace(
            claim,
            lane=lane.label if claim.lane == label else claim.lane,
            other=lane.label if claim.other == label else claim.other,
        )

    lanes = tuple(lane if old.label == label else old for old in shot.lanes)
    claims = tuple(map(claim_with, routine.claims))
    return _with_lanes(replace(routine, claims=claims), shot_id, lanes)


def move_lane(routine: Routine, shot_id: str, label: str, to_index: int) -> Routine:
    """With the lane at another place in the shot's list (0 is first)."""
    shot = routine.shot(shot_id)
    start = shot.lanes.index(shot.lane(label))
    return _with_lanes(routine, shot_id, moved(shot.lanes, start, to_index))


def free_lane_label(shot: Shot) -> str:
    """The first letter no lane of the shot has; after Z, two letters.

    >>> free_lane_label(Shot("s", lanes=(LaneAsk("A"), LaneAsk("C"))))
    'B'
    """
    taken = {lane.label for lane in shot.lanes}
    pairs = (first + second for first in ascii_uppercase for second in ascii_uppercase)
    return next(label for label in (*ascii_uppercase, *pairs) if label not in taken)


def _with_lanes(routine: Routine, shot_id: str, lanes: tuple[LaneAsk, ...]) -> Routine:
    made = replace(routine, shots=changed(routine.shots, shot_id, lanes=lanes))
    hold(shot_breaches(made))
    return made
