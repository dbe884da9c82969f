"""The cue ball's first contact with a ball, read off a played shot."""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine.conditions import Conditions
from engine.potting.fullness import fullness_of_cut
from engine.potting.vectors import direction_rad, wrapped_rad
from engine.results import LaneContact, LaneEvent, Point
from engine.shot import Trace

#: Looking this long before an instant shows the state that led to it.
JUST_BEFORE_S = 1e-9
STANDS_M_S = 1e-6


@dataclass(frozen=True, slots=True)
class Before:
    """The cue ball just before contact: velocity m/s, spin rad/s about x, y and z."""

    velocity_m_s: tuple[float, float]
    spin_rad_s: tuple[float, float, float]


def first_contact_event(trace: Trace, cue_id: str, ball_id: str = "") -> LaneEvent | None:
    """The cue ball's first meeting with a ball (with one ball when it is named)."""
    for event in trace.events:
        if event.kind == "ball" and event.ball == cue_id and ball_id in ("", event.other):
            return event
    return None


def state_before(trace: Trace, cue_id: str, event: LaneEvent) -> Before:
    """The cue ball just before an event; a ball struck from touching has its struck state."""
    if event.t_s <= JUST_BEFORE_S:
        struck = next(one for one in trace.events if one.ball == cue_id)
        return Before(struck.velocity_m_s, struck.spin_rad_s)
    then = trace.instant(cue_id, event.t_s - JUST_BEFORE_S)
    vx, vy = then.velocity_mm_s
    return Before((vx / 1000.0, vy / 1000.0), then.spin_rad_s)


def spin_ratio(
    velocity_m_s: tuple[float, float], spin_rad_s: tuple[float, ...], radius_mm: float
) -> float:
    """R·spin/speed along the line of travel: +1 rolling, 0 stun, below 0 backspin; nan at rest."""
    (vx, vy), (wx, wy) = velocity_m_s, spin_rad_s[:2]
    square = vx * vx + vy * vy
    return radius_mm / 1000.0 * (wy * vx - wx * vy) / square if square > 0.0 else math.nan


def rolling_velocity(
    velocity_m_s: tuple[float, float], spin_rad_s: tuple[float, ...], radius_mm: float
) -> tuple[float, float]:
    """Velocity once rolling, m/s: (5/7)·v + (2/7)·R·ω in the plane (Coriolis 1835)."""
    (vx, vy), (wx, wy) = velocity_m_s, spin_rad_s[:2]
    rim = radius_mm / 1000.0
    return (5.0 * vx + 2.0 * rim * wy) / 7.0, (5.0 * vy - 2.0 * rim * wx) / 7.0


def contact_of(trace: Trace, cue_id: str, event: LaneEvent, conditions: Conditions) -> LaneContact:
    """Everything about one contact: the geometry, what leaves it, and the bend that follows."""
    before = state_before(trace, cue_id, event)
    other_at = trace.instant(event.other, event.t_s).at_mm
    centres = direction_rad(event.at_mm, other_at)
    cut = wrapped_rad(centres - math.atan2(before.velocity_m_s[1], before.velocity_m_s[0]))
    other = velocity_m_s(trace, event.other, event.t_s)
    ended = _rolls(trace, cue_id, event.t_s)
    return LaneContact(
        ball=event.other,
        t_s=event.t_s,
        at_mm=event.at_mm,
        ball_mm=other_at,
        centres_deg=math.degrees(centres),
        cut_deg=math.degrees(abs(cut)),
        fullness=fullness_of_cut(cut),
        cue_after_m_s=event.velocity_m_s,
        cue_after_spin_rad_s=event.spin_rad_s,
        ball_after_m_s=other,
        separation_deg=angle_between_deg(event.velocity_m_s, other),
        bend_s=None if ended is None else ended.t_s - event.t_s,
        bend_end_speed_m_s=None if ended is None else math.hypot(*ended.velocity_m_s),
    )


def bend_end(trace: Trace, cue_id: str, start_s: float) -> Point | None:
    """Where the slide after a contact turns into rolling, unless something else ends it."""
    ended = _rolls(trace, cue_id, start_s)
    return None if ended is None else ended.at_mm


def angle_between_deg(a: tuple[float, float], b: tuple[float, float]) -> float:
    """Angle between two velocities, 0 to 180 degrees; nan when either stands still."""
    if math.hypot(*a) < STANDS_M_S or math.hypot(*b) < STANDS_M_S:
        return math.nan
    return math.degrees(abs(wrapped_rad(math.atan2(a[1], a[0]) - math.atan2(b[1], b[0]))))


def _rolls(trace: Trace, cue_id: str, start_s: float) -> LaneEvent | None:
    """The event that ends the slide begun at a time, when it is the start of rolling."""
    later = (event for event in trace.events if event.ball == cue_id and event.t_s > start_s)
    ended = next(later, None)
    return ended if ended is not None and ended.kind == "rolling" else None


def velocity_m_s(trace: Trace, ball_id: str, t_s: float) -> tuple[float, float]:
    """A ball's velocity at a time, just after any event then, m/s."""
    vx, vy = trace.instant(ball_id, t_s).velocity_mm_s
    return vx / 1000.0, vy / 1000.0
