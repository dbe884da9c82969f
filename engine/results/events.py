"""What happens in a shot: its events, and the contact a lane begins with."""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class LaneEvent:
    """Something that happens in a shot; `ball` does it, `other` is a ball, cushion or pocket.

    kinds: struck, ball, cushion, jaw, rolling, stopped, potted.
    Velocity in m/s, spin in rad/s about x, y (along the table's axes) and z (vertical), all
    just after the event.
    """

    t_s: float
    kind: str
    ball: str
    other: str
    at_mm: Point
    velocity_m_s: tuple[float, float]
    spin_rad_s: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class LaneContact:
    """The cue ball's first contact with a ball, as one lane plays it.

    `at_mm` is the cue ball's centre, `centres_deg` the direction from there to the other ball's
    centre (from +x, anticlockwise). Velocities are in m/s just after the contact.
    `separation_deg` is the angle between the two balls' first lines. The bend is the slide that
    follows: it ends in rolling at `Lane.bend_end_mm`, `bend_s` after the contact, at
    `bend_end_speed_m_s`; None when a cushion, a ball or a pocket ends it first.
    """

    ball: str
    t_s: float
    at_mm: Point
    ball_mm: Point
    centres_deg: float
    cut_deg: float
    fullness: float
    cue_after_m_s: tuple[float, float]
    cue_after_spin_rad_s: tuple[float, float, float]
    ball_after_m_s: tuple[float, float]
    separation_deg: float
    bend_s: float | None
    bend_end_speed_m_s: float | None
