"""A lane planned and played: the strike worked out, the aim found, the way it takes."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from engine.errors import OutOfRangeError
from engine.playing.aiming import aim_of, far_to_contact, lowest_tip, stun_tips
from engine.playing.contact import first_contact_event
from engine.playing.laid_out import LaidOutShot
from engine.playing.strikes import STUN_RATIO, Arrival, Struck, arrival, check_strike, speed_of
from engine.results import Fact, LaneEvent
from engine.routine.values import STUN, LaneAsk
from engine.shot import Trace

#: A tip at least this share of the limit below centre is meant as screw.
SCREW_SHARE = 0.4


@dataclass(frozen=True, slots=True)
class Plan:
    """How a lane is played: its strike and direction, and what the coach should know of it."""

    struck: Struck
    direction_rad: float
    is_stun: bool
    cautions: tuple[Fact, ...]


def plan(shot: LaidOutShot, ask: LaneAsk) -> Plan:
    """The strike and direction of a lane; `OutOfRangeError` when it cannot be played."""
    check_strike(ask, shot.conditions)
    tip = float(tips_of(shot, ask, shot.places_mm[None])[0])
    is_stun = ask.tip_height == STUN and not math.isnan(tip)
    if math.isnan(tip):
        tip = lowest_tip(shot.conditions.tip_limit, ask.side)
    speed = float(speed_of(ask, shot.conditions, tip))
    struck = Struck(speed, tip, ask.side, math.radians(ask.elevation_deg))
    direction = aim_of(shot, struck)
    cautions = () if is_stun else _lost_spin(shot, ask, struck, direction)
    return Plan(struck, direction, is_stun, cautions)


def tips_of(shot: LaidOutShot, ask: LaneAsk, places: np.ndarray) -> np.ndarray:
    """Tip heights (N,) of a lane from the balls' places (N, n, 2); nan: stun is out of reach."""
    if ask.tip_height != STUN:
        return np.full(len(places), float(ask.tip_height))
    if shot.pocket < 0:
        raise OutOfRangeError(
            f"tip height of lane {ask.label}", '"stun"', "a number on a shot without a pot",
            "Stun is worked out for the way to an object ball.",
        )  # fmt: skip

    def speed_at(tip: np.ndarray) -> np.ndarray:
        return np.asarray(speed_of(ask, shot.conditions, tip))

    return stun_tips(shot, speed_at, places, ask.side, math.radians(ask.elevation_deg))


def stun_height(shot: LaidOutShot, ask: LaneAsk) -> float | None:
    """The tip that arrives at the object ball with no spin, as hard as a lane; None: out of reach.

    Struck without side, with a level cue.
    """
    if shot.pocket < 0:
        return None
    plain = replace(ask, tip_height=STUN, side=0.0, elevation_deg=0.0)
    tip = float(tips_of(shot, plain, shot.places_mm[None])[0])
    return None if math.isnan(tip) else tip


def arrival_of(shot: LaidOutShot, struck: Struck, direction_rad: float) -> Arrival | None:
    """How a strike's cue ball gets to the object ball, going straight; None when it stops short."""
    far = far_to_contact(shot, np.array([direction_rad]), shot.places_mm[None])
    return arrival(struck, float(far[0]), shot.conditions)


def _lost_spin(
    shot: LaidOutShot, ask: LaneAsk, struck: Struck, direction_rad: float
) -> tuple[Fact, ...]:
    """A warning when stun is out of reach, or when screw has worn off before contact."""
    stun, low = (
        ask.tip_height == STUN,
        struck.tip_height <= -SCREW_SHARE * shot.conditions.tip_limit,
    )
    if shot.pocket < 0 or not (stun or low):
        return ()
    there = arrival_of(shot, struck, direction_rad)
    if stun and there is None:
        return (Fact("no-stun-short"),)
    if stun and there is not None:
        rolls = there.spin_ratio > 1.0 - 1e-9
        kind = "no-stun-rolling" if rolls else "no-stun-forward"
        return (Fact(kind, tip=struck.tip_height),)
    if there is None or there.spin_ratio <= STUN_RATIO:
        return ()
    return (Fact("backspin-gone"),)


def cushion_events(
    trace: Trace, cue_id: str, start_s: float, end_s: float = math.inf
) -> tuple[LaneEvent, ...]:
    """The cushions and jaws the cue ball meets between two times, in order."""
    return tuple(
        event
        for event in trace.events
        if event.ball == cue_id
        and event.kind in ("cushion", "jaw")
        and start_s < event.t_s <= end_s
    )


def start_of_way(shot: LaidOutShot, trace: Trace) -> float | None:
    """When a lane begins: at contact with the object ball, or at once without one.

    None when the cue ball never meets it, or meets another ball before.
    """
    if shot.object_ball is None:
        return 0.0
    event = first_contact_event(trace, shot.cue_ball.id)
    return event.t_s if event is not None and event.other == shot.object_ball.id else None
