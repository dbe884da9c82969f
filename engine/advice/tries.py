"""Moves worth a look: places balls could lie in, and the room some strike leaves from there.

A coarse grid of strikes is tried from every place; where it comes near what is wished, the best
strike is closed in on. Nothing is proved here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.advice.values import Move, Wish
from engine.judging import outcomes
from engine.playing import LaidOutShot
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine
from engine.tables.bed import bed_of

DIRECTIONS = 16
DISTANCES_MM = (10.0, 20.0, 30.0, 45.0, 60.0, 80.0, 100.0, 130.0, 160.0, 200.0, 250.0, 300.0)
#: Strikes tried for each move, and points a side of the boxes that close in on the best.
COARSE_TIPS, COARSE_PACES = 17, 5
ZOOMS, ZOOM_POINTS = 3, 5
#: Single moves that are paired with each other.
PAIRED = 24

#: Told the share done, 0 to 1; returns False to stop.
Progress = Callable[[float], bool]


class CancelledError(Exception):
    """The caller asked to stop."""


@dataclass(frozen=True, slots=True)
class Try:
    """Some balls moved to `places` (n, 2), and the strike that left the most room there."""

    places: np.ndarray
    moves: tuple[Move, ...]
    room_mm: float
    tip_height: float
    pace: float

    @property
    def distance_mm(self) -> float:
        """How far balls are moved in all."""
        return sum(move.distance_mm for move in self.moves)


def singles(
    routine: Routine, scene: LaidOutShot, wish: Wish, movable: Sequence[int], tell: Progress
) -> list[Try]:
    """Every possible move of one ball from which some strike comes near at all."""
    start, found = scene.places_mm, []
    for done, k in enumerate(movable):
        if not tell(done / len(movable)):
            raise CancelledError
        spots = _spots(routine, start, k)
        if len(spots):
            places = np.repeat(start[None], len(spots), axis=0)
            places[:, k] = spots
            found += tried(scene, wish, [(row, (move(scene, k, row),)) for row in places])
    return found


def pairs(routine: Routine, scene: LaidOutShot, wish: Wish, ones: Sequence[Try]) -> list[Try]:
    """Two different balls moved together, made of the single moves that come nearest."""
    best = sorted(ones, key=lambda one: -one.room_mm)[:PAIRED]
    start, conditions = scene.places_mm, conditions_of(routine)
    touch = np.array([[conditions.touch_of(a, b) for b in scene.balls] for a in scene.balls])
    made: list[tuple[np.ndarray, tuple[Move, ...]]] = []
    for i, one in enumerate(best):
        for two in best[i + 1 :]:
            if one.moves[0].ball == two.moves[0].ball:
                continue
            places = np.where(one.places != start, one.places, two.places)
            away = np.linalg.norm(places[:, None] - places[None], axis=2)
            away[np.diag_indices(len(places))] = np.inf
            if np.all(away >= touch):
                made.append((places, (*one.moves, *two.moves)))
    return tried(scene, wish, made)


def move(scene: LaidOutShot, k: int, places: np.ndarray) -> Move:
    """The move of ball k from the scene's places to others, (n, 2)."""
    a, b = scene.places_mm[k], places[k]
    return Move(
        scene.balls[k].id,
        (float(a[0]), float(a[1])),
        (float(b[0]), float(b[1])),
        float(np.linalg.norm(b - a)),
    )


def _spots(routine: Routine, start: np.ndarray, k: int) -> np.ndarray:
    """Places on whole millimetres where ball k could lie, (m, 2)."""
    angles = np.arange(DIRECTIONS) * 2.0 * math.pi / DIRECTIONS
    ways = np.column_stack([np.cos(angles), np.sin(angles)])
    steps = np.asarray(DISTANCES_MM)[:, None, None] * ways[None]
    spots = np.unique(np.round(start[k] + steps.reshape(-1, 2)), axis=0)
    return spots[possible(routine, start, k, spots)]


def possible(routine: Routine, start: np.ndarray, k: int, spots: np.ndarray) -> np.ndarray:
    """Whether ball k can lie at each of the spots (m, 2): on the bed and in no other ball, (m,)."""
    conditions, ball = conditions_of(routine), routine.balls[k]
    radius = conditions.radius_of(ball)
    on_bed = np.asarray(bed_of(table_of(routine), radius).allows(spots, slack_mm=0.0))
    others = np.delete(start, k, axis=0)
    if not len(others):
        return on_bed
    away = np.linalg.norm(spots[:, None] - others[None], axis=2)
    touch = np.array([conditions.touch_of(ball, one) for one in routine.balls if one is not ball])
    return np.asarray(on_bed & (away >= touch).all(axis=1))


def tried(
    scene: LaidOutShot, wish: Wish, made: Sequence[tuple[np.ndarray, tuple[Move, ...]]]
) -> list[Try]:
    """The tries of some places, with the best of a coarse grid of strikes; none near: left out."""
    if not made:
        return []
    limit = scene.conditions.tip_limit
    tips = np.linspace(-limit, limit, COARSE_TIPS)
    paces = np.linspace(wish.pace_min, wish.pace_max, COARSE_PACES)
    tip, pace = (part.ravel() for part in np.meshgrid(tips, paces))
    places = np.array([row for row, _ in made])
    shape = (len(made), len(tip))
    room = _rooms(scene, np.broadcast_to(tip, shape), np.broadcast_to(pace, shape), places)
    best = room.argmax(axis=1)
    return [
        Try(row, moves, float(room[k, j]), float(tip[j]), float(pace[j]))
        for k, ((row, moves), j) in enumerate(zip(made, best, strict=True))
        if room[k, j] > -np.inf
    ]


def closed_in(scene: LaidOutShot, wish: Wish, tries: Sequence[Try]) -> list[Try]:
    """The same tries with their best strike looked for in ever smaller boxes around it."""
    if not tries:
        return []
    limit = scene.conditions.tip_limit
    places = np.array([one.places for one in tries])
    tip = np.array([one.tip_height for one in tries])
    pace = np.array([one.pace for one in tries])
    room = np.array([one.room_mm for one in tries])
    share = np.linspace(-1.0, 1.0, ZOOM_POINTS)
    across, along = (part.ravel() for part in np.meshgrid(share, share))
    wide = 2.0 * limit / (COARSE_TIPS - 1)
    high = (wish.pace_max - wish.pace_min) / (COARSE_PACES - 1)
    row = np.arange(len(tries))
    for _ in range(ZOOMS):
        tips = np.clip(tip[:, None] + wide * across, -limit, limit)
        paces = np.clip(pace[:, None] + high * along, wish.pace_min, wish.pace_max)
        found = _rooms(scene, tips, paces, places)
        k = found.argmax(axis=1)
        better = found[row, k] > room
        tip = np.where(better, tips[row, k], tip)
        pace = np.where(better, paces[row, k], pace)
        room = np.where(better, found[row, k], room)
        wide, high = wide / 2.0, high / 2.0
    return [
        replace(one, room_mm=float(room[k]), tip_height=float(tip[k]), pace=float(pace[k]))
        for k, one in enumerate(tries)
    ]


def _rooms(
    scene: LaidOutShot, tips: np.ndarray, paces: np.ndarray, places: np.ndarray
) -> np.ndarray:
    """Room (mm) of strikes (m, s) from each of some places (m, n, 2); below 0 what fails."""
    found = outcomes(
        scene,
        tips.ravel(),
        np.asarray(scene.conditions.speed_mm_s(paces.ravel(), tips.ravel())),
        places_mm=np.repeat(places, tips.shape[1], axis=0),
    )
    room = np.where(found.threads, found.margin_mm, np.minimum(found.margin_mm, -1e-9))
    return np.where(np.isnan(room), -np.inf, room).reshape(tips.shape)
