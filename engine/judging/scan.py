"""The compiled scan: what thousands of ways do to gaps and balls, each judged by the rules.

The gaps asked for are taken in order: the next is looked for only from where the one before was
done. A place on a way is the index of its chord plus the share of that chord.
"""

from __future__ import annotations

import math

from engine.compiled import Floats1, Floats2, Floats3, compiled, inlined
from engine.judging.rules import (
    SHORT_OF_BALL,
    THREADS,
    TOUCH_MM,
    WRONG_BALL,
    area,
    cannon,
    crossing,
    in_the_way,
    in_turn,
    room_beside,
    stretch,
)
from engine.playing.edges import (
    AREA,
    BALL_BALL,
    BALL_CUSHION,
    G_A,
    G_AT,
    G_AXIS,
    G_B,
    G_COUNT,
    G_FIRST,
    G_FROM,
    G_KIND,
    G_SIDE,
    G_TO,
    STRETCH,
)
from engine.playing.plane import chords_cross, enters, inside, length, point_to_chord, side_of
from engine.playing.ways import (
    W_CUSHION,
    W_CUSHION_AT,
    W_HIT,
    W_IN_OFF,
    W_POINTS,
    lay_out,
    start_row,
)
from engine.shot.layout import HIT_BALL, R_CAUSE, R_OTHER, R_T

# columns of a judgement
J_REASON, J_OTHER, J_MARGIN, J_GAP = range(4)
JUDGEMENT = 4


@inlined
def gap_line(gap, places, ends):
    """Fill `ends` (4,) with the line across a gap, from where its balls lie."""
    a = int(gap[G_A])
    ends[0], ends[1] = places[a, 0], places[a, 1]
    if gap[G_KIND] == BALL_BALL:
        b = int(gap[G_B])
        ends[2], ends[3] = places[b, 0], places[b, 1]
    elif gap[G_AXIS] == 0.0:
        ends[2], ends[3] = gap[G_AT], places[a, 1]
    else:
        ends[2], ends[3] = places[a, 0], gap[G_AT]


@inlined
def first_block(points, count, first, places, solid, gap, two):
    """(place, ball, overlap) where the way from `first` touches a standing ball; place −1: none.

    `solid` (1, else 0) marks the balls that stand in the way; the gap's own edges do not count.
    """
    at, ball, depth = -1.0, -1, 0.0
    last = count - 1
    for o in range(places.shape[0]):
        if solid[o] == 0.0 or o == int(gap[G_A]) or o == int(gap[G_B]):
            continue
        x, y = places[o, 0], places[o, 1]
        entered, least = -1.0, math.inf
        for k in range(int(first), last):
            away = point_to_chord(
                x, y, points[k, 0], points[k, 1], points[k + 1, 0], points[k + 1, 1]
            )
            if away < two:
                if entered < 0.0:
                    entered = k + enters(
                        x, y, two, points[k, 0], points[k, 1], points[k + 1, 0], points[k + 1, 1]
                    )
                least = min(least, away)
            elif entered >= 0.0:
                break
        if entered >= 0.0 and (at < 0.0 or entered < at):
            at, ball, depth = entered, o, two - least
    return at, ball, depth


@inlined
def cross(points, count, first, ends, radius, two):
    """What the way from `first` does at the line across a gap: (place, −1 for never; then as
    `rules.crossing` takes them) room to both ends, to the face, how far off, ends in front of it.
    """
    room_a = room_b = away = math.inf
    at, beyond, face = -1.0, 2.0 * two, math.inf
    facing, before = False, math.inf
    begin = int(first)
    for k in range(begin, count - 1):
        px, py, qx, qy = points[k, 0], points[k, 1], points[k + 1, 0], points[k + 1, 1]
        skipped = first - k if k == begin else 0.0
        px, py = px + skipped * (qx - px), py + skipped * (qy - py)
        sx, sy = px, py
        if at < 0.0:
            share = chords_cross(px, py, qx, qy, ends[0], ends[1], ends[2], ends[3])
            if share >= 0.0:
                at = k + skipped + share * (1.0 - skipped)
                sx, sy = px + share * (qx - px), py + share * (qy - py)
                face = length(sx - ends[2], sy - ends[3]) - radius
        if at >= 0.0:
            far = length(qx - sx, qy - sy)
            if far > beyond:
                qx, qy = sx + (qx - sx) * beyond / far, sy + (qy - sy) * beyond / far
            beyond -= far
        to_a = point_to_chord(ends[0], ends[1], px, py, qx, qy)
        to_b = point_to_chord(ends[2], ends[3], px, py, qx, qy)
        room_a, room_b = min(room_a, to_a), min(room_b, to_b)
        if beyond <= 0.0:
            break
        if at < 0.0:
            near = point_to_chord(qx, qy, ends[0], ends[1], ends[2], ends[3])
            if k == begin:
                before = point_to_chord(px, py, ends[0], ends[1], ends[2], ends[3])
            least = min(min(near, before), min(to_a, to_b))
            before = near
            if least < away:
                away = least
                # nearest at the very end, in front of the line: it stops short
                dx, dy = ends[2] - ends[0], ends[3] - ends[1]
                across = (qx - ends[0]) * dx + (qy - ends[1]) * dy
                facing = k == count - 2 and near <= least and 0.0 < across < dx * dx + dy * dy
    return at, room_a, room_b, face, away, facing


@inlined
def first_cushion(points, facts, gap, faces, radius):
    """Where the way first meets a cushion (−1: none), whether it is the gap's, the room to the
    stretch's nearer end, and how far off the stretch it is (at its end without a cushion)."""
    axis, along = int(gap[G_AXIS]), 1 - int(gap[G_AXIS])
    at = int(facts[W_CUSHION_AT])
    spot = at if at >= 0 else int(facts[W_POINTS]) - 1
    room = min(points[spot, along] - gap[G_FROM], gap[G_TO] - points[spot, along])
    away = length(points[spot, axis] - gap[G_AT], max(-room, 0.0)) - radius
    face = int(facts[W_CUSHION])
    met_it = face >= 0 and faces[face, 0] == gap[G_AXIS] and faces[face, 1] == gap[G_AT]
    return float(at), met_it, room, away


@inlined
def first_meeting(points, count, first, x, y, two):
    """Where the way from `first` meets the ball at (x, y) (−1: never), how far left of the ball's
    middle it is aimed then, and the least distance."""
    least = math.inf
    for k in range(int(first), count - 1):
        px, py, qx, qy = points[k, 0], points[k, 1], points[k + 1, 0], points[k + 1, 1]
        away = point_to_chord(x, y, px, py, qx, qy)
        if away < least:
            least = away
        if away < two + TOUCH_MM:
            return k + enters(x, y, two, px, py, qx, qy), -side_of(x, y, px, py, qx, qy), least
    return -1.0, 0.0, least


@inlined
def judge(way, target, places, solid, gaps, corners, faces, radius, two, points, facts, ends, out):
    """Judge one way against `gaps` (g, GAP_COLUMNS) in order; fills `out` (4,).

    `places` (n, 2): the balls of the set-up; `solid` (n,): 1 for those the way was played
    without but which stand in it. `target`: the object ball's index in the records, −1 for a
    plain shot.
    `radius` is the cue ball's, `two` the distance of its centre from that of a ball it touches.
    `points` and `facts` are room as `lay_out` wants it, `ends` (4,) is room for a gap's line.
    """
    out[J_OTHER], out[J_MARGIN], out[J_GAP] = -1.0, math.nan, 0.0
    start, wrong = start_row(way, target)
    if start < 0:
        out[J_REASON], out[J_OTHER] = (SHORT_OF_BALL if wrong < 0 else WRONG_BALL), wrong
        return
    lay_out(way, start, False, points, facts)
    count = int(facts[W_POINTS])
    first, least = 0.0, math.inf
    for g in range(gaps.shape[0]):
        gap = gaps[g]
        kind = int(gap[G_KIND])
        block, by, depth = first_block(points, count, first, places, solid, gap, two)
        a = int(gap[G_A])
        hit = facts[W_HIT]
        own = 0
        if hit >= 0.0:
            own = 1 if hit == target else 2 if hit == gap[G_A] or hit == gap[G_B] else 0
        if kind <= BALL_CUSHION:
            gap_line(gap, places, ends)
            at, room_a, room_b, face, away, facing = cross(points, count, first, ends, radius, two)
            margin, reason = crossing(
                at >= 0.0, room_a, room_b, face, away, facing, own == 2, kind == BALL_CUSHION, two
            )
        elif kind == STRETCH:
            at, met_it, room, away = first_cushion(points, facts, gap, faces, radius)
            margin, reason = stretch(at >= 0.0, met_it, room, away)
            if reason != THREADS:
                at = -1.0
        elif kind == AREA:
            at, last = count - 1.0, count - 1
            room = inside(
                points[last, 0], points[last, 1], corners, int(gap[G_FIRST]), int(gap[G_COUNT])
            )
            margin, reason = area(room, facts[W_IN_OFF] > 0.0, radius)
        else:
            own = 3 if hit == a else own
            at, left, away = first_meeting(points, count, first, places[a, 0], places[a, 1], two)
            margin, reason = cannon(at >= 0.0, left, away, gap[G_SIDE], two)
        reason = in_turn(reason, at, first)
        margin, reason, culprit = in_the_way(
            at, margin, reason, kind, block, depth, hit >= 0.0, own
        )
        if culprit > 0:
            out[J_OTHER] = by if culprit == 1 else hit
        least = min(least, margin)
        out[J_GAP] = g
        if reason != THREADS:
            out[J_REASON], out[J_MARGIN] = reason, min(least, -0.0)
            return
        first = max(at, first)
    out[J_REASON], out[J_MARGIN], out[J_OTHER] = THREADS, least, -1.0


@compiled
def rooms_all(
    ways: Floats3, free: Floats3, target: int, free_target: int, places: Floats3, two: float,
    points: Floats2, facts: Floats1, out: Floats2,
) -> None:  # fmt: skip
    """Room (mm) each way leaves each ball, as `rules.room_beside` says: (N, n).

    `ways` (N, s, columns) as they are played and `free` without obstacles; the balls stand at
    `places` (N or 1, n, 2). nan for a way that never leaves the object ball. `points`, `facts`:
    room as of `lay_out`.
    """
    for k in range(ways.shape[0]):
        where = places[k if places.shape[0] > 1 else 0]
        start, _ = start_row(ways[k], target)
        if start < 0:
            for o in range(where.shape[0]):
                out[k, o] = math.nan
            continue
        lay_out(ways[k], start, True, points, facts)
        first = int(facts[W_HIT])
        for o in range(where.shape[0]):
            touched = 1 if o == first else 2 if _meets(ways[k], start, o) else 0
            room = _least_room(points, facts, where[o, 0], where[o, 1]) - two
            out[k, o] = room_beside(room, touched, 0.0)
        free_start, _ = start_row(free[k], free_target)
        if first >= 0 and free_start >= 0:
            lay_out(free[k], free_start, True, points, facts)
            room = _least_room(points, facts, where[first, 0], where[first, 1]) - two
            out[k, first] = room_beside(0.0, 1, room)


@inlined
def _least_room(points, facts, x, y):
    """How near a laid out way comes to a place."""
    least = math.inf
    for p in range(int(facts[W_POINTS]) - 1):
        least = min(
            least,
            point_to_chord(x, y, points[p, 0], points[p, 1], points[p + 1, 0], points[p + 1, 1]),
        )
    return least


@inlined
def _meets(way, start, ball):
    """Whether a way meets a ball after its start."""
    for k in range(start + 1, way.shape[0]):
        if way[k, R_T] != way[k, R_T]:
            return False
        if way[k, R_CAUSE] == HIT_BALL and way[k, R_OTHER] == ball:
            return way[k, R_T] > way[start, R_T]
    return False
