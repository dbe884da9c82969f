"""Edits of shots: added, removed, reordered, and what they aim at."""

from __future__ import annotations

from dataclasses import replace

from engine.routine.edits.pieces import changed, first_free, inserted, moved, swapped, without
from engine.routine.rules import claim_breaches, hold, shot_breaches
from engine.routine.values import Claim, Routine, Shot


def add_shot(routine: Routine, shot: Shot, at: int | None = None) -> Routine:
    """With one more shot, at place `at` (0 is first) or at the end."""
    return _held(replace(routine, shots=inserted(routine.shots, shot, at)))


def remove_shot(routine: Routine, shot_id: str) -> Routine:
    """Without the shot, its lanes and the claims about it."""
    routine.shot(shot_id)
    return replace(
        routine,
        shots=without(routine.shots, shot_id),
        claims=tuple(claim for claim in routine.claims if claim.shot != shot_id),
    )


def set_shot(routine: Routine, shot_id: str, shot: Shot) -> Routine:
    """With another shot in its place; claims follow a new id, those on lanes gone go too."""
    old = routine.shot(shot_id)
    labels = {lane.label for lane in shot.lanes}
    gone = {lane.label for lane in old.lanes} - labels

    def claim_with(claim: Claim) -> Claim:
        follows = claim.shot == shot_id and claim.shot != shot.id
        return replace(claim, shot=shot.id) if follows else claim

    claims = tuple(
        claim_with(claim)
        for claim in routine.claims
        if not (claim.shot == shot_id and {claim.lane, claim.other} & set(gone))
    )
    return _held(replace(routine, shots=swapped(routine.shots, shot_id, shot), claims=claims))


def move_shot(routine: Routine, shot_id: str, to_index: int) -> Routine:
    """With the shot at another place in the order (0 is first)."""
    start = routine.shots.index(routine.shot(shot_id))
    return replace(routine, shots=moved(routine.shots, start, to_index))


def set_object_ball(routine: Routine, shot_id: str, ball_id: str) -> Routine:
    """With another object ball; "" for none chosen."""
    routine.shot(shot_id)
    if ball_id:
        routine.ball(ball_id)
    return _held(replace(routine, shots=changed(routine.shots, shot_id, object_ball=ball_id)))


def set_pocket(routine: Routine, shot_id: str, pocket_id: str) -> Routine:
    """With another pocket; "" for none chosen."""
    routine.shot(shot_id)
    return _held(replace(routine, shots=changed(routine.shots, shot_id, pocket=pocket_id)))


def free_shot_id(routine: Routine) -> str:
    """An id no shot has yet.

    >>> free_shot_id(Routine(shots=(Shot("shot-1"),)))
    'shot-2'
    """
    return first_free("shot", {shot.id for shot in routine.shots})


def _held(routine: Routine) -> Routine:
    hold(shot_breaches(routine))
    hold(breach for breach in claim_breaches(routine) if breach.refers == "shots")
    return routine
