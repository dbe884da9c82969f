"""The cue ball's way after contact, laid out as points from its recorded segments.

Parabolas are taken as chords that stray less than `TOLERANCE_MM`. A way ends where the cue ball
next meets a ball: what it does afterwards no longer threads anything.
"""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import inlined, room
from engine.reach.plane import length
from engine.shot.layout import (
    HIT_BALL,
    HIT_CUSHION,
    HIT_JAW,
    POTTED,
    R_AX,
    R_AY,
    R_CAUSE,
    R_OTHER,
    R_PHASE,
    R_T,
    R_VX,
    R_VY,
    R_X,
    R_Y,
    STILL,
)

TOLERANCE_MM = 0.01
MOST_POINTS = 2000

# what is known of a way: points, ball it ends at, index and face of its first cushion, in-off
W_POINTS, W_HIT, W_CUSHION_AT, W_CUSHION, W_IN_OFF = range(5)
WAY_FACTS = 5


@room
def way_room() -> tuple[np.ndarray, ...]:
    """Room for one way: its points and what is known of it."""
    return np.empty((MOST_POINTS, 2)), np.empty(WAY_FACTS)


@inlined
def start_row(way, target):
    """The row from which the way after contact runs, and the ball met first if another; −1s: none.

    Without a target (−1) the way runs from the strike.
    """
    if target < 0:
        return 0, -1
    for k in range(1, way.shape[0]):
        if way[k, R_T] != way[k, R_T]:
            break
        if way[k, R_CAUSE] == HIT_BALL:
            hit = int(way[k, R_OTHER])
            return (k, -1) if hit == target else (-1, hit)
    return -1, -1


@inlined
def chords_of(row, span):
    """How many chords a segment of `span` seconds takes."""
    ax, ay, vx, vy = row[R_AX], row[R_AY], row[R_VX], row[R_VY]
    pull = length(ax, ay)
    bend = abs(vx * ay - vy * ax)
    if bend <= 1e-9 * length(vx, vy) * pull:
        return 1
    # a chord strays by the pull across it; the pull across the way is most where it is slowest
    slowest = min(length(vx, vy), length(vx + ax * span, vy + ay * span))
    turns = -(vx * ax + vy * ay) / (pull * pull)
    if 0.0 < turns < span:
        slowest = bend / pull
    across = min(pull, bend / slowest) if slowest > 0.0 else pull
    return max(1, math.ceil(math.sqrt(across * span * span / (8.0 * TOLERANCE_MM))))


@inlined
def lay_out(way, start, points, facts):
    """Fill `points` (MOST_POINTS, 2) and `facts` (WAY_FACTS,) for the way from row `start`."""
    rows = way.shape[0]
    points[0, 0], points[0, 1] = way[start, R_X], way[start, R_Y]
    used = 1
    facts[W_HIT] = -1.0
    facts[W_CUSHION_AT] = facts[W_CUSHION] = -1.0
    facts[W_IN_OFF] = 0.0
    for k in range(start, rows):
        row = way[k]
        if k > start:
            if row[R_CAUSE] == HIT_BALL:
                # contacts of the same instant as the first belong to it
                if row[R_T] > way[start, R_T]:
                    facts[W_HIT] = row[R_OTHER]
                    break
            elif row[R_CAUSE] in (HIT_CUSHION, HIT_JAW) and facts[W_CUSHION_AT] < 0.0:
                facts[W_CUSHION_AT] = used - 1
                facts[W_CUSHION] = row[R_OTHER] if row[R_CAUSE] == HIT_CUSHION else -2.0
        if row[R_PHASE] == POTTED:
            facts[W_IN_OFF] = 1.0
            break
        if row[R_PHASE] == STILL or k + 1 >= rows or way[k + 1, R_T] != way[k + 1, R_T]:
            break
        span = way[k + 1, R_T] - row[R_T]
        if span <= 0.0:
            continue
        count = chords_of(row, span)
        if used + count > points.shape[0]:
            break
        for step in range(1, count + 1):
            t = span * step / count
            points[used, 0] = row[R_X] + (row[R_VX] + 0.5 * row[R_AX] * t) * t
            points[used, 1] = row[R_Y] + (row[R_VY] + 0.5 * row[R_AY] * t) * t
            used += 1
    facts[W_POINTS] = used
