"""The search for the smallest moves that grant a wish.

Every movable ball is tried in sixteen directions over growing distances, on whole millimetres;
what comes near is closed in on, and the full engine proves what looks good, smallest first. A
proved move is then made as small as it can be. When no single move does it, the single moves that
come nearest are tried two balls at a time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from engine.advice.proving import proved, with_claims_lost
from engine.advice.tries import (
    DISTANCES_MM,
    CancelledError,
    Progress,
    Try,
    closed_in,
    move,
    pairs,
    possible,
    singles,
    tried,
)
from engine.advice.values import Advice, Move, Wish
from engine.errors import OutOfRangeError
from engine.playing import LaidOutShot, gaps_in_order, laid_out_of
from engine.routine.values import Routine

WANTED = 3
#: How far short of the asked room the coarse strikes may leave a try that is closed in on.
SLACK_MM = 40.0
#: Proofs at most.
MOST_PROOFS = 60
#: Moves of the same balls that end nearer than this are one advice.
ALIKE_MM = 60.0
#: A proved move is made smaller in so many steps.
SMALLER = 8


def advise(routine: Routine, wish: Wish, progress: Progress | None = None) -> tuple[Advice, ...]:
    """Up to three smallest changes that grant a wish, smallest first; empty when none was found.

    A wish already granted gives one advice without moves. `progress` is told the share done
    (0 to 1) and may return False to stop: what was proved by then is returned. Raises
    `UnknownNameError` for names that are not there and `OutOfRangeError` when nothing may move.
    """
    tell = progress or (lambda _share: True)
    scene = laid_out_of(routine, wish.shot, gaps_in_order(routine, wish.gap))
    already = proved(routine, wish, ())
    if already is not None:
        return (already,)
    movable = _movable(routine, wish)
    found: list[Advice] = []
    try:
        ones = singles(routine, scene, wish, movable, lambda share: tell(0.4 * share))
        _prove(routine, scene, wish, ones, found, lambda share: tell(0.4 + 0.3 * share))
        if not found:
            twos = pairs(routine, scene, wish, ones)
            _prove(routine, scene, wish, twos, found, lambda share: tell(0.7 + 0.2 * share))
    except CancelledError:
        pass
    else:
        if tell(0.9):
            found = with_claims_lost(routine, wish, found)
    return tuple(sorted(found, key=lambda one: one.distance_mm))


def _movable(routine: Routine, wish: Wish) -> list[int]:
    for name in wish.movable:
        routine.ball(name)
    free = [
        k
        for k, ball in enumerate(routine.balls)
        if not ball.locked and (not wish.movable or ball.id in wish.movable)
    ]
    if not free:
        raise OutOfRangeError("balls to move", "none", "at least one that is not locked")
    return free


def _prove(
    routine: Routine, scene: LaidOutShot, wish: Wish, tries: Sequence[Try], found: list[Advice],
    tell: Progress,
) -> None:  # fmt: skip
    """Add to `found` the smallest tries that the full engine proves, each a change of its own."""
    hopeful = closed_in(scene, wish, [one for one in tries if _near(one, wish, SLACK_MM)])
    good = [one for one in hopeful if _near(one, wish, 0.0)]
    good.sort(key=lambda one: (one.distance_mm, -one.room_mm))
    proofs = 0
    for one in good:
        if len(found) >= WANTED or proofs >= MOST_PROOFS:
            return
        if not tell(max(proofs / MOST_PROOFS, len(found) / WANTED)):
            raise CancelledError
        if any(_alike(one.moves, other.moves) for other in found):
            continue
        proofs += 1
        advice = proved(routine, wish, one.moves, (one.tip_height, one.pace))
        if advice is not None:
            found.append(_smaller(routine, scene, wish, one) or advice)


def _near(one: Try, wish: Wish, slack_mm: float) -> bool:
    return one.room_mm >= max(wish.margin_mm, 0.0) - slack_mm


def _alike(one: tuple[Move, ...], two: tuple[Move, ...]) -> bool:
    """Whether two changes move the same balls to much the same places."""
    there = {move.ball: move.to_mm for move in two}
    if {move.ball for move in one} != set(there):
        return False
    return all(math.dist(move.to_mm, there[move.ball]) < ALIKE_MM for move in one)


def _smaller(routine: Routine, scene: LaidOutShot, wish: Wish, one: Try) -> Advice | None:
    """The proved advice of the same move made smaller, if one of some steps still grants the wish.

    Only single moves, and no smaller than the distance that was tried before.
    """
    if len(one.moves) != 1:
        return None
    made = one.moves[0]
    k = next(i for i, ball in enumerate(scene.balls) if ball.id == made.ball)
    start, end = np.array(made.from_mm), np.array(made.to_mm)
    before = max((step for step in DISTANCES_MM if step < made.distance_mm - 1.0), default=0.0)
    lengths = np.linspace(before, made.distance_mm, SMALLER + 1)[1:-1]
    spots = np.unique(
        np.round(start + (end - start) * (lengths / made.distance_mm)[:, None]), axis=0
    )
    spots = spots[possible(routine, scene.places_mm, k, spots)]
    places = np.repeat(scene.places_mm[None], len(spots), axis=0)
    places[:, k] = spots
    tries = tried(scene, wish, [(row, (move(scene, k, row),)) for row in places])
    good = [try_ for try_ in closed_in(scene, wish, tries) if _near(try_, wish, 0.0)]
    for nearer in sorted(good, key=lambda try_: try_.distance_mm):
        advice = proved(routine, wish, nearer.moves, (nearer.tip_height, nearer.pace))
        if advice is not None:
            return advice
    return None
