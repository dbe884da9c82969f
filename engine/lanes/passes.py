"""Gaps: does a lane pass between two edges, and with how much room to the nearer one.

Margins are millimetres of room between the cue ball's edge and the nearer edge of the gap where
the lane crosses it. A lane that does not cross has a negative margin: the distance by which its
way would have to move before the cue ball could just squeeze through.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from shapely.geometry import LineString
from shapely.geometry import Point as PlanePoint
from shapely.ops import substring

from engine.balls import Ball
from engine.errors import OutOfRangeError, UnknownNameError
from engine.lanes.edges import gap_ends_mm
from engine.lanes.finishes import area_pass, cannon_pass, stretch_pass
from engine.lanes.way import Way, met_before
from engine.results import Fact, GapPass, Point
from engine.routine.values import GAP_KINDS, Gap
from engine.tables.model import Table


def gap_pass(
    table: Table, gap: Gap, balls: Sequence[Ball], way: Way, after_mm: float = 0.0
) -> GapPass:
    """How one lane stands to one gap; errors for a gap that names what is not there.

    Of a gap that is crossed several times the crossings `after_mm` of the way count, if any.
    """
    if gap.kind not in GAP_KINDS:
        raise UnknownNameError("kind of gap", gap.kind, GAP_KINDS)
    if gap.kind == "in-order":
        raise OutOfRangeError(f"gap {gap.id}", "several gaps in order", "one gap at a time")
    path = way.path_mm
    if len(path) < 2:
        return GapPass(way.label, gap.id, False, math.nan, Fact("no-way"))
    if gap.kind in ("ball-ball", "ball-cushion"):
        standing = {ball.id for ball in way.obstacles}
        gone = [ball_id for ball_id in gap.balls if ball_id not in standing]
        ends = gap_ends_mm(table, gap, balls)
        if gone:
            reason = Fact("edge-played", ball=gone[0])
            return GapPass(way.label, gap.id, False, math.nan, reason)
        return _crossing_pass(gap, way, way.line, ends, after_mm)
    if gap.kind == "cushion-stretch":
        return stretch_pass(table, gap, way, way.line)
    if gap.kind == "cloth-area":
        return area_pass(gap, way, path)
    return cannon_pass(gap, way)


def pass_in_order(
    table: Table, gap: Gap, parts: Sequence[Gap], balls: Sequence[Ball], way: Way
) -> GapPass:
    """How one lane stands to several gaps one after another: each counts from where the one
    before it was done, so that a way may come back through a gap it has been through."""
    found: list[GapPass] = []
    done = 0.0
    for part in parts:
        found.append(gap_pass(table, part, balls, way, done))
        done = max(done, found[-1].along_mm)
    return ordered_pass(gap, found)


def ordered_pass(gap: Gap, parts: Sequence[GapPass]) -> GapPass:
    """How one lane stands to several gaps asked one after another, from how it stands to each.

    The margin is the least; the first part that fails, or comes too early, tells the reason.
    """
    label = parts[0].lane if parts else ""
    if not parts:
        raise OutOfRangeError(f"gaps of gap {gap.id}", "none", "one or more")
    margin = min(part.margin_mm for part in parts)
    done = 0.0
    for part in parts:
        if not part.threads:
            reason = Fact("part-fails", gap=part.gap, then=part.reason)
            return GapPass(label, gap.id, False, margin, reason)
        if part.along_mm < done:
            reason = Fact("before-its-turn", gap=part.gap)
            return GapPass(label, gap.id, False, min(margin, 0.0), reason)
        done = part.along_mm
    reason = Fact("threads-all", count=len(parts), mm=margin)
    return GapPass(label, gap.id, True, margin, reason, done)


def _crossing_pass(
    gap: Gap, way: Way, path: LineString, ends: tuple[Point, Point], after_mm: float
) -> GapPass:
    """The best crossing of the line across the gap, or how far the way misses it."""
    met = path.intersection(LineString(ends))
    spots = [spot for spot in getattr(met, "geoms", [met]) if not spot.is_empty]
    crossings = sorted(path.project(spot.interpolate(0.5) if isinstance(spot, LineString) else spot)
                       for spot in spots)  # fmt: skip
    if not crossings:
        return _missed(gap, way, path, ends)
    in_time = [along for along in crossings if along >= after_mm]
    tries = [_crossed(gap, way, path, ends, along) for along in in_time or crossings]
    return next((one for one in tries if one.threads), max(tries, key=lambda one: one.margin_mm))


def _crossed(
    gap: Gap, way: Way, path: LineString, ends: tuple[Point, Point], along_mm: float
) -> GapPass:
    two = way.touch_mm
    here = substring(path, 0.0, min(along_mm + 2.0 * two, path.length))
    at = path.interpolate(along_mm)
    rooms = [(here.distance(PlanePoint(ends[0])) - two, 0)]
    if gap.kind == "ball-ball":
        rooms.append((here.distance(PlanePoint(ends[1])) - two, 1))
    else:
        to_face = at.distance(PlanePoint(ends[1])) - way.radius_mm
        # a bounce in the gap leaves no room, and rounding must not make it an overlap
        rooms.append((0.0 if abs(to_face) < 1e-6 else to_face, 1))
    margin, edge = min(rooms)
    ball = gap.balls[edge] if edge < len(gap.balls) else ""
    cushion, what = ("", "ball") if ball else (gap.cushion, "cushion")
    before = met_before(way, along_mm, gap.balls)
    if before is not None:
        margin = min(margin, -before[1])
        reason = Fact("meets-before-gap", ball=before[0])
        return GapPass(way.label, gap.id, False, margin, reason)
    if margin < 0.0:
        reason = Fact(f"touches-{what}", ball=ball, cushion=cushion, mm=-margin)
        return GapPass(way.label, gap.id, False, margin, reason)
    then = None if way.stops_mm is not None else Fact("then-in-off")
    reason = Fact(f"passes-{what}", ball=ball, cushion=cushion, mm=margin, then=then)
    return GapPass(way.label, gap.id, True, margin, reason, along_mm)


def _missed(gap: Gap, way: Way, path: LineString, ends: tuple[Point, Point]) -> GapPass:
    line = LineString(ends)
    away = path.distance(line)
    last = PlanePoint(path.coords[-1])
    share = line.project(last, normalized=True)
    before = met_before(way, path.length)
    meets = None if before is None else Fact("meets", ball=before[0])
    if math.isclose(line.distance(last), away, abs_tol=1e-9) and 0.0 < share < 1.0:
        reason = Fact("stops-short-of-gap", mm=away, then=meets)
        return GapPass(way.label, gap.id, False, -away, reason)
    miss = away + way.touch_mm
    return GapPass(way.label, gap.id, False, -miss, Fact("misses-gap", mm=miss, then=meets))
