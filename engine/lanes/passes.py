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
from engine.results import GapPass, Point
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
        return GapPass(way.label, gap.id, False, math.nan, "the cue ball does not get that far")
    if gap.kind in ("ball-ball", "ball-cushion"):
        standing = {ball.id for ball in way.obstacles}
        gone = [ball_id for ball_id in gap.balls if ball_id not in standing]
        ends = gap_ends_mm(table, gap, balls)
        if gone:
            reason = f"ball {gone[0]} is played in this shot and will have left its place"
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
            return GapPass(label, gap.id, False, margin, f"gap {part.gap}: {part.reason}")
        if part.along_mm < done:
            reason = f"gap {part.gap} is passed before its turn"
            return GapPass(label, gap.id, False, min(margin, 0.0), reason)
        done = part.along_mm
    reason = f"threads all {len(parts)} in order, {margin:.0f} mm of room at the tightest"
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
    rooms = [(here.distance(PlanePoint(ends[0])) - two, f"ball {gap.balls[0]}")]
    if gap.kind == "ball-ball":
        rooms.append((here.distance(PlanePoint(ends[1])) - two, f"ball {gap.balls[1]}"))
    else:
        to_face = at.distance(PlanePoint(ends[1])) - way.radius_mm
        # a bounce in the gap leaves no room, and rounding must not make it an overlap
        rooms.append((0.0 if abs(to_face) < 1e-6 else to_face, f"the {gap.cushion} cushion"))
    margin, edge = min(rooms)
    before = met_before(way, along_mm, gap.balls)
    if before is not None:
        margin = min(margin, -before[1])
        return GapPass(way.label, gap.id, False, margin, f"meets ball {before[0]} before the gap")
    if margin < 0.0:
        return GapPass(way.label, gap.id, False, margin, f"touches {edge} by {-margin:.0f} mm")
    then = "" if way.stops_mm is not None else ", then goes in-off"
    reason = f"passes {margin:.0f} mm clear of {edge}{then}"
    return GapPass(way.label, gap.id, True, margin, reason, along_mm)


def _missed(gap: Gap, way: Way, path: LineString, ends: tuple[Point, Point]) -> GapPass:
    line = LineString(ends)
    away = path.distance(line)
    last = PlanePoint(path.coords[-1])
    share = line.project(last, normalized=True)
    before = met_before(way, path.length)
    meets = f"; it meets ball {before[0]}" if before is not None else ""
    if math.isclose(line.distance(last), away, abs_tol=1e-9) and 0.0 < share < 1.0:
        return GapPass(
            way.label, gap.id, False, -away, f"stops {away:.0f} mm short of the gap{meets}"
        )
    miss = away + way.touch_mm
    return GapPass(way.label, gap.id, False, -miss, f"misses the gap by {miss:.0f} mm{meets}")
