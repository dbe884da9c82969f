"""Where the cue ball is sent: one aim for every strike, one or many at a time.

A level cue sends the cue ball straight and the closed forms of `engine.playing.aims` find the
direction; a raised cue with side, or a nap that pulls, bends the way there, and the search plays
the shot.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from engine.errors import OutOfRangeError
from engine.motion.cloth import stun_tip_height
from engine.playing.aims import BEHIND, aim_many, sizes_of
from engine.playing.contact import first_contact_event
from engine.playing.laid_out import LaidOutShot
from engine.playing.strikes import Struck
from engine.potting.vectors import direction_rad, wrapped_rad
from engine.shot import Strike, Trace, play
from engine.shot.layout import condition_values

#: How near the object ball's line must come to the potting line: 1e-9 rad is 4 µm over the bed.
AIM_RAD = 1e-9
TRIES = 40
#: Stun's tip and contact depend a little on each other: both are settled at once.
STUN_TRIES, SETTLED = 25, 1e-10


def aims(
    shot: LaidOutShot,
    tip_height: np.ndarray,
    speed_mm_s: np.ndarray,
    places_mm: np.ndarray,
    side: np.ndarray | None = None,
) -> tuple[np.ndarray, np.ndarray]:
    """Directions (N,) of strikes from the balls' places (N or 1, n, 2), and how each came out.

    The states are those of `engine.playing.aims`; strikes are with a level cue.
    """
    direction, state = np.empty(len(tip_height)), np.zeros(len(tip_height), dtype=np.int64)
    line = shot.line_rad(places_mm)
    if shot.aim_rad is not None:
        direction[:] = line
        return direction, state
    c = shot.conditions
    aim_many(
        np.ascontiguousarray(places_mm[:, shot.cue]),
        np.ascontiguousarray(places_mm[:, shot.target]), line, np.ascontiguousarray(speed_mm_s),
        np.ascontiguousarray(tip_height), np.zeros(len(tip_height)) if side is None else side,
        sizes_of(c), condition_values(c), shot.shot.allow_for_throw, direction, state,
    )  # fmt: skip
    return direction, state


def aim_of(shot: LaidOutShot, struck: Struck) -> float:
    """The direction (radians) of one strike, swerve and nap allowed for.

    `OutOfRangeError` when the object ball would be met from behind (a cut of 90° or more).
    """
    places, upright = shot.places_mm[None], math.cos(struck.elevation_rad)
    found, state = aims(
        shot, np.array([struck.tip_height / upright]), np.array([struck.speed_mm_s]), places,
        np.array([float(struck.side)]),
    )  # fmt: skip
    direction = float(found[0])
    if shot.aim_rad is not None:
        return direction
    if state[0] == BEHIND:
        cut = math.degrees(abs(wrapped_rad(direction - float(shot.line_rad(places)[0]))))
        raise OutOfRangeError("the cut", f"{cut:.1f}°", "less than 90°", "Choose another pocket.")
    bends = struck.side != 0.0 and struck.elevation_rad != 0.0
    if bends or shot.conditions.nap_drift:
        return _played_aim(shot, struck, direction)
    return direction


def far_to_contact(shot: LaidOutShot, direction_rad: np.ndarray, places: np.ndarray) -> np.ndarray:
    """How far (mm) a straight cue ball goes to the contact, (N,); places (N or 1, n, 2)."""
    step = places[:, shot.target] - places[:, shot.cue]
    cos, sin = np.cos(direction_rad), np.sin(direction_rad)
    ahead = step[:, 0] * cos + step[:, 1] * sin
    off = step[:, 1] * cos - step[:, 0] * sin
    two = shot.conditions.touch_mm
    return np.asarray(ahead - np.sqrt(np.maximum(two * two - off * off, 0.0)))


def stun_tips(
    shot: LaidOutShot,
    speed_at: Callable[[np.ndarray], np.ndarray],
    places: np.ndarray,
    side: float = 0.0,
    elevation_rad: float = 0.0,
) -> np.ndarray:
    """Tip heights (N,) that arrive at the object ball with no spin from its places (N, n, 2).

    `speed_at` gives the speeds (mm/s) of tip heights, both (N,): a lower tip makes a slower ball,
    which needs a lower tip again. nan where it is out of reach: the tip would lie beyond the
    miscue limit.
    """
    c, upright = shot.conditions, math.cos(elevation_rad)
    line = shot.line_rad(places)
    contact = places[:, shot.target] - c.touch_mm * np.column_stack([np.cos(line), np.sin(line)])
    far = np.linalg.norm(contact - places[:, shot.cue], axis=1)
    across, lowest = np.full(len(places), float(side)), lowest_tip(c.tip_limit, side)
    tip, last, last_off = np.zeros(len(places)), np.full(len(places), np.nan), np.zeros(len(places))
    for _ in range(STUN_TRIES):
        speed = speed_at(tip)
        wanted = upright * np.asarray(
            stun_tip_height(far, speed, c.sliding_friction, 1000.0 * c.gravity_m_s2)
        )
        # where even the lowest tip wants a lower one, none does it
        off = np.where((tip < lowest) & (wanted < tip), np.nan, wanted - tip)
        if not np.any(np.abs(off) >= SETTLED):
            break
        # secants: the slope of what is off is known from the try before, 1 from the first
        with np.errstate(divide="ignore", invalid="ignore"):
            slope = (last_off - off) / (tip - last)
        step = np.where(np.isfinite(slope) & (slope > 0.0), off / slope, off)
        last, last_off = tip, off
        tip = np.maximum(tip + step, lowest - SETTLED)
        # throw turns the aim, and so moves the contact a little
        way, _ = aims(shot, np.nan_to_num(tip) / upright, np.nan_to_num(speed), places, across)
        far = far_to_contact(shot, way, places)
    does = (np.abs(off) < SETTLED) & (np.hypot(wanted, side) <= c.tip_limit)
    return np.where(does, wanted, np.nan)


def lowest_tip(tip_limit: float, side: float) -> float:
    """The lowest tip height (over the radius) that side leaves within the miscue limit."""
    return -math.sqrt(max(tip_limit * tip_limit - side * side, 0.0))


def play_strike(
    shot: LaidOutShot, struck: Struck, direction: float, *, free: bool = False
) -> Trace:
    """The shot played to rest; `free`: with cue ball and object ball alone."""
    balls = [shot.balls[index] for index in shot.alone]
    if not free:
        balls += shot.others
    strike = Strike(
        struck.speed_mm_s, struck.tip_height, struck.side, math.degrees(struck.elevation_rad)
    )
    return play(shot.table, shot.conditions, balls, strike, direction, cue_id=shot.cue_ball.id)


def _played_aim(shot: LaidOutShot, struck: Struck, first: float) -> float:
    """The aim for a cue ball whose way bends: found by playing the shot."""
    ball = shot.object_ball
    assert ball is not None
    places = shot.places_mm[None]
    line = float(shot.line_rad(places)[0])

    def strays(direction: float) -> float | None:
        trace = play_strike(shot, struck, direction, free=True)
        event = first_contact_event(trace, shot.cue_ball.id)
        if event is None:
            return None
        centres = direction_rad(event.at_mm, ball.centre_mm)
        if not shot.shot.allow_for_throw:
            return wrapped_rad(centres - line)
        vx, vy = trace.velocities(ball.id, event.t_s)
        return wrapped_rad(math.atan2(float(vy), float(vx)) - line)

    # a turn of the aim moves the contact by the distance, and the line of centres by far more
    away = max(float(far_to_contact(shot, np.array([first]), places)[0]), 1.0)
    slope = -away / (shot.conditions.touch_mm * max(math.cos(line - first), 0.05))
    found = root_near(strays, first, slope)
    return first if found is None else found


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
