"""A routine set up on another table, with everything that could not be carried over told."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from engine.balls import Ball
from engine.errors import UnknownNameError
from engine.moving.places import MIDDLE_MM, PLACE_WAYS, Places, Side, places
from engine.problems import problems_of
from engine.results import Fact, Problem
from engine.routine.context import conditions_of, table_of
from engine.routine.rules.setup import CONDITION_NAMES
from engine.routine.values import ClothMark, Gap, Routine, Shot
from engine.tables.measured import MeasuredTable

#: The first of the other ways by which all that fitted still fits; else the one with fewest balls
#: off the bed, then with least amiss.
FIT = "fit"
WAYS: tuple[str, ...] = (FIT, *PLACE_WAYS)
#: Conditions that are the coach's or nature's, not the table's: they go along.
CARRIED: tuple[str, ...] = ("pace_speeds_m_s", "cue_mass_kg", "tip_limit", "gravity_m_s2")


@dataclass(frozen=True, slots=True)
class Target:
    """The table to move to: its id, a coach's measurements of it, conditions found on it.

    `conditions` None takes the table's usual ones (and keeps what is the coach's own);
    `keep_conditions` keeps all that the routine states.
    """

    table: str
    measured: MeasuredTable | None = None
    conditions: Mapping[str, Any] | None = None
    keep_conditions: bool = False


@dataclass(frozen=True, slots=True)
class Moved:
    """The routine on the other table, what was left behind or changed, and by which way it went.

    `by` is one of the ways that say where a place goes, never "fit".
    """

    routine: Routine
    notes: tuple[Fact, ...]
    by: str


def move(routine: Routine, target: Target, by: str) -> Moved:
    """The routine moved to another table `by` one of `engine.moving.WAYS`.

    Nothing is pushed about to make it fit: what no longer fits is a problem of the new routine.
    `UnknownNameError` and `OutOfRangeError` for a table, way or measurement that cannot be.
    """
    if by not in WAYS:
        raise UnknownNameError("way of moving", by, WAYS)
    return _fitting(routine, target) if by == FIT else _moved(routine, target, by)


def new_problems(was: Iterable[Problem], now: Iterable[Problem]) -> tuple[Problem, ...]:
    """Those of `now` that are not among `was`, whatever their figures are."""
    had = {(one.kind, one.balls, one.shot, one.gap) for one in was}
    return tuple(one for one in now if (one.kind, one.balls, one.shot, one.gap) not in had)


def _fitting(routine: Routine, target: Target) -> Moved:
    was = problems_of(routine)
    tried = []
    for by in PLACE_WAYS:
        moved = _moved(routine, target, by)
        amiss = _amiss(new_problems(was, problems_of(moved.routine)))
        tried.append((amiss, moved))
        if not any(amiss):
            break
    amiss, best = min(tried, key=lambda one: one[0])
    first = tried[0][1].by
    if best.by == first:
        return best
    kind = "moved-as-more-would-not-fit" if any(amiss) else "moved-as-else-not-fit"
    note = Fact(kind, name=best.by, names=(first,))
    return replace(best, notes=(note, *best.notes))


def _amiss(unfit: Sequence[Problem]) -> tuple[int, int]:
    """Balls that cannot even lie where they were put weigh more than those that touch."""
    return (sum(one.kind in ("off-bed", "in-pocket") for one in unfit), len(unfit))


def _moved(routine: Routine, target: Target, by: str) -> Moved:
    notes: list[Fact] = []
    conditions = _conditions(routine, target, notes)
    bare = replace(
        routine,
        table=target.table,
        measured_table=target.measured,
        pocket_openings_mm={},
        conditions=conditions,
    )
    if routine.pocket_openings_mm:
        notes.append(Fact("openings-left-behind"))
    old = Side(table_of(routine), conditions_of(routine))
    new = Side(table_of(bare), conditions_of(bare))
    way = places(by, old, new)
    if by == "spots" and not way.pairs:
        notes.append(Fact("no-shared-spot"))
    balls = []
    for ball in routine.balls:
        x, y = way.ball(ball)
        balls.append(ball.at((x, y)))
    notes += _changed_sides(routine.balls, balls, old, new)
    moved = replace(
        bare,
        balls=tuple(balls),
        gaps=tuple(_gap(gap, way) for gap in routine.gaps),
        cloth_marks=tuple(_mark(mark, way) for mark in routine.cloth_marks),
        shots=tuple(_shot(shot, way, notes) for shot in routine.shots),
    )
    notes += _sizes(old, new)
    return Moved(moved, tuple(notes), by)


def _conditions(routine: Routine, target: Target, notes: list[Fact]) -> dict[str, Any]:
    stated = dict(routine.conditions)
    if target.keep_conditions:
        return stated
    kept = {
        name: value
        for name, value in stated.items()
        if name in CARRIED or name not in CONDITION_NAMES
    }
    dropped = [name for name in stated if name not in kept]
    if dropped:
        notes.append(Fact("conditions-left-behind", names=tuple(dropped)))
    return {**kept, **(target.conditions or {})}


def _gap(gap: Gap, way: Places) -> Gap:
    return replace(
        gap,
        from_mm=None if gap.from_mm is None else way.along(gap.cushion, gap.from_mm),
        to_mm=None if gap.to_mm is None else way.along(gap.cushion, gap.to_mm),
        points_mm=tuple(way.point(point) for point in gap.points_mm),
    )


def _mark(mark: ClothMark, way: Places) -> ClothMark:
    (x, y), *end = (way.point(place) for place in mark.places_mm)
    to_x, to_y = end[0] if end else (None, None)
    return replace(mark, x_mm=x, y_mm=y, to_x_mm=to_x, to_y_mm=to_y)


def _shot(shot: Shot, way: Places, notes: list[Fact]) -> Shot:
    pocket, aim = shot.pocket, shot.aim_deg
    known = [one.id for one in way.new.table.pockets]
    if pocket and pocket not in known:
        notes.append(Fact("pocket-not-there", shot=shot.id, pocket=pocket))
        pocket = ""
    if aim is not None:
        aim = way.direction_deg(aim)
    return replace(shot, pocket=pocket, aim_deg=aim)


def _changed_sides(
    before: Sequence[Ball], after: Sequence[Ball], old: Side, new: Side
) -> list[Fact]:
    """Balls that have come to stand beyond a middle line of the smaller table."""
    notes = []
    for axis, sides in enumerate((("left", "right"), ("lower", "upper"))):
        for was, now in zip(before, after, strict=True):
            then = was.centre_mm[axis] - old.size_mm[axis] / 2.0
            here = now.centre_mm[axis] - new.size_mm[axis] / 2.0
            if abs(then) > MIDDLE_MM and abs(here) > MIDDLE_MM and (then > 0.0) != (here > 0.0):
                notes.append(Fact(f"now-in-{sides[here > 0.0]}-half", ball=now.id))
    return notes


def _sizes(old: Side, new: Side) -> list[Fact]:
    found = []
    was, now = old.conditions, new.conditions
    if (was.ball_radius_mm, was.cue_radius_mm) != (now.ball_radius_mm, now.cue_radius_mm):
        across, before = 2 * now.ball_radius_mm, 2 * was.ball_radius_mm
        cue = None
        if now.cue_radius_mm != now.ball_radius_mm:
            cue = Fact("cue-ball-across", size_mm=2 * now.cue_radius_mm)
        found.append(Fact("balls-across", size_mm=across, was_mm=before, then=cue))
    return found
