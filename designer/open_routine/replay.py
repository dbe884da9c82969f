"""One lane played out: each ball at any time, how far it has turned, the instants worth a stop.

A `Replay` is a plain value made from the engine's trace; it knows no clock and no window.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from designer.texts import tr
from designer.words.names import cushion_name
from engine.balls import Ball
from engine.conditions import Conditions
from engine.results import Lane, LaneEvent, PotAnswer
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine
from engine.shot import Strike, play
from engine.shot.trace import Trace

#: Step over which a ball's turning is added up, s: at 100 rad/s a seventh of a turn.
TURN_STEP_S = 1.0 / 120.0
#: Instants nearer than this are one stop, s.
ONE_STOP_S = 0.002
#: Below this share of its speed, what a ball slips no longer counts as sliding.
ROLLS_WITHIN = 0.02
#: Speed below which a ball rests, mm/s.
RESTS_MM_S = 0.5


@dataclass(frozen=True, slots=True)
class Instant:
    """A time to stop at (s) and the events that happen then."""

    t_s: float
    events: tuple[LaneEvent, ...]


@dataclass(frozen=True)
class Replay:
    """A lane of a routine as it was played, all balls to rest.

    `contact_s` is when the cue ball meets its object ball, None if it never does.
    """

    routine: Routine
    lane: Lane
    pot: PotAnswer | None
    trace: Trace
    conditions: Conditions

    @property
    def duration_s(self) -> float:
        """Seconds until the last ball rests."""
        return self.trace.duration_s

    @property
    def contact_s(self) -> float | None:
        """When the cue ball meets its first ball, s."""
        return self.lane.contact.t_s if self.lane.contact is not None else None

    @cached_property
    def instants(self) -> tuple[Instant, ...]:
        """Every stop in order of time, the strike first."""
        told: list[Instant] = []
        for event in self.trace.events:
            if told and event.t_s - told[-1].t_s < ONE_STOP_S:
                told[-1] = Instant(told[-1].t_s, (*told[-1].events, event))
            else:
                told.append(Instant(event.t_s, (event,)))
        return tuple(told)

    def instant_at(self, t_s: float) -> Instant | None:
        """The last stop at or before a time."""
        return next((one for one in reversed(self.instants) if one.t_s <= t_s + 1e-9), None)

    def place(self, ball: Ball, t_s: float) -> tuple[float, float] | None:
        """Centre of a ball at a time, mm; None once it has been potted."""
        fell = self._fell_s.get(ball.id)
        if fell is not None and t_s >= fell:
            return None
        x, y = self.trace.positions(ball.id, t_s)
        return float(x), float(y)

    def speed_m_s(self, ball_id: str, t_s: float) -> float:
        """Speed of a ball at a time, m/s."""
        return float(np.hypot(*self.trace.velocities(ball_id, t_s))) / 1000.0

    def turned(self, ball_id: str, t_s: float) -> np.ndarray:
        """How a ball has turned since the strike: a rotation matrix (3, 3), z up."""
        steps = self._turns[ball_id]
        index = int(min(max(t_s, 0.0) / TURN_STEP_S, len(steps) - 1))
        rest = max(t_s, 0.0) - index * TURN_STEP_S
        spin = self.trace.spins(ball_id, index * TURN_STEP_S + rest / 2)
        return _matrix(_product(_quaternions(spin * rest), steps[index]))

    def motion(self, ball_id: str, t_s: float) -> str:
        """How a ball moves over the cloth: "rests", "rolls", "slides", "overspins", "draws".

        Overspin turns faster than rolling; drawing is turning against the way it travels.
        """
        velocity = self.trace.velocities(ball_id, t_s)
        spin = self.trace.spins(ball_id, t_s)
        radius = float(self.trace.radii_mm[self.trace.ids.index(ball_id)])
        speed = float(np.hypot(*velocity))
        # Speed of the ball's surface, forwards where its top runs ahead.
        surface = radius * np.array([spin[1], -spin[0]])
        if speed < RESTS_MM_S:
            return (
                tr("rests") if float(np.hypot(*surface)) < RESTS_MM_S else tr("spins on the spot")
            )
        forwards = float(surface @ velocity) / speed
        slip = float(np.hypot(*(surface - velocity)))
        if slip <= ROLLS_WITHIN * speed + RESTS_MM_S:
            return tr("rolls")
        if forwards > speed * (1.0 + ROLLS_WITHIN):
            return tr("slides with top")
        return tr("slides with screw") if forwards < -ROLLS_WITHIN * speed else tr("slides")

    @cached_property
    def _fell_s(self) -> dict[str, float]:
        return {e.ball: e.t_s for e in self.trace.events if e.kind == "potted"}

    @cached_property
    def _turns(self) -> dict[str, np.ndarray]:
        """For each ball the turning since the strike at every step, as quaternions (n, 4)."""
        count = max(math.ceil(self.duration_s / TURN_STEP_S), 1)
        middles = (np.arange(count) + 0.5) * TURN_STEP_S
        turns = {}
        for ball_id in self.trace.ids:
            steps = _quaternions(self.trace.spins(ball_id, middles) * TURN_STEP_S)
            turns[ball_id] = np.vstack([[1.0, 0.0, 0.0, 0.0], _running_product(steps)])
        return turns


def replay_of(routine: Routine, lane: Lane, pot: PotAnswer | None) -> Replay:
    """Play a predicted lane out with every ball on the table."""
    table, conditions = table_of(routine), conditions_of(routine)
    strike = Strike(1000.0 * lane.speed_m_s, lane.tip_height, lane.side, lane.elevation_deg)
    trace = play(table, conditions, routine.balls, strike, math.radians(lane.aim_deg))
    return Replay(routine, lane, pot, trace, conditions)


def event_words(event: LaneEvent, named: Callable[[str], str], pocket: Callable[[str], str]) -> str:
    """What happens, for the coach: "red R1 meets the top cushion"."""
    ball = named(event.ball)
    if event.kind == "struck":
        return tr("{ball} is struck", ball=ball)
    if event.kind == "ball":
        return tr("{ball} meets {other}", ball=ball, other=named(event.other))
    if event.kind == "cushion":
        return tr("{ball} meets the {cushion}", ball=ball, cushion=cushion_name(event.other))
    if event.kind == "jaw":
        return tr("{ball} touches a jaw of the {pocket}", ball=ball, pocket=pocket(event.other))
    if event.kind == "potted":
        return tr("{ball} falls into the {pocket}", ball=ball, pocket=pocket(event.other))
    return (
        tr("{ball} rolls from here", ball=ball)
        if event.kind == "rolling"
        else tr("{ball} stops", ball=ball)
    )


def _quaternions(turn: np.ndarray) -> np.ndarray:
    """Turns as vectors (…, 3), radians about their direction, as quaternions (…, 4)."""
    angle = np.linalg.norm(turn, axis=-1, keepdims=True)
    axis = turn / np.where(angle < 1e-12, 1.0, angle)
    return np.concatenate([np.cos(angle / 2), axis * np.sin(angle / 2)], axis=-1)


def _product(later: np.ndarray, earlier: np.ndarray) -> np.ndarray:
    """One turn after another, both (…, 4)."""
    a, u = later[..., :1], later[..., 1:]
    b, v = earlier[..., :1], earlier[..., 1:]
    scalar = a * b - np.sum(u * v, axis=-1, keepdims=True)
    return np.concatenate([scalar, a * v + b * u + np.cross(u, v)], axis=-1)


def _running_product(steps: np.ndarray) -> np.ndarray:
    """The turning up to and with each step: products over runs that double in length."""
    done, reach = steps.copy(), 1
    while reach < len(done):
        done[reach:] = _product(done[reach:], done[:-reach])
        reach *= 2
    return done / np.linalg.norm(done, axis=-1, keepdims=True)


def _matrix(turn: np.ndarray) -> np.ndarray:
    """The rotation matrix of a quaternion."""
    w, x, y, z = turn / np.linalg.norm(turn)
    return np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
            [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
            [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
        ]
    )
