"""How the lanes on show stand to gaps: measured by shapely, judged by the rules.

Margins are millimetres of room between the cue ball's edge and the nearer edge of the gap where
the lane crosses it. A lane that does not cross has a negative margin: the distance by which its
way would have to move before the cue ball could just squeeze through.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.balls import Ball
from engine.errors import OutOfRangeError, UnknownNameError
from engine.judging import rules
from engine.judging.measuring import block_facts, crossing_facts, meeting_facts, room_inside
from engine.judging.way import Way
from engine.playing.edges import CODES, SIDES, gap_ends_mm, stretch_mm
from engine.results import GapPass
from engine.results.facts import Fact
from engine.routine.values import GAP_KINDS, Gap
from engine.tables.model import CUSHIONS, Table

#: Reasons whose margin tells how far the way without obstacles would have to move.
CUT_OFF = (rules.KISS, rules.BLOCKED, rules.EDGE)


@dataclass(frozen=True, slots=True)
class Judged:
    """A way judged against gaps in order: a reason of the rules, the fact, and how far along."""

    reason: int
    fact: Fact
    margin_mm: float
    along_mm: float = 0.0


def gap_pass(
    table: Table, gaps: Sequence[Gap], balls: Sequence[Ball], true: Way, free: Way, name: str = ""
) -> GapPass:
    """How one lane stands to a gap, or to several one after another; errors for what is not there.

    `true` is the lane's way as it is played, `free` the one without the obstacles, which tells
    by how much a way that is cut off by a ball would have to move. `name`: the gap they make up.
    """
    if not gaps:
        raise OutOfRangeError(f"gaps of gap {name}", "none", "one or more")
    found = judged(table, gaps, balls, true)
    if found.reason in CUT_OFF and len(free.path_mm) > 1:
        margin = min(judged(table, gaps, balls, free).margin_mm, -0.0)
        fact = found.fact
        if fact.kind in ("touches-edge", "touches-cushion"):
            fact = replace(fact, mm=-margin)
        found = replace(found, margin_mm=margin, fact=fact)
    reason = rules.shot_does_it(found.reason, True, true.pots, true.stops_mm is None)
    fact = found.fact
    if reason != found.reason:
        kind = "object-ball-stays-out" if reason == rules.NOT_POTTED else "goes-in-off"
        fact = Fact(kind, then=found.fact)
    threads = reason == rules.THREADS
    if threads and len(gaps) > 1:
        fact = Fact("threads-all", count=len(gaps), mm=found.margin_mm)
    return GapPass(
        true.label, name or gaps[0].id, threads, found.margin_mm, fact, found.along_mm,
        rules.REASONS[reason],
    )  # fmt: skip


def judged(table: Table, gaps: Sequence[Gap], balls: Sequence[Ball], way: Way) -> Judged:
    """One way against gaps taken in order: the next counts from where the one before was done."""
    for gap in gaps:
        _check(table, gap)
    gone = next((one for gap in gaps for one in gap.balls if one == way.object_ball), "")
    if len(way.path_mm) < 2:
        fact, reason = Fact("no-way"), rules.SHORT_OF_BALL
        if way.instead:
            fact, reason = Fact("meets-before-object-ball", ball=way.instead), rules.WRONG_BALL
        return Judged(reason, fact, math.nan)
    if gone:
        kind = "cannon-ball-gone" if gaps[0].kind == "cannon" else "edge-played"
        return Judged(rules.EDGE_PLAYED, Fact(kind, ball=gone), math.nan)
    least, first = math.inf, 0.0
    for gap in gaps:
        found = _one(table, gap, balls, way, first)
        least = min(least, found.margin_mm)
        if found.reason != rules.THREADS:
            fact = found.fact
            if len(gaps) > 1:
                early = first > 0.0 and found.reason == rules.MISSES
                early = early and _one(table, gap, balls, way, 0.0).reason == rules.THREADS
                fact = Fact("before-its-turn", gap=gap.id) if early else Fact(
                    "part-fails", gap=gap.id, then=fact
                )  # fmt: skip
            least = found.margin_mm if math.isnan(found.margin_mm) else min(least, -0.0)
            return replace(found, fact=fact, margin_mm=least)
        first = max(first, found.along_mm)
    return replace(found, margin_mm=least, along_mm=first)


def _check(table: Table, gap: Gap) -> None:
    """Refuse a gap that names what is not there."""
    if gap.kind not in GAP_KINDS:
        raise UnknownNameError("kind of gap", gap.kind, GAP_KINDS)
    if gap.kind == "in-order":
        raise OutOfRangeError(f"gap {gap.id}", "several gaps in order", "one gap at a time")
    if gap.kind == "cushion-stretch" and gap.cushion not in CUSHIONS:
        raise UnknownNameError("cushion", gap.cushion, CUSHIONS)
    if gap.kind == "cloth-area" and len(gap.points_mm) < 3:
        raise OutOfRangeError(f"points of gap {gap.id}", len(gap.points_mm), "three or more")
    if gap.kind == "cannon" and len(gap.balls) != 1:
        raise OutOfRangeError(f"balls of gap {gap.id}", list(gap.balls), "one ball")


def _one(table: Table, gap: Gap, balls: Sequence[Ball], way: Way, first_mm: float) -> Judged:
    """One way against one gap, from some way along it."""
    measure = {
        "cushion-stretch": _stretch, "cloth-area": _area, "cannon": _cannon,
    }.get(gap.kind, _crossing)  # fmt: skip
    at, margin, reason, fact = measure(table, gap, balls, way, first_mm)
    reason = rules.in_turn(reason, at, first_mm)
    block_at, by, depth = block_facts(way, gap.balls, first_mm)
    own = 0
    if way.hit:
        own = 1 if way.hit == way.object_ball else 2 if way.hit in gap.balls else 0
        own = 3 if gap.kind == "cannon" and way.hit == gap.balls[0] else own
    margin, cut, culprit = rules.in_the_way(
        at, margin, reason, CODES[gap.kind], block_at, depth, bool(way.hit), own
    )
    if culprit and cut == rules.KISS:
        return Judged(cut, Fact("kisses-first"), margin)
    if culprit and cut == rules.EDGE and reason != rules.EDGE:
        return Judged(cut, Fact("touches-edge", ball=way.hit, mm=max(-margin, 0.0)), margin)
    if culprit and cut == rules.BLOCKED:
        kind = {"cushion-stretch": "meets-before-cushion", "cloth-area": "meets-on-the-way",
                "cannon": "meets-first"}.get(gap.kind, "meets-before-gap")  # fmt: skip
        return Judged(cut, Fact(kind, ball=by if culprit == 1 else way.hit), margin)
    return Judged(reason, fact, margin, at)


_Measured = tuple[float, float, int, Fact]


def _crossing(
    table: Table, gap: Gap, balls: Sequence[Ball], way: Way, first_mm: float
) -> _Measured:
    ends, two = gap_ends_mm(table, gap, balls), way.touch_mm
    at, room_a, room_b, face, away, facing = crossing_facts(way, ends, first_mm)
    to_cushion = gap.kind == "ball-cushion"
    margin, reason = rules.crossing(
        at >= 0.0, room_a, room_b, face, away, facing, way.hit in gap.balls, to_cushion, two
    )
    if reason == rules.STOPS_SHORT:
        return at, margin, reason, Fact("stops-short-of-gap", mm=-margin)
    if reason == rules.MISSES:
        return at, margin, reason, Fact("misses-gap", mm=-margin)
    nearer_b = (face if to_cushion else room_b - two) < room_a - two
    what = "cushion" if to_cushion and nearer_b else "ball"
    ball = "" if what == "cushion" else gap.balls[1 if nearer_b else 0]
    if way.hit in gap.balls:
        what, ball = "ball", way.hit
    kind = f"passes-{what}"
    if reason != rules.THREADS:
        kind = "touches-cushion" if what == "cushion" else "touches-edge"
    cushion = gap.cushion if what == "cushion" else ""
    return at, margin, reason, Fact(kind, ball=ball, cushion=cushion, mm=abs(margin))


def _stretch(
    table: Table, gap: Gap, _balls: Sequence[Ball], way: Way, _first_mm: float
) -> _Measured:
    low, high = stretch_mm(gap)
    axis, face = {
        "left": (1, 0.0), "right": (1, table.width_mm), "bottom": (0, 0.0),
        "top": (0, table.length_mm),
    }[gap.cushion]  # fmt: skip
    spot = way.first_cushion_mm or tuple(way.path_mm[-1])
    room = min(spot[axis] - low, high - spot[axis])
    away = math.hypot(spot[1 - axis] - face, max(-room, 0.0)) - way.radius_mm
    met = way.first_cushion_mm is not None
    margin, reason = rules.stretch(met, way.first_cushion == gap.cushion, room, away)
    at = _length(way.legs[0]) if reason == rules.THREADS else -1.0
    if reason == rules.STOPS_SHORT:
        return at, margin, reason, Fact("stops-short-of-cushion", mm=-margin)
    if reason == rules.WRONG_CUSHION:
        return at, margin, reason, Fact("other-cushion-first", cushion=way.first_cushion)
    kind = "inside-stretch" if reason == rules.THREADS else "outside-stretch"
    return at, margin, reason, Fact(kind, mm=abs(margin))


def _length(leg: np.ndarray) -> float:
    return float(np.hypot(*np.diff(leg, axis=0).T).sum())


def _area(_table: Table, gap: Gap, _balls: Sequence[Ball], way: Way, _first_mm: float) -> _Measured:
    room = room_inside(gap.points_mm, tuple(way.path_mm[-1]))
    margin, reason = rules.area(room, way.stops_mm is None, way.radius_mm)
    if reason == rules.IN_OFF:
        return math.inf, margin, reason, Fact("goes-in-off")
    kind = "stops-in-area" if reason == rules.THREADS else "stops-outside-area"
    return math.inf, margin, reason, Fact(kind, mm=abs(room))


def _cannon(_table: Table, gap: Gap, balls: Sequence[Ball], way: Way, first_mm: float) -> _Measured:
    if gap.side not in SIDES:
        raise UnknownNameError("side", gap.side, tuple(SIDES))
    wanted = next((ball for ball in balls if ball.id == gap.balls[0]), None)
    if wanted is None:
        return -1.0, math.nan, rules.EDGE_PLAYED, Fact("cannon-ball-gone", ball=gap.balls[0])
    at, left, least = meeting_facts(way, wanted.centre_mm, first_mm)
    margin, reason = rules.cannon(at >= 0.0, left, least, SIDES[gap.side], way.touch_mm)
    if at < 0.0:
        return at, margin, reason, Fact("misses-ball", ball=wanted.id, mm=-margin)
    side = "" if gap.side == "either" else "-on-left" if left > 0.0 else "-on-right"
    return at, margin, reason, Fact(f"meets{side}", ball=wanted.id)
