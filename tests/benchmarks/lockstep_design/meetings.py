"""Lock-step design: next meetings of many balls with balls, cushions, jaws and falls."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.shot.layout import (
    AX,
    AY,
    END,
    F_AT,
    F_AXIS,
    F_FROM,
    F_IN,
    F_TO,
    FALLS,
    HIT_CUSHION,
    HIT_JAW,
    RADIUS,
    VX,
    VY,
    T,
    X,
    Y,
)  # fmt: skip
from engine.shot.meetings import LOOSE, TOUCH
from tests.benchmarks.lockstep_design.roots import disc_time

PAIR_COLUMNS = (X, Y, VX, VY, AX, AY, T, END, RADIUS)


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The table's arrays as the kernel has them, and its discs: falls first, then jaws."""

    faces: np.ndarray
    jaws: np.ndarray
    falls: np.ndarray
    discs: np.ndarray

    @classmethod
    def of(cls, faces: np.ndarray, jaws: np.ndarray, falls: np.ndarray) -> Surroundings:
        """From what `engine.shot.layout.table_arrays` gives."""
        return cls(faces, jaws, falls, np.vstack([falls, jaws[:, :3]]))


def pair_times(state: np.ndarray, i: np.ndarray, j: np.ndarray, now: np.ndarray) -> np.ndarray:
    """When the balls i and j (indices into the state's balls) next touch."""
    one = {k: state[k].take(i) for k in PAIR_COLUMNS}
    two = {k: state[k].take(j) for k in PAIR_COLUMNS}
    di, dj = now - one[T], now - two[T]
    span = np.minimum(one[END], two[END]) - now
    px = two[X] - one[X] + (two[VX] + 0.5 * two[AX] * dj) * dj
    px -= (one[VX] + 0.5 * one[AX] * di) * di
    py = two[Y] - one[Y] + (two[VY] + 0.5 * two[AY] * dj) * dj
    py -= (one[VY] + 0.5 * one[AY] * di) * di
    vx = two[VX] + two[AX] * dj - one[VX] - one[AX] * di
    vy = two[VY] + two[AY] * dj - one[VY] - one[AY] * di
    reach = 2.0 * np.sqrt(one[RADIUS] * two[RADIUS])
    times = now + disc_time(
        (px, py), (vx, vy), (two[AX] - one[AX], two[AY] - one[AY]), reach, span, LOOSE
    )
    times[span <= 0.0] = np.inf
    return times


def _line_times(p: np.ndarray, v: np.ndarray, a: np.ndarray, span: np.ndarray) -> np.ndarray:
    """When the room p + v·t + ½a·t² to a line falls to nothing, within [0, span]; else inf."""
    disc = v * v - 2.0 * a * p
    root = np.sqrt(np.where(disc > 0.0, disc, 0.0))
    t = np.where(v < 0.0, 2.0 * p / (root - v), -(v + root) / a)
    good = (disc > 0.0) & (t > 0.0)
    straight = a == 0.0
    if straight.any():
        t = np.where(straight, -p / v, t)
        good = np.where(straight, v < 0.0, good)
    touching = np.flatnonzero(p <= TOUCH)
    if len(touching):
        t[touching], good[touching] = _return_times(p[touching], v[touching], a[touching])
    return np.where(good & (t <= span), t, np.inf)


def _return_times(p: np.ndarray, v: np.ndarray, a: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """`_line_times` of balls at or beyond the line: when pulled back to it, and whether they are.

    0 for one that is moving out.
    """
    up = np.maximum(v, 0.0)
    disc = up * up - 2.0 * a * p
    t = (up + np.where(disc > 0.0, np.sqrt(np.maximum(disc, 0.0)), up)) / -a
    out = v < -TOUCH
    return np.where(out, 0.0, t), out | (a < 0.0)


def own_meetings(b: np.ndarray, around: Surroundings) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """What each moving ball, a row of `b` (BALL_COLUMNS, k), meets next besides balls.

    Returns (time, cause, index), each (k,); cause 0 is the end of its segment.
    """
    faces = around.faces
    start, best = b[T], b[END].copy()
    span = best - start
    cause = np.zeros(b.shape[1], dtype=np.int64)
    index = np.full(b.shape[1], -1)
    beyond = np.zeros(b.shape[1], dtype=bool)
    for k in range(len(faces)):
        axis, inward = int(faces[k, F_AXIS]), faces[k, F_IN]
        room = inward * (b[X + axis] - faces[k, F_AT]) - b[RADIUS]
        line = _line_times(room, inward * b[VX + axis], inward * b[AX + axis], span)
        met = np.flatnonzero(line <= span)
        beyond |= room < -TOUCH
        if not len(met):
            continue
        line = line[met]
        place = b[Y - axis, met] + (b[VY - axis, met] + 0.5 * b[AY - axis, met] * line) * line
        inside = (place >= faces[k, F_FROM]) & (place <= faces[k, F_TO])
        beyond[met[~inside]] = True
        sooner = inside & (start[met] + line < best[met])
        met = met[sooner]
        best[met], cause[met], index[met] = start[met] + line[sooner], HIT_CUSHION, k
    out = np.flatnonzero(beyond)
    if len(out) and len(around.discs):
        best[out], cause[out], index[out] = _pocket_meetings(
            b[:, out], best[out], cause[out], index[out], around
        )
    return best, cause, index


def _pocket_meetings(
    b: np.ndarray, best: np.ndarray, cause: np.ndarray, index: np.ndarray, around: Surroundings
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """`own_meetings` of balls that may come beyond a cushion line: falls and jaws as well."""
    discs, falls = around.discs, len(around.falls)
    count, balls = len(discs), b.shape[1]
    px, py = b[X] - discs[:, :1], b[Y] - discs[:, 1:2]
    reach = np.broadcast_to(discs[:, 2:3], (count, balls)).copy()
    reach[falls:] += b[RADIUS]
    spread = np.broadcast_to(b[None, [VX, VY, AX, AY]], (count, 4, balls))
    span = np.broadcast_to(best - b[T], (count, balls))
    times = disc_time(
        (px.ravel(), py.ravel()),
        (spread[:, 0].ravel(), spread[:, 1].ravel()),
        (spread[:, 2].ravel(), spread[:, 3].ravel()),
        reach.ravel(),
        span.ravel(),
        LOOSE,
    ).reshape(count, balls)  # fmt: skip
    times += b[T]
    first = times.argmin(axis=0)
    time = times[first, np.arange(balls)]
    sooner = time < best
    best = np.where(sooner, time, best)
    falling = first < falls
    cause = np.where(sooner, np.where(falling, FALLS, HIT_JAW), cause)
    index = np.where(sooner, np.where(falling, first, first - falls), index)
    fallen = (px * px + py * py < reach * reach)[:falls]
    inside = fallen.any(axis=0)
    return (
        np.where(inside, b[T], best),
        np.where(inside, FALLS, cause),
        np.where(inside, fallen.argmax(axis=0), index),
    )


def lean(b: np.ndarray, around: Surroundings) -> None:
    """Keep balls that spin pulls into a cushion they touch from pressing through, in place."""
    for face in around.faces:
        axis, inward = int(face[F_AXIS]), face[F_IN]
        room = inward * (b[X + axis] - face[F_AT]) - b[RADIUS]
        touches = np.flatnonzero(room <= TOUCH)
        if not len(touches):
            continue
        along = b[Y - axis, touches]
        pressed = (along >= face[F_FROM]) & (along <= face[F_TO])
        pressed &= np.abs(b[VX + axis, touches]) <= TOUCH
        pressed &= inward * b[AX + axis, touches] < 0.0
        b[VX + axis, touches[pressed]] = 0.0
        b[AX + axis, touches[pressed]] = 0.0
