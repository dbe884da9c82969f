"""What comes of many tries at one shot: threaded or not, by how much, and why not."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from engine.reach.aims import SHORT, aim_many, sizes_of
from engine.reach.judging import (
    BLOCKED,
    EDGE,
    IN_OFF,
    J_MARGIN,
    J_OTHER,
    J_REASON,
    KISS,
    NEVER_PLAYED,
    NOT_POTTED,
    SHORT_OF_BALL,
    THREADS,
    judge_all,
    rooms_all,
)
from engine.reach.scene import Scene
from engine.shot.batch import Shots, play_many
from engine.shot.layout import condition_values
from engine.shot.play import table_values

#: Reasons for which the way ended at a ball.
_CUT_OFF = (KISS, BLOCKED, EDGE)
#: Segments of the cue ball looked at: some ten cushions' worth.
WAY_LENGTH = 32


@dataclass(frozen=True, slots=True)
class Outcomes:
    """Results of N tries, arrays of shape (N,).

    `threads`: the object ball is potted, the gaps are threaded in order, nothing is touched
    first and the cue ball stays out. `margin_mm`: room to the nearer edge, negative by how far
    the way misses; nan when the cue ball never got away from the object ball. `reason` is a code
    of `engine.reach.judging`, `other` the index of the ball it speaks of (−1: none).
    """

    threads: np.ndarray
    margin_mm: np.ndarray
    reason: np.ndarray
    other: np.ndarray
    direction_rad: np.ndarray


def outcomes(
    scene: Scene,
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
    tip, speed, stray, across, tip_off, speed_off = np.broadcast_arrays(
        *(
            np.atleast_1d(np.asarray(value, dtype=float))
            for value in (tip_height, speed_mm_s, aim_error_rad, side, tip_error, speed_error_mm_s)
        )
    )
    places = scene.places_mm[None] if places_mm is None else np.ascontiguousarray(places_mm)
    direction, state = _aims(scene, tip, speed, places)
    limit = scene.conditions.tip_limit
    struck_tip, struck_speed = tip + tip_off, speed + speed_off
    playable = (np.hypot(struck_tip, across) <= limit + 1e-9) & (struck_speed > 0.0)
    strikes = {
        "tip_height": np.where(playable, struck_tip, 0.0),
        "side": np.where(playable, across, 0.0),
        "speed_mm_s": np.where(playable, struck_speed, 1000.0),
        "direction_rad": direction + stray,
    }
    full = _judged(scene, places, strikes, with_all=True)
    reason, other = full[:, J_REASON].astype(np.int8), full[:, J_OTHER].astype(np.int16)
    margin = full[:, J_MARGIN].copy()
    cut = np.isin(reason, _CUT_OFF)
    if margins and cut.any():
        # a way cut off by a ball is judged by where it would have gone
        part = {name: values[cut] for name, values in strikes.items()}
        where = places[cut] if len(places) > 1 else places
        margin[cut] = _judged(scene, where, part, with_all=False)[:, J_MARGIN]
    margin = np.where(reason == THREADS, np.maximum(margin, 0.0), np.minimum(margin, 0.0))
    reason[(state == SHORT) & (reason == THREADS)] = SHORT_OF_BALL
    reason[~playable] = NEVER_PLAYED
    margin[~playable] = np.nan
    return Outcomes(reason == THREADS, margin, reason, other, direction)


def _aims(
    scene: Scene, tip: np.ndarray, speed: np.ndarray, places: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    direction, state = np.empty(len(tip)), np.zeros(len(tip), dtype=np.int64)
    line = scene.line_rad(places)
    if scene.target < 0:
        direction[:] = line
        return direction, state
    c = scene.conditions
    aim_many(
        np.ascontiguousarray(places[:, scene.cue]), np.ascontiguousarray(places[:, scene.target]),
        line, np.ascontiguousarray(speed), np.ascontiguousarray(tip), sizes_of(c),
        condition_values(c), scene.shot.allow_for_throw, direction, state,
    )  # fmt: skip
    return direction, state


def rooms(
    scene: Scene, tip_height: ArrayLike, speed_mm_s: ArrayLike, places_mm: np.ndarray
) -> np.ndarray:
    """Least room (mm) between the free way of each try and each ball of the scene, (N, n).

    The way is played without obstacles, from the balls' places (N, n, 2), to rest; the cue ball's
    and the object ball's own columns mean nothing. nan where the cue ball never gets away.
    """
    tip, speed = (
        np.broadcast_to(np.asarray(value, dtype=float), (len(places_mm),)).copy()
        for value in (tip_height, speed_mm_s)
    )
    direction, _ = _aims(scene, tip, speed, places_mm)
    kept = [scene.cue] + ([scene.target] if scene.target >= 0 else [])
    shots = _played(
        scene, kept, places_mm,
        {"tip_height": tip, "speed_mm_s": speed, "direction_rad": direction},
    )  # fmt: skip
    out = np.empty((len(places_mm), len(scene.balls)))
    target = kept.index(scene.target) if scene.target >= 0 else -1
    rooms_all(shots.ways, target, places_mm, scene.conditions.touch_mm, out)
    return out


def _played(
    scene: Scene, kept: list[int], places: np.ndarray, strikes: dict[str, np.ndarray]
) -> Shots:
    """The shots of some of the balls, with the cue ball's ways."""
    return play_many(
        scene.table,
        scene.conditions,
        [scene.balls[index] for index in kept],
        places_mm=np.ascontiguousarray(places[:, kept]),
        log_length=0,
        way_length=WAY_LENGTH,
        cue_id=scene.balls[scene.cue].id,
        **strikes,
    )


def _judged(
    scene: Scene, places: np.ndarray, strikes: dict[str, np.ndarray], with_all: bool
) -> np.ndarray:
    """Judgements (N, 4) of the shots played with all balls, or with the obstacles taken away."""
    if with_all:
        kept = list(range(len(scene.balls)))
    else:
        kept = [scene.cue] + ([scene.target] if scene.target >= 0 else [])
    shots = _played(scene, kept, places, strikes)
    solid = np.ones(len(scene.balls), dtype=bool)
    solid[kept] = False
    out = np.empty((len(shots.rests_mm), 4))
    assert shots.ways is not None
    judge_all(
        shots.ways, kept.index(scene.target) if scene.target >= 0 else -1, places, solid,
        scene.gap_rows, scene.corners, table_values(scene.table)[0],
        scene.conditions.cue_radius_mm, scene.conditions.touch_mm, out,
    )  # fmt: skip
    if with_all:
        _disqualify(scene, shots.potted, out)
    return out


def _disqualify(scene: Scene, potted: np.ndarray, out: np.ndarray) -> None:
    """A shot that threads the gaps but misses the pot or goes in-off does not count."""
    good = out[:, J_REASON] == THREADS
    if scene.target >= 0:
        missed = potted[:, scene.target] != scene.pocket
        out[good & missed, J_REASON] = NOT_POTTED
        good &= ~missed
    out[good & (potted[:, scene.cue] >= 0), J_REASON] = IN_OFF


def with_balls(scene: Scene, places_mm: np.ndarray) -> Scene:
    """The same scene with its balls elsewhere, (n, 2)."""
    moved = tuple(
        replace(ball, x_mm=float(x), y_mm=float(y))
        for ball, (x, y) in zip(scene.balls, places_mm, strict=True)
    )
    return replace(scene, balls=moved)
