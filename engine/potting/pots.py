"""The pot of a shot: is it on, why not, and the geometry a coach explains it with.

Everything here is plain geometry: the line of centres is the potting line. Where ball friction
is allowed for, each lane turns its own contact slightly (see `engine.lanes.aim`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from operator import is_

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.potting.blocked import TOUCH_MM, balls_at, balls_in_way
from engine.potting.cueing import lowest_tip
from engine.potting.fullness import fullness_name, fullness_of_cut
from engine.potting.pockets import PocketWindow, pocket_window
from engine.potting.vectors import Point, along, direction_rad, distance_mm, to_edge_mm, wrapped_rad
from engine.results import Fact, PotAnswer
from engine.routine.values import Shot
from engine.tables.model import Table

#: The thinnest cut a coach would set (common practice, no source).
PRACTICAL_CUT_DEG = 80.0
#: Cuts below this count as straight: no side to speak of.
STRAIGHT_DEG = 1e-6


def cue_ball_of(balls: Sequence[Ball]) -> Ball:
    """The cue ball among `balls`; `UnknownNameError` when it has not been placed."""
    for ball in balls:
        if ball.is_cue:
            return ball
    raise UnknownNameError("cue ball", "cue", [ball.id for ball in balls])


def ball_of(balls: Sequence[Ball], ball_id: str) -> Ball:
    """The ball of that id; `UnknownNameError` lists the ones there are."""
    for ball in balls:
        if ball.id == ball_id:
            return ball
    raise UnknownNameError("ball", ball_id, [ball.id for ball in balls])


#: The last question and its answer: one set-up is asked after several times in a row.
_last: tuple[tuple[object, ...], PotAnswer] | None = None


def pot(table: Table, conditions: Conditions, balls: Sequence[Ball], shot: Shot) -> PotAnswer:
    """The pot of `shot.object_ball` into `shot.pocket` from where the balls lie.

    `UnknownNameError` for a ball or pocket that is not there, `OutOfRangeError` when the shot
    names the cue ball as the object ball.
    """
    global _last
    asked = (table, conditions, balls, shot)
    last = _last
    # the very same values, which never change (a list of balls may)
    if last is not None and isinstance(balls, tuple) and all(map(is_, asked, last[0])):
        return last[1]
    found = _pot(table, conditions, balls, shot)
    _last = (asked, found)
    return found


def _pot(table: Table, conditions: Conditions, balls: Sequence[Ball], shot: Shot) -> PotAnswer:
    cue, target = cue_ball_of(balls), ball_of(balls, shot.object_ball)
    pocket = table.pocket(shot.pocket)
    if target.id == cue.id:
        raise OutOfRangeError("object ball", repr(target.id), "a ball other than the cue ball")
    radius, cue_radius, touch = (
        conditions.ball_radius_mm, conditions.cue_radius_mm, conditions.touch_mm
    )  # fmt: skip
    others = [ball for ball in balls if ball.id not in (cue.id, target.id)]
    window = pocket_window(pocket, target.centre_mm, radius)
    line = window.direction_rad
    contact = along(target.centre_mm, line + math.pi, touch)
    touching = distance_mm(cue.centre_mm, contact) < TOUCH_MM
    aim = line if touching else direction_rad(cue.centre_mm, contact)
    turn = wrapped_rad(line - aim)
    lowest, limited_by = lowest_tip(table, conditions, cue.centre_mm, aim, others)
    fullness = fullness_of_cut(turn)
    reasons = (
        *_pocket_reasons(window, pocket.id),
        *_cut_reasons(math.degrees(abs(turn))),
        *_contact_reasons(table, contact, others, cue_radius, touch),
        *_way_reasons(
            "line-blocked", [target.centre_mm, window.aim_mm, pocket.fall_mm], others, 2.0 * radius
        ),
        *_way_reasons("way-blocked", [cue.centre_mm, contact], others, touch),
    )
    return PotAnswer(
        on=not reasons,
        reasons=reasons,
        object_ball=target.id,
        pocket=pocket.id,
        contact_mm=contact,
        cut_deg=math.degrees(abs(turn)),
        fullness=fullness,
        fullness_name=fullness_name(fullness),
        cut_side=_side(turn),
        potting_line_mm=(target.centre_mm, window.aim_mm),
        aim_line_mm=(cue.centre_mm, contact),
        ninety_line_mm=(contact, _ninety_end(table, contact, line, turn, cue_radius)),
        pocket_margin_deg=math.degrees(window.half_width_rad),
        lowest_tip=lowest,
        lowest_tip_reason=limited_by,
    )


def _side(turn_rad: float) -> str:
    if abs(math.degrees(turn_rad)) < STRAIGHT_DEG:
        return ""
    return "left" if turn_rad > 0 else "right"


def _ninety_end(
    table: Table, contact: Point, line_rad: float, turn_rad: float, radius_mm: float
) -> Point:
    """Where the 90-degree line meets the first cushion (the cue ball's centre there)."""
    away = line_rad - math.copysign(math.pi / 2, turn_rad)
    room = (table.width_mm - radius_mm, table.length_mm - radius_mm)
    return along(contact, away, to_edge_mm(contact, away, (radius_mm, radius_mm), room))


def _pocket_reasons(window: PocketWindow, pocket: str) -> tuple[Fact, ...]:
    if window.is_clean:
        return ()
    return (Fact("pocket-thin", pocket=pocket, deg=math.degrees(-window.half_width_rad)),)


def _cut_reasons(cut_deg: float) -> tuple[Fact, ...]:
    if cut_deg >= 90.0:
        return (Fact("cut-past-90", deg=cut_deg),)
    return (Fact("cut-too-thin", deg=cut_deg),) if cut_deg > PRACTICAL_CUT_DEG else ()


def _contact_reasons(
    table: Table, contact: Point, others: Sequence[Ball], radius_mm: float, touch_mm: float
) -> tuple[Fact, ...]:
    found = []
    sizes = (table.width_mm, table.length_mm)
    room = radius_mm - TOUCH_MM
    if not all(room <= at <= size - room for at, size in zip(contact, sizes, strict=True)):
        found.append(Fact("contact-off-bed"))
    for ball, overlap in balls_at(contact, others, touch_mm):
        found.append(Fact("contact-covered", ball=ball.id, mm=overlap))
    return tuple(found)


def _way_reasons(
    kind: str, line_mm: Sequence[Point], others: Sequence[Ball], touch_mm: float
) -> tuple[Fact, ...]:
    return tuple(
        Fact(kind, ball=ball.id, mm=overlap)
        for ball, overlap in balls_in_way(line_mm, others, touch_mm)
    )
