"""The search for the smallest move that grants a wish.

Every movable ball is tried in sixteen directions over growing distances, on whole millimetres;
a coarse grid of strikes picks the moves worth a look, the full engine proves them, smallest
first. When no single move does it, the best single moves are tried two balls at a time.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from engine.advice.values import Advice, Move, Wish
from engine.answers.answering import answer_shot
from engine.answers.claims import judge_claims
from engine.answers.distinct import lane_pairs
from engine.errors import BaizewrightError, OutOfRangeError
from engine.lanes.strikes import strike_name
from engine.potting import pot
from engine.reach import Scene, outcomes, reach_map, scene_of
from engine.reach.verdicts import gaps_in_order, verdicts
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine
from engine.tables.bed import bed_of

DIRECTIONS = 16
DISTANCES_MM = (10.0, 20.0, 30.0, 45.0, 60.0, 80.0, 100.0, 130.0, 160.0, 200.0, 250.0, 300.0)
WANTED = 3
#: Strikes tried for each move in the coarse pass, and in the proof.
COARSE_TIPS, COARSE_PACES = 17, 5
FINE_TIPS, FINE_PACES = 81, 15
#: How far short of the asked room a coarse try may fall and still be proved.
SLACK_MM = 25.0
#: Proofs at most, and single moves paired with each other.
MOST_PROOFS, PAIRED = 60, 24
#: Moves of the same balls that end nearer than this are one advice.
ALIKE_MM = 60.0

Progress = Callable[[float], bool]


@dataclass(frozen=True, slots=True)
class _Try:
    """Some balls moved, and the best room the coarse strikes left."""

    places: np.ndarray
    moves: tuple[Move, ...]
    room_mm: float

    @property
    def distance_mm(self) -> float:
        return sum(move.distance_mm for move in self.moves)


class _CancelledError(Exception):
    """The caller asked to stop."""


def advise(routine: Routine, wish: Wish, progress: Progress | None = None) -> tuple[Advice, ...]:
    """Up to three smallest changes that grant a wish, smallest first; empty when none was found.

    A wish already granted gives one advice without moves. `progress` is told the share done
    (0 to 1) and may return False to stop: what was proved by then is returned. Raises
    `UnknownNameError` for names that are not there and `OutOfRangeError` when nothing may move.
    """
    tell = progress or (lambda _share: True)
    scene = scene_of(routine, wish.shot, gaps_in_order(routine, wish.gap))
    already = _proved(routine, wish, ())
    if already is not None:
        return (already,)
    movable = _movable(routine, wish)
    found: list[Advice] = []
    try:
        singles = _singles(routine, scene, wish, movable, tell)
        found = _prove(routine, wish, singles, tell, 0.5)
        if not found:
            pairs = _pairs(routine, scene, wish, singles, tell)
            found = _prove(routine, wish, pairs, tell, 0.8)
    except _CancelledError:
        pass
    return tuple(found)


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


def _singles(
    routine: Routine, scene: Scene, wish: Wish, movable: list[int], tell: Progress
) -> list[_Try]:
    """Every possible single move with the room the coarse strikes leave, best first."""
    start, found = scene.places_mm, []
    for done, k in enumerate(movable):
        if not tell(0.5 * done / len(movable)):
            raise _CancelledError
        spots = _spots(routine, start, k)
        if not len(spots):
            continue
        places = np.repeat(start[None], len(spots), axis=0)
        places[:, k] = spots
        room = _coarse_rooms(scene, wish, places)
        for row, best in zip(places, room, strict=True):
            if not math.isnan(best):
                found.append(_Try(row, (_move(routine, k, start, row),), float(best)))
    return found


def _spots(routine: Routine, start: np.ndarray, k: int) -> np.ndarray:
    """Places on whole millimetres where ball k could lie, (m, 2)."""
    angles = np.arange(DIRECTIONS) * 2.0 * math.pi / DIRECTIONS
    ways = np.column_stack([np.cos(angles), np.sin(angles)])
    steps = np.asarray(DISTANCES_MM)[:, None, None] * ways[None]
    spots = np.unique(np.round(start[k] + steps.reshape(-1, 2)), axis=0)
    return spots[_free(routine, start, k, spots)]


def _free(routine: Routine, start: np.ndarray, k: int, spots: np.ndarray) -> np.ndarray:
    radius = conditions_of(routine).ball_radius_mm
    on_bed = np.asarray(bed_of(table_of(routine), radius).allows(spots, slack_mm=0.0))
    others = np.delete(start, k, axis=0)
    if not len(others):
        return on_bed
    away = np.linalg.norm(spots[:, None] - others[None], axis=2)
    return on_bed & (away >= 2.0 * radius).all(axis=1)


def _move(routine: Routine, k: int, start: np.ndarray, row: np.ndarray) -> Move:
    a, b = start[k], row[k]
    return Move(
        routine.balls[k].id,
        (float(a[0]), float(a[1])),
        (float(b[0]), float(b[1])),
        float(np.linalg.norm(b - a)),
    )


def _coarse_rooms(scene: Scene, wish: Wish, places: np.ndarray) -> np.ndarray:
    """The widest room any coarse strike leaves for each set of places, (m,)."""
    grid = np.meshgrid(
        np.linspace(-scene.conditions.tip_limit, scene.conditions.tip_limit, COARSE_TIPS),
        np.linspace(wish.pace_min, wish.pace_max, COARSE_PACES),
    )
    tips, paces = grid[0].ravel(), grid[1].ravel()
    speeds = np.asarray(scene.conditions.speed_mm_s(paces))
    found = outcomes(
        scene,
        np.tile(tips, len(places)),
        np.tile(speeds, len(places)),
        places_mm=np.repeat(places, len(tips), axis=0),
    )
    room = np.where(found.threads, found.margin_mm, np.minimum(found.margin_mm, -1e-9))
    room = np.where(np.isnan(room), -np.inf, room).reshape(len(places), len(tips)).max(axis=1)
    return np.where(np.isinf(room), np.nan, room)


def _pairs(
    routine: Routine, scene: Scene, wish: Wish, singles: list[_Try], tell: Progress
) -> list[_Try]:
    """Two different balls moved together, made of the singles that come nearest."""
    best = sorted(singles, key=lambda one: -one.room_mm)[:PAIRED]
    start = scene.places_mm
    made: list[tuple[np.ndarray, tuple[Move, ...]]] = []
    for i, one in enumerate(best):
        for two in best[i + 1 :]:
            if one.moves[0].ball == two.moves[0].ball:
                continue
            places = np.where(one.places != start, one.places, two.places)
            if _apart(places, conditions_of(routine).ball_radius_mm):
                made.append((places, (*one.moves, *two.moves)))
    if not made or not tell(0.7):
        return []
    rooms = _coarse_rooms(scene, wish, np.array([places for places, _ in made]))
    return [
        _Try(places, moves, float(room))
        for (places, moves), room in zip(made, rooms, strict=True)
        if not math.isnan(room)
    ]


def _apart(places: np.ndarray, radius: float) -> bool:
    away = np.linalg.norm(places[:, None] - places[None], axis=2)
    away[np.diag_indices(len(places))] = np.inf
    return bool(away.min() >= 2.0 * radius)


def _prove(
    routine: Routine, wish: Wish, tries: list[_Try], tell: Progress, share: float
) -> list[Advice]:
    """The smallest tries that the full engine proves, each a change of its own."""
    hopeful = [one for one in tries if one.room_mm >= wish.margin_mm - SLACK_MM]
    found: list[Advice] = []
    for done, one in enumerate(_smallest_first(hopeful)):
        if len(found) >= WANTED or done >= MOST_PROOFS:
            break
        if not tell(min(1.0, share + 0.2 * done / MOST_PROOFS)):
            break
        if any(_alike(one.moves, other.moves) for other in found):
            continue
        advice = _proved(routine, wish, one.moves)
        if advice is not None:
            found.append(advice)
    return found


def _alike(one: tuple[Move, ...], two: tuple[Move, ...]) -> bool:
    """Whether two changes move the same balls to much the same places."""
    there = {move.ball: move.to_mm for move in two}
    if {move.ball for move in one} != set(there):
        return False
    return all(math.dist(move.to_mm, there[move.ball]) < ALIKE_MM for move in one)


def _smallest_first(tries: list[_Try]) -> Iterator[_Try]:
    return iter(sorted(tries, key=lambda one: (one.distance_mm, -one.room_mm)))


def _proved(routine: Routine, wish: Wish, moves: tuple[Move, ...]) -> Advice | None:
    """The advice of some moves when the full engine grants the wish with them, else None."""
    moved = _moved(routine, moves)
    table, conditions = table_of(moved), conditions_of(moved)
    shot = moved.shot(wish.shot)
    try:
        if shot.aim_deg is None and not pot(table, conditions, moved.balls, shot).on:
            return None
        strike = _best_strike(moved, wish)
    except BaizewrightError:
        return None
    if strike is None:
        return None
    tip, pace, margin = strike
    apart = None
    if wish.apart_mm > 0.0:
        pairs = lane_pairs(answer_shot(moved, wish.shot), wish.apart_mm)
        if not all(pair.apart for pair in pairs):
            return None
        apart = min((pair.distance_mm for pair in pairs), default=None)
    name = strike_name(tip, conditions.tip_limit)
    lost = _claims_lost(routine, moved, wish) if moves else ()
    return Advice(moves, tip, pace, name, margin, apart, lost, _words(moves, name, pace, margin))


def _best_strike(routine: Routine, wish: Wish) -> tuple[float, float, float] | None:
    scene = scene_of(routine, wish.shot, gaps_in_order(routine, wish.gap))
    grid = np.meshgrid(
        np.linspace(scene.lowest_tip, scene.conditions.tip_limit, FINE_TIPS),
        np.linspace(wish.pace_min, wish.pace_max, FINE_PACES),
    )
    tips, paces = grid[0].ravel(), grid[1].ravel()
    found = outcomes(scene, tips, np.asarray(scene.conditions.speed_mm_s(paces)))
    room = np.where(found.threads, found.margin_mm, -np.inf)
    if not room.max() >= max(wish.margin_mm, 0.0):
        return None
    # strikes too exact for anyone to play on purpose grant no wish
    inside = np.zeros(len(room), dtype=bool)
    for window in reach_map(scene).windows:
        inside |= (
            (tips >= window.tip_min)
            & (tips <= window.tip_max)
            & (paces >= window.pace_min)
            & (paces <= window.pace_max)
        )
    room[~inside] = -np.inf
    best = int(np.argmax(room))
    if not room[best] >= max(wish.margin_mm, 0.0):
        return None
    return float(tips[best]), float(paces[best]), float(room[best])


def _moved(routine: Routine, moves: tuple[Move, ...]) -> Routine:
    to = {move.ball: move.to_mm for move in moves}
    balls = tuple(
        replace(ball, x_mm=to[ball.id][0], y_mm=to[ball.id][1]) if ball.id in to else ball
        for ball in routine.balls
    )
    return replace(routine, balls=balls)


def _claims_lost(routine: Routine, moved: Routine, wish: Wish) -> tuple[int, ...]:
    """Claims that held before the moves and do not after, apart from those about the wish's gap."""
    before, after = _holding(routine), _holding(moved)
    return tuple(
        index
        for index, claim in enumerate(routine.claims)
        if index in before and index not in after and claim.gap != wish.gap
    )


def _holding(routine: Routine) -> set[int]:
    shots = tuple(answer_shot(routine, shot.id) for shot in routine.shots)
    asked = {(claim.shot, claim.gap) for claim in routine.claims if claim.kind.startswith("gap-")}
    found = tuple(
        one
        for shot_id, gap_id in sorted(asked)
        for one in verdicts(routine, shot_id, (gap_id,), forgiving=False)
    )
    return {claim.index for claim in judge_claims(routine, shots, found) if claim.holds}


def _words(moves: tuple[Move, ...], name: str, pace: float, margin: float) -> str:
    then = f"{name} at pace {pace:.1f} then threads it with {margin:.0f} mm of room"
    if not moves:
        return f"No move is needed: {then.replace('then ', '')}."
    told = " and ".join(_move_words(move) for move in moves)
    return f"Move {told}: {then}."


def _move_words(move: Move) -> str:
    dx, dy = (b - a for a, b in zip(move.from_mm, move.to_mm, strict=True))
    parts = []
    if round(dx):
        parts.append(f"{abs(dx):.0f} mm {'right' if dx > 0 else 'left'}")
    if round(dy):
        parts.append(f"{abs(dy):.0f} mm {'up' if dy > 0 else 'down'} the table")
    return f"ball {move.ball} {' and '.join(parts)}"
