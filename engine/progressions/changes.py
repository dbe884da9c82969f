"""One dial for each way to make a shot harder: amounts above 0 are harder, below 0 easier.

An amount is in millimetres: by how much a gap gets narrower, or a way longer. Balls are set on
whole millimetres (`grain_mm`), as a tape reads them. A change that cannot be set up (balls
overlap, off the bed, the pot is not on) gives None.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from engine.errors import BaizewrightError
from engine.playing import gaps_in_order
from engine.potting import pot
from engine.problems import problems_of
from engine.routine.context import conditions_of, table_of
from engine.routine.edits import move_balls, set_gap
from engine.routine.values import Gap, Routine
from engine.tables.model import Table

Point = tuple[float, float]
_TOWARDS: dict[str, Point] = {
    "left": (-1.0, 0.0), "right": (1.0, 0.0), "bottom": (0.0, -1.0), "top": (0.0, 1.0),
}  # fmt: skip
#: The farthest a dial is turned either way, mm.
MOST_MM = {"gap": 400.0, "distance": 2200.0, "pot": 1800.0}
#: Ways that spoil a set-up; others were there before or are left alone.
_SPOILT = ("overlap", "off-bed", "in-pocket", "gap-off-bed", "gap-incomplete", "rule")


def can_change(routine: Routine, shot_id: str, gap_id: str, way: str) -> bool:
    """Whether that way changes anything in this shot."""
    shot = routine.shot(shot_id)
    if way == "gap":
        return bool(gap_id) and all(
            routine.gap(one).kind != "cannon" for one in gaps_in_order(routine, gap_id)
        )
    return shot.aim_deg is None and bool(shot.object_ball and shot.pocket)


def changed(
    routine: Routine, shot_id: str, gap_id: str, way: str, amount_mm: float, grain_mm: float = 1.0
) -> Routine | None:
    """The routine with a dial turned; None when it cannot be set up so."""
    try:
        if way == "gap":
            made = _narrower(routine, gap_id, amount_mm, grain_mm)
        elif way == "distance":
            made = _farther(routine, shot_id, amount_mm, grain_mm)
        else:
            made = _longer_pot(routine, shot_id, amount_mm, grain_mm)
        if made is None or not _can_be_set_up(routine, made):
            return None
        shot = made.shot(shot_id)
        if (
            shot.aim_deg is None
            and not pot(table_of(made), conditions_of(made), made.balls, shot).on
        ):
            return None
    except BaizewrightError:
        return None
    return made


def _can_be_set_up(before: Routine, after: Routine) -> bool:
    known = {(one.kind, one.balls, one.gap) for one in problems_of(before)}
    return not any(
        one.kind in _SPOILT and (one.kind, one.balls, one.gap) not in known
        for one in problems_of(after)
    )


def _narrower(routine: Routine, gap_id: str, by_mm: float, grain_mm: float) -> Routine | None:
    """Every gap that is asked for narrower by so much, its middle where it was."""
    made: Routine | None = routine
    for one in gaps_in_order(routine, gap_id):
        if made is not None:
            made = _narrower_gap(made, made.gap(one), by_mm, grain_mm)
    return made


def _narrower_gap(routine: Routine, gap: Gap, by_mm: float, grain_mm: float) -> Routine | None:
    if gap.kind == "ball-ball":
        one, other = (routine.ball(ball_id) for ball_id in gap.balls)
        free = [ball for ball in (one, other) if not ball.locked]
        if not free:
            return None
        way = _unit(one.centre_mm, other.centre_mm)
        each = by_mm / len(free)
        places = {}
        for ball in free:
            towards = each if ball is one else -each
            places[ball.id] = _along(ball.centre_mm, way, towards, grain_mm)
        return move_balls(routine, places)
    if gap.kind == "ball-cushion":
        ball = routine.ball(gap.balls[0])
        if ball.locked:
            return None
        place = _along(ball.centre_mm, _TOWARDS[gap.cushion], by_mm, grain_mm)
        return move_balls(routine, {ball.id: place})
    if gap.kind == "cushion-stretch":
        assert gap.from_mm is not None and gap.to_mm is not None
        start = _to_grain(gap.from_mm + by_mm / 2.0, grain_mm)
        end = _to_grain(gap.to_mm - by_mm / 2.0, grain_mm)
        if end - start < 1.0:
            return None
        return set_gap(routine, gap.id, replace(gap, from_mm=start, to_mm=end))
    if gap.kind == "cloth-area":
        points = np.array(gap.points_mm)
        middle = points.mean(axis=0)
        across = float(np.ptp(points, axis=0).min())
        share = 1.0 - by_mm / across if across else 0.0
        if share <= 0.02:
            return None
        made = middle + (points - middle) * share
        kept = tuple((_to_grain(x, grain_mm), _to_grain(y, grain_mm)) for x, y in made.tolist())
        return set_gap(routine, gap.id, replace(gap, points_mm=kept))
    return None


def _farther(routine: Routine, shot_id: str, by_mm: float, grain_mm: float) -> Routine | None:
    """The cue ball so much farther from the object ball, on the line it was aimed along."""
    cue, shot = routine.cue_ball, routine.shot(shot_id)
    if cue is None or cue.locked:
        return None
    answer = pot(table_of(routine), conditions_of(routine), routine.balls, shot)
    way = _unit(answer.contact_mm, cue.centre_mm)
    place = _along(cue.centre_mm, way, by_mm, grain_mm)
    # not to the other side of the object ball
    if math.dist(cue.centre_mm, answer.contact_mm) + by_mm < conditions_of(routine).touch_mm:
        return None
    return move_balls(routine, {cue.id: place})


def _longer_pot(routine: Routine, shot_id: str, by_mm: float, grain_mm: float) -> Routine | None:
    """Object ball and cue ball so much farther from the pocket, the cut as it was."""
    cue, shot = routine.cue_ball, routine.shot(shot_id)
    target = routine.ball(shot.object_ball)
    if cue is None or cue.locked or target.locked:
        return None
    table: Table = table_of(routine)
    mouth = table.pocket(shot.pocket).throat_mm
    way = _unit(mouth, target.centre_mm)
    if math.dist(mouth, target.centre_mm) + by_mm < 3.0 * conditions_of(routine).touch_mm:
        return None
    return move_balls(
        routine,
        {
            target.id: _along(target.centre_mm, way, by_mm, grain_mm),
            cue.id: _along(cue.centre_mm, way, by_mm, grain_mm),
        },
    )


def _unit(start: Point, end: Point) -> Point:
    size = math.dist(start, end) or 1.0
    return ((end[0] - start[0]) / size, (end[1] - start[1]) / size)


def _along(place: Point, way: Point, by_mm: float, grain_mm: float) -> Point:
    if by_mm == 0.0:
        return place
    return (
        _to_grain(place[0] + way[0] * by_mm, grain_mm),
        _to_grain(place[1] + way[1] * by_mm, grain_mm),
    )


def _to_grain(value: float, grain_mm: float) -> float:
    return round(value / grain_mm) * grain_mm if grain_mm > 0.0 else value
