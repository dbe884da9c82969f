"""Why a gap cannot be reached: the one limit that stops the nearest try."""

from __future__ import annotations

import math

import numpy as np

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.judging.outcomes import with_balls
from engine.judging.rules import (
    BLOCKED,
    EDGE,
    IN_OFF,
    KISS,
    MISSES,
    NOT_POTTED,
    SHORT_OF_BALL,
    STOPS_SHORT,
    WRONG_BALL,
    WRONG_CUSHION,
)
from engine.judging.scan import gap_line
from engine.playing import LaidOutShot
from engine.playing.aiming import aim_of, far_to_contact
from engine.playing.edges import BALL_CUSHION, G_KIND, gap_width_mm, width_wanted_mm
from engine.reach.arriving import meets_with, struck
from engine.reach.mapping import ReachMap, preview
from engine.results import Fact

#: Spin ratios above this have no backspin left to speak of.
GONE = -0.1
#: From this near (mm) a tip's backspin is still all there at contact.
CLOSE_MM = 10.0
#: A try within this share of the tip range from its end is at the end.
AT_END = 0.02


def limit_of(scene: LaidOutShot, found: ReachMap) -> tuple[Fact, float | None]:
    """(limit, nearest miss in mm) of a map without windows."""
    gap = scene.gaps[0]
    radius, cue = scene.conditions.ball_radius_mm, scene.conditions.cue_radius_mm
    width = gap_width_mm(scene.table, gap, scene.balls, radius, cue)
    wanted = width_wanted_mm(gap, radius, cue)
    if len(scene.gaps) == 1 and gap.kind in ("ball-ball", "ball-cushion") and width < wanted:
        lacks = wanted - width
        return Fact("narrow", mm=lacks), lacks
    nearest = found.nearest_miss()
    if nearest is None:
        return _nothing_near(found)
    i, j = nearest
    tip, pace = float(found.tip_heights[i]), float(found.paces[j])
    # a shot that goes through the gap but fails in what it is for misses it by nothing
    through = int(found.reason[i, j]) in (NOT_POTTED, IN_OFF)
    miss = None if through else max(0.0, -float(found.margin_mm[i, j]))
    return _at(scene, found, i, j, tip, pace), miss


def _nothing_near(found: ReachMap) -> tuple[Fact, float | None]:
    reasons = found.reason[found.tried]
    if len(reasons) and np.all(np.isin(reasons, (SHORT_OF_BALL, NOT_POTTED))):
        return Fact("short-of-pot"), None
    return Fact("never-near"), None


def _at(scene: LaidOutShot, found: ReachMap, i: int, j: int, tip: float, pace: float) -> Fact:
    reason, other = int(found.reason[i, j]), int(found.other[i, j])
    ball = scene.balls[other].id if 0 <= other < len(scene.balls) else ""
    if reason == NOT_POTTED:
        return Fact("pot-fails")
    if reason == IN_OFF:
        return Fact("always-in-off")
    if reason in (BLOCKED, WRONG_BALL):
        return Fact("in-the-way", ball=ball)
    if reason == KISS:
        return Fact("kisses-first")
    if scene.target >= 0 and _threads_from_close(scene):
        return Fact("no-backspin")
    if reason == STOPS_SHORT and found.paces[-1] - pace < 0.5:
        return Fact("highest-pace-short")
    low_end = tip - found.tip_heights[0] <= AT_END
    high_end = found.tip_heights[-1] - tip <= AT_END
    at_end = (low_end or high_end) and reason in (MISSES, EDGE, WRONG_CUSHION)
    if scene.target >= 0 and at_end and _would_pass_if_bent_at_once(scene, tip, pace):
        return Fact("late-bend", pace=pace)
    if low_end:
        return Fact("beyond-screw")
    return Fact("beyond-top" if high_end else "needs-side")


def _threads_from_close(scene: LaidOutShot) -> bool:
    """Whether screw threads the gap when the cue ball starts just short of contact.

    The same line of aim and the same speeds, but the tip's backspin is still all there. Asked
    only of screw that really had none left at the slowest way it is lost.
    """
    contact, way = _contact(scene, 0.0, 0.5 * (PACE_LOWEST + PACE_HIGHEST))
    places = scene.places_mm
    if float(np.linalg.norm(contact - places[scene.cue])) <= 2.0 * CLOSE_MM:
        return False
    places[scene.cue] = contact - CLOSE_MM * np.array([math.cos(way), math.sin(way)])
    close = preview(with_balls(scene, places))
    i, j = np.nonzero(close.threads & (close.tip_heights[:, None] < 0.0))
    # the same strikes, from where the cue ball really lies: has their backspin gone?
    return any(
        meets_with(scene, float(close.tip_heights[a]), float(close.paces[b]))[1] > GONE
        for a, b in zip(i, j, strict=True)
    )


def _would_pass_if_bent_at_once(scene: LaidOutShot, tip: float, pace: float) -> bool:
    """Whether the final rolling line, drawn from the contact itself, would thread the gap.

    Final line: 5/7 of the velocity after contact and 2/7 of the spin's rim speed, which the
    contact leaves along the old line (ball friction left out).
    """
    gap = scene.gap_rows[0]
    if gap[G_KIND] > BALL_CUSHION:
        return False
    contact, way = _contact(scene, tip, pace)
    speed, ratio = meets_with(scene, tip, pace)
    ball = scene.places_mm[scene.target]
    heading = np.array([math.cos(way), math.sin(way)])
    centres = (ball - contact) / np.linalg.norm(ball - contact)
    kept = heading - 0.5 * (1.0 + scene.conditions.ball_restitution) * centres * float(
        np.dot(heading, centres)
    )
    final = speed * (5.0 * kept + 2.0 * ratio * heading)
    size = float(np.linalg.norm(final))
    if size <= 0.0:
        return False
    ends = np.zeros(4)
    gap_line(gap, scene.places_mm, ends)
    is_cushion = gap[G_KIND] == BALL_CUSHION
    c = scene.conditions
    room = (c.touch_mm, c.cue_radius_mm if is_cushion else c.touch_mm)
    return _ray_clears(contact, final / size, ends, room)


def _contact(scene: LaidOutShot, tip: float, pace: float) -> tuple[np.ndarray, float]:
    """The cue ball's centre (mm) at contact, and its direction (radians), for one strike."""
    way, places = aim_of(scene, struck(scene, tip, pace)), scene.places_mm
    far = float(far_to_contact(scene, np.array([way]), places[None])[0])
    return places[scene.cue] + far * np.array([math.cos(way), math.sin(way)]), way


def _ray_clears(
    start: np.ndarray, way: np.ndarray, ends: np.ndarray, room: tuple[float, float]
) -> bool:
    """Whether a ray crosses a gap line with at least that much room to its first and last end."""
    across = np.array([-way[1], way[0]])
    a, b = (np.array(ends[:2]) - start), (np.array(ends[2:]) - start)
    off_a, off_b = float(np.dot(a, across)), float(np.dot(b, across))
    ahead = float(np.dot(0.5 * (a + b), way)) > 0.0
    return ahead and off_a * off_b < 0.0 and abs(off_a) >= room[0] and abs(off_b) >= room[1]
