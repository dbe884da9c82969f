"""Setting up a shot for the check rows and facts of the trade: one object ball, one chosen cut."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.shot import Strike, Trace, play
from engine.tables.model import Table


class NeverMetError(Exception):
    """The cue ball did not come as far as the object ball."""


@dataclass(frozen=True)
class Met:
    """A played shot and what happened at the cue ball's first contact.

    Directions are turned so that the cue ball comes along +x and the object ball lies to its
    left: the cue ball then leaves to the right, at a negative angle.
    """

    trace: Trace
    t_s: float
    turn_rad: float

    def _turned(self, vectors: np.ndarray) -> np.ndarray:
        c, s = math.cos(self.turn_rad), math.sin(self.turn_rad)
        return vectors @ np.array([[c, -s], [s, c]])

    def velocity(self, ball_id: str, after_s: float = 0.0) -> np.ndarray:
        """Velocity that long after (or before) the contact, mm/s."""
        return self._turned(self.trace.velocities(ball_id, self.t_s + after_s))

    def place(self, ball_id: str, after_s: float = 0.0) -> np.ndarray:
        """Centre relative to the cue ball's at contact, mm."""
        here = self.trace.positions("cue", self.t_s)
        return self._turned(self.trace.positions(ball_id, self.t_s + after_s) - here)

    @property
    def spin_ratio(self) -> float:
        """Spin over roll just before the contact: 1 rolling, 0 stun, below 0 backspin."""
        velocity = self.trace.velocities("cue", self.t_s - 1e-9)
        spin = self.trace.spins("cue", self.t_s - 1e-9)
        radius = float(self.trace.radii_mm[0])
        along = -spin[0] * velocity[1] + spin[1] * velocity[0]
        return radius * float(along) / float(velocity @ velocity)

    @property
    def speed(self) -> float:
        """The cue ball's speed just before the contact, mm/s."""
        return float(np.hypot(*self.velocity("cue", -1e-9)))

    @property
    def centres_deg(self) -> float:
        """The line of centres from the cue ball's line: the cut angle."""
        x, y = self.place("object")
        return math.degrees(math.atan2(y, x))

    def direction_deg(self, ball_id: str, after_s: float = 0.0) -> float:
        """Direction of travel from the cue ball's line before contact."""
        x, y = self.velocity(ball_id, after_s)
        return math.degrees(math.atan2(y, x))

    def bend_s(self) -> float:
        """How long the cue ball slides after the contact; fails if it meets anything first."""
        later = [e for e in self.trace.events if e.t_s > self.t_s and e.ball == "cue"]
        assert later[0].kind == "rolling", f"the cue ball meets {later[0]} before it rolls"
        return later[0].t_s - self.t_s

    def deflection_deg(self) -> float:
        """Angle between the cue ball's line before contact and its final rolling line."""
        return abs(self.direction_deg("cue", self.bend_s()))


def cut_shot(
    table: Table,
    conditions: Conditions,
    cut_deg: float,
    distance_mm: float,
    strike: Strike,
    *,
    object_mm: tuple[float, float] | None = None,
    line_deg: float = 90.0,
) -> Met:
    """Play the cue ball over a distance into an object ball with a cut to the left.

    `object_mm` is the object ball (the middle of the table by default), `line_deg` the line it is
    sent along, from +x. Raises `NeverMetError` if the cue ball stops short.
    """
    there = object_mm or (table.width_mm / 2, table.length_mm / 2)
    line, way = math.radians(line_deg), math.radians(line_deg - cut_deg)
    far = 2 * conditions.ball_radius_mm
    at = (there[0] - far * math.cos(line), there[1] - far * math.sin(line))
    start = (at[0] - distance_mm * math.cos(way), at[1] - distance_mm * math.sin(way))
    balls = [Ball("cue", "cue", *start), Ball("object", "red", *there)]
    trace = play(table, conditions, balls, strike, way)
    contact = next((event for event in trace.events if event.kind == "ball"), None)
    if contact is None:
        raise NeverMetError
    return Met(trace, contact.t_s, way)


def rolling_start(speed_mm_s: float, distance_mm: float, conditions: Conditions) -> Strike:
    """The strike that rolls from the tip and arrives at a speed after a distance."""
    drag = conditions.rolling_resistance * 1000.0 * conditions.gravity_m_s2
    return Strike(math.sqrt(speed_mm_s**2 + 2.0 * drag * distance_mm), 0.4)
