"""Edits of the set-up: balls placed, moved, renamed, locked and taken off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from engine.balls import Ball
from engine.routine.edits.pieces import changed, first_free, without
from engine.routine.rules import ball_breaches, gap_breaches, hold, shot_breaches
from engine.routine.values import Claim, Gap, Routine


def place_ball(routine: Routine, ball: Ball) -> Routine:
    """With one more ball. Its id must be free, and there is but one cue ball."""
    return _held(replace(routine, balls=(*routine.balls, ball)))


def move_ball(routine: Routine, ball_id: str, x_mm: float, y_mm: float) -> Routine:
    """With the ball's centre at (x, y); see `engine.routine.settle` for a place it can have."""
    return move_balls(routine, {ball_id: (x_mm, y_mm)})


def move_balls(routine: Routine, places_mm: Mapping[str, tuple[float, float]]) -> Routine:
    """With several balls at new centres, by id."""
    for ball_id in places_mm:
        routine.ball(ball_id)
    return _held(
        replace(
            routine,
            balls=tuple(
                ball.at(places_mm[ball.id]) if ball.id in places_mm else ball
                for ball in routine.balls
            ),
        )
    )


def remove_ball(routine: Routine, ball_id: str) -> Routine:
    """Without the ball and what cannot be without it.

    Shots lose their object ball but stay; gaps bounded by the ball go, and claims about it or
    about those gaps.
    """
    routine.ball(ball_id)
    gone = {gap.id for gap in routine.gaps if ball_id in gap.balls}
    return replace(
        routine,
        balls=without(routine.balls, ball_id),
        shots=tuple(
            replace(shot, object_ball="") if shot.object_ball == ball_id else shot
            for shot in routine.shots
        ),
        gaps=tuple(gap for gap in routine.gaps if gap.id not in gone),
        claims=tuple(
            claim for claim in routine.claims if claim.ball != ball_id and claim.gap not in gone
        ),
    )


def rename_ball(routine: Routine, ball_id: str, new_id: str) -> Routine:
    """With the ball under another id, everywhere it is named."""
    routine.ball(ball_id)

    def named(name: str) -> str:
        return new_id if name == ball_id else name

    def gap_with(gap: Gap) -> Gap:
        return replace(gap, balls=tuple(map(named, gap.balls))) if ball_id in gap.balls else gap

    def claim_with(claim: Claim) -> Claim:
        return replace(claim, ball=new_id) if claim.ball == ball_id else claim

    return _held(
        replace(
            routine,
            balls=changed(routine.balls, ball_id, id=new_id),
            shots=tuple(
                replace(shot, object_ball=new_id) if shot.object_ball == ball_id else shot
                for shot in routine.shots
            ),
            gaps=tuple(map(gap_with, routine.gaps)),
            claims=tuple(map(claim_with, routine.claims)),
        )
    )


def relabel_ball(routine: Routine, ball_id: str, label: str) -> Routine:
    """With another text printed on the ball; "" for its usual letter."""
    routine.ball(ball_id)
    return replace(routine, balls=changed(routine.balls, ball_id, label=label))


def lock_ball(routine: Routine, ball_id: str, locked: bool = True) -> Routine:
    """With the ball locked where it is, or free to be dragged."""
    routine.ball(ball_id)
    return replace(routine, balls=changed(routine.balls, ball_id, locked=locked))


def free_ball_id(routine: Routine, kind: str) -> str:
    """An id no ball has yet: the kind's own name, numbered from the second (reds from one).

    >>> free_ball_id(Routine(), "black"), free_ball_id(Routine(), "red")
    ('black', 'red-1')
    """
    taken = {ball.id for ball in routine.balls}
    if kind not in ("red", "plain") and kind not in taken:
        return kind
    return first_free(kind, taken)


def _held(routine: Routine) -> Routine:
    hold(ball_breaches(routine))
    # Placing a second ball of an id, or a cue ball, can only break these.
    hold(breach for breach in shot_breaches(routine) if breach.refers == "balls")
    hold(breach for breach in gap_breaches(routine) if breach.refers == "balls")
    return routine
