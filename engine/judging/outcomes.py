"""What comes of many tries at one shot: threaded or not, by how much, and why not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from engine.compiled import Lasting, Room
from engine.judging.rules import EDGE_PLAYED, NEVER_PLAYED, SHORT_OF_BALL, THREADS
from engine.judging.scan import J_MARGIN, J_OTHER, J_REASON, JUDGEMENT, rooms_all
from engine.judging.trying import WAY_LENGTH, scratch, try_all
from engine.playing.aiming import aims
from engine.playing.aims import SHORT
from engine.playing.edges import G_FIRST
from engine.playing.laid_out import LaidOutShot
from engine.playing.ways import way_room
from engine.shot.batch import cores, play_many, threads
from engine.shot.layout import ball_rows, condition_values
from engine.shot.play import MOST_EVENTS, table_values
from engine.shot.striking import S_SIDE, S_SPEED, S_TIP, S_UX, S_UY, STRIKE

#: Tries a thread takes at a time, at least: handing fewer over costs as much as trying them.
CHUNK = 96
#: Parts a core is given: some tries take much longer than others.
PARTS = 2


@dataclass(frozen=True, slots=True)
class Outcomes:
    """Results of N tries, arrays of shape (N,).

    `threads`: the object ball is potted, the gaps are threaded in order, nothing is touched
    first and the cue ball stays out. `margin_mm`: room to the nearer edge, negative by how far
    the way misses; nan when the cue ball never got away from the object ball. `reason` is a code
    of `engine.judging.rules`, `other` the index of the ball it speaks of (−1: none).
    """

    threads: np.ndarray
    margin_mm: np.ndarray
    reason: np.ndarray
    other: np.ndarray
    direction_rad: np.ndarray


def outcomes(
    scene: LaidOutShot,
    tip_height: ArrayLike,
    speed_mm_s: ArrayLike,
    *,
    aim_error_rad: ArrayLike = 0.0,
    side: ArrayLike = 0.0,
    tip_error: ArrayLike = 0.0,
    speed_error_mm_s: ArrayLike = 0.0,
    places_mm: np.ndarray | None = None,
    margins: bool = True,
) -> Outcomes:
    """Try a scene N times; the arguments broadcast to (N,).

    The aim is the one for the strike asked for (`tip_height`, `speed_mm_s`) from the balls'
    places (N, n, 2), and the errors are added to it afterwards. Without `margins` those of shots
    cut off by a ball are left unsure.
    """
    (found,) = outcomes_of_each(
        (scene,), tip_height, speed_mm_s, aim_error_rad=aim_error_rad, side=side,
        tip_error=tip_error, speed_error_mm_s=speed_error_mm_s, places_mm=places_mm,
        margins=margins,
    )  # fmt: skip
    return found


def outcomes_of_each(
    scenes: Sequence[LaidOutShot],
    tip_height: ArrayLike,
    speed_mm_s: ArrayLike,
    *,
    aim_error_rad: ArrayLike = 0.0,
    side: ArrayLike = 0.0,
    tip_error: ArrayLike = 0.0,
    speed_error_mm_s: ArrayLike = 0.0,
    places_mm: np.ndarray | None = None,
    margins: bool = True,
) -> list[Outcomes]:
    """The same tries at scenes that differ in nothing but their gaps: each is played once."""
    scene = scenes[0]
    given = (tip_height, speed_mm_s, aim_error_rad, side, tip_error, speed_error_mm_s)
    parts = [np.asarray(value, dtype=float) for value in given]
    count = np.broadcast(*parts).size
    tip, speed = (np.full(count, part) if part.shape != (count,) else part for part in parts[:2])
    stray, across, tip_off, speed_off = parts[2:]
    places = scene.places_mm[None] if places_mm is None else np.ascontiguousarray(places_mm)
    direction, state = aims(scene, tip, speed, places)
    limit = scene.conditions.tip_limit
    strikes = np.zeros((count, STRIKE))
    strikes[:, S_SPEED], strikes[:, S_TIP], strikes[:, S_SIDE] = (
        speed + speed_off, tip + tip_off, across
    )  # fmt: skip
    playable = (np.hypot(strikes[:, S_TIP], across) <= limit + 1e-9) & (strikes[:, S_SPEED] > 0.0)
    if not playable.all():
        strikes[~playable, S_SPEED : S_SIDE + 1] = 1000.0, 0.0, 0.0
    way = direction + stray
    strikes[:, S_UX], strikes[:, S_UY] = np.cos(way), np.sin(way)
    found = _tried(scenes, places, strikes, margins)
    return [
        _outcomes(one, found[:, number], playable, state, direction)
        for number, one in enumerate(scenes)
    ]


def _outcomes(
    scene: LaidOutShot,
    found: np.ndarray,
    playable: np.ndarray,
    state: np.ndarray,
    direction: np.ndarray,
) -> Outcomes:
    """What comes of the judgements (N, JUDGEMENT) of one scene's tries."""
    reason, other = found[:, J_REASON].astype(np.int8), found[:, J_OTHER].astype(np.int16)
    does, margin = reason == THREADS, found[:, J_MARGIN]
    margin = np.where(does, np.maximum(margin, 0.0), np.minimum(margin, 0.0))
    short = state == SHORT
    if short.any():
        reason[short & does] = SHORT_OF_BALL
        does &= ~short
    if not playable.all():
        reason[~playable], margin[~playable] = NEVER_PLAYED, np.nan
        does &= playable
    if any(scene.object_ball.id in gap.balls for gap in scene.gaps if scene.object_ball):
        # a gap beside a ball that is played: it will have left its place
        reason[:], margin = EDGE_PLAYED, np.full(len(reason), np.nan)
        does = np.zeros(len(reason), dtype=bool)
    return Outcomes(does, margin, reason, other, direction)


def rooms(
    scene: LaidOutShot, tip_height: ArrayLike, speed_mm_s: ArrayLike, places_mm: np.ndarray
) -> np.ndarray:
    """Room (mm) each try leaves each ball from the balls' places (N, n, 2), to rest: (N, n).

    As `engine.judging.rules.room_beside` says; the cue ball's and the object ball's own columns
    mean nothing. nan where the cue ball never gets away from the object ball.
    """
    tip, speed = (
        np.broadcast_to(np.asarray(value, dtype=float), (len(places_mm),)).copy()
        for value in (tip_height, speed_mm_s)
    )
    direction, _ = aims(scene, tip, speed, places_mm)

    def ways(kept: list[int]) -> np.ndarray:
        shots = play_many(
            scene.table, scene.conditions, [scene.balls[index] for index in kept], speed, direction,
            tip_height=tip, places_mm=np.ascontiguousarray(places_mm[:, kept]), log_length=0,
            way_length=WAY_LENGTH, cue_id=scene.cue_ball.id,
        )  # fmt: skip
        assert shots.ways is not None
        return shots.ways

    out = np.empty((len(places_mm), len(scene.balls)))
    rooms_all(
        ways(list(range(len(scene.balls)))), ways(scene.alone), scene.target,
        -1 if scene.target < 0 else 1, np.ascontiguousarray(places_mm), scene.conditions.touch_mm,
        *way_room(), out,
    )  # fmt: skip
    return out


def _tried(
    scenes: Sequence[LaidOutShot], places: np.ndarray, strikes: np.ndarray, margins: bool
) -> np.ndarray:
    """Judgements (N, s, JUDGEMENT) of strikes (N, 6), the work shared among the cores."""
    scene, count = scenes[0], len(strikes)
    out = np.empty((count, len(scenes), JUDGEMENT))
    rows, rows_alone, values, gaps, sets, corners = _laid_down(tuple(scenes))
    arrays = table_values(scene.table)
    places_alone = np.ascontiguousarray(places[:, scene.alone])
    room_for = (len(scene.balls), len(scene.alone))

    def chunk(part: slice) -> None:
        own = part if len(places) > 1 else slice(None)
        try_all(
            rows, scene.cue, scene.target, scene.pocket, places[own], strikes[part],
            rows_alone, places_alone[own], values, *arrays, MOST_EVENTS,
            gaps, sets, corners, scene.conditions.cue_radius_mm,
            scene.conditions.touch_mm, margins,
            *scratch(*room_for), out[part],
        )  # fmt: skip

    size = max(CHUNK, -(-count // (PARTS * cores())))
    parts = [slice(start, start + size) for start in range(0, count, size)]
    left = iter(parts)

    def work() -> None:
        # whoever is free takes the next part
        for part in left:
            chunk(part)

    helpers = [threads().submit(work) for _ in range(min(cores(), len(parts)) - 1)]
    work()
    for one in helpers:
        one.result()
    return out


@lru_cache(maxsize=16)
def _laid_down(scenes: tuple[LaidOutShot, ...]) -> Room:
    """What is the same for all tries of scenes that differ in nothing but their gaps.

    The balls, those of a free way, the conditions, the gaps of all scenes one after another, from
    which on each scene's lie, and all corners. One set-up is tried again and again.
    """
    scene = scenes[0]
    balls = ball_rows(scene.balls, scene.conditions)
    gaps = [one.gap_rows.copy() for one in scenes]
    corners = 0
    for rows, one in zip(gaps, scenes, strict=True):
        rows[:, G_FIRST] += corners
        corners += len(one.corners)
    arrays = (
        balls, balls[scene.alone], condition_values(scene.conditions), np.concatenate(gaps),
        np.cumsum([0, *map(len, gaps)]), np.concatenate([one.corners for one in scenes]),
    )  # fmt: skip
    return tuple(Lasting(array) for array in arrays)
