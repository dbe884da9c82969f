"""Aiming a lane: where the cue ball must meet the object ball for it to go to the pocket.

Without ball friction the line of centres is the potting line. With it the object ball is thrown
off that line by an amount that depends on how the cue ball arrives, so each lane turns its line
of centres until the object ball leaves along the potting line. A level cue sends the cue ball
straight and the search uses closed forms; a raised cue with side, or a nap that pulls, bends the
way there, and the search plays the shot.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from engine.conditions import Conditions
from engine.errors import OutOfRangeError
from engine.lanes.strikes import Arrival, Struck, arrival
from engine.motion.impact import ball_impact
from engine.potting.vectors import Point, along, direction_rad, distance_mm, wrapped_rad

#: How near the object ball's line must come to the potting line: 1e-9 rad is 4 µm over the bed.
AIM_RAD = 1e-9
TRIES = 40


@dataclass(frozen=True, slots=True)
class Aim:
    """The cue ball's direction (radians), and its centre at contact when it goes straight."""

    direction_rad: float
    contact_mm: Point
    centres_rad: float


def straight_aim(cue_mm: Point, ball_mm: Point, centres_rad: float, touch_mm: float) -> Aim:
    """The aim that meets a ball with a given line of centres, for a straight way there.

    `touch_mm` is the distance of the centres at contact.

    `OutOfRangeError` when the ball would be met from behind (a cut of 90 degrees or more).
    """
    contact = along(ball_mm, centres_rad + math.pi, touch_mm)
    touching = distance_mm(cue_mm, contact) < 1e-6
    direction = centres_rad if touching else direction_rad(cue_mm, contact)
    if math.cos(direction - centres_rad) <= 0.0:
        cut = math.degrees(abs(wrapped_rad(direction - centres_rad)))
        raise OutOfRangeError("the cut", f"{cut:.1f}°", "less than 90°", "Choose another pocket.")
    return Aim(direction, contact, centres_rad)


def aimed(
    struck: Struck,
    cue_mm: Point,
    ball_mm: Point,
    line_rad: float,
    conditions: Conditions,
    allow_for_throw: bool,
) -> Aim:
    """The aim that sends the object ball along `line_rad`, for a cue ball that goes straight.

    Without `allow_for_throw` the line of centres is the potting line. A cue ball that does not
    get there is aimed without throw.
    """
    touch = conditions.touch_mm
    plain = straight_aim(cue_mm, ball_mm, line_rad, touch)
    if not allow_for_throw or _no_ball_friction(conditions):
        return plain

    def strays(centres_rad: float) -> float | None:
        aim = straight_aim(cue_mm, ball_mm, centres_rad, touch)
        there = arrival(struck, distance_mm(cue_mm, aim.contact_mm), conditions)
        if there is None:
            return None
        return wrapped_rad(object_line_rad(there, aim, conditions) - line_rad)

    centres = root_near(strays, line_rad, 1.0)
    return plain if centres is None else straight_aim(cue_mm, ball_mm, centres, touch)


def object_line_rad(there: Arrival, aim: Aim, conditions: Conditions) -> float:
    """The direction the object ball leaves in, for a cue ball that arrives straight."""
    c, radius = conditions, conditions.cue_radius_mm
    hx, hy = math.cos(aim.direction_rad), math.sin(aim.direction_rad)
    turn = there.spin_ratio * there.speed_mm_s / radius
    after = ball_impact(
        there.speed_mm_s * hx, there.speed_mm_s * hy, -turn * hy, turn * hx, there.spin_z_rad_s,
        radius, c.cue_mass_kg, 0.0, 0.0, 0.0, 0.0, 0.0, c.ball_radius_mm, c.ball_mass_kg,
        math.cos(aim.centres_rad), math.sin(aim.centres_rad),
        c.ball_restitution, c.ball_friction_base, c.ball_friction_extra, c.ball_friction_decay_s_m,
    )  # fmt: skip
    return math.atan2(after[6], after[5])


def _no_ball_friction(conditions: Conditions) -> bool:
    return conditions.ball_friction_base == 0.0 and conditions.ball_friction_extra == 0.0


def root_near(strays: Callable[[float], float | None], start: float, slope: float) -> float | None:
    """Where a function of an angle is zero, by secants from `start` and a first slope.

    None when the function has no value on the way or the search does not settle.
    """
    try:
        x0, f0 = start, strays(start)
        if f0 is None or abs(f0) < AIM_RAD:
            return None if f0 is None else x0
        x1 = x0 - f0 / slope
        for _ in range(TRIES):
            f1 = strays(x1)
            if f1 is None or abs(f1) < AIM_RAD:
                return None if f1 is None else x1
            if f1 == f0:
                return None
            x0, x1, f0 = x1, x1 - f1 * (x1 - x0) / (f1 - f0), f1
    except OutOfRangeError:
        return None
    return None
