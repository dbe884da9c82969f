"""Hidden tables played by an integrator that shares no code with the engine.

Every condition with a stated likely range is drawn evenly from it, also those that calibration does
not look for, and the coach's own strength on top. Shots are integrated by scipy from the raw
equations of motion (`tests.engine.shot.reference`), cushions from the impulse equations
(`tests.engine.motion.impulse_yardstick`); balls are aimed by the same equations. Tape and watch err
by 5 mm and 0.1 s (one sigma), also where balls are set up for a shot.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from engine.balls import Ball
from engine.calibration import Observation
from engine.calibration.table_test import observed, planned
from engine.conditions import CONDITION_FACTS, Conditions, usual_conditions
from engine.potting.pockets import pocket_window
from tests.engine.calibration.club import Club
from tests.engine.shot.reference import Played, reference
from tests.engine.shot.reference_forces import ball_impulse, strike_state, yardstick_rebound

#: A count of table lengths by eye.
LENGTHS_BY_EYE = 0.05
#: How much less or more than usual a coach's stroke at a pace may be.
WEAKEST, STRONGEST = 0.75, 1.3


def drawn_conditions(rng: np.random.Generator) -> Conditions:
    """Conditions drawn evenly from all stated likely ranges, and a coach's own strength."""
    likely = {name: fact.likely for name, fact in CONDITION_FACTS.items()}
    drawn = {name: float(rng.uniform(*span)) for name, span in likely.items() if span is not None}
    strength = rng.uniform(WEAKEST, STRONGEST)
    scale = tuple(float(strength * speed) for speed in Conditions().pace_speeds_m_s)
    return Conditions(**drawn, pace_speeds_m_s=scale)


@dataclass(frozen=True)
class Seen:
    """An event of one ball and where its centre was."""

    kind: str
    ball: str
    other: str
    t_s: float
    at_mm: tuple[float, float]


class Watched:
    """What was played, to be asked as a trace is."""

    def __init__(self, played: Played) -> None:
        self.played = played
        self.duration_s = played.times[-1]
        self.events = [
            Seen(kind, ball, other, when, tuple(self.positions(ball, when - 1e-9)))
            for (kind, ball, other), when in zip(played.events, played.times, strict=True)
        ]

    def _states(self, ball: str, times: float | np.ndarray) -> np.ndarray:
        found = self.played.states(np.atleast_1d(times))[:, self.played.ids.index(ball)]
        return found[0] if np.ndim(times) == 0 else found

    def positions(self, ball: str, times: float | np.ndarray) -> np.ndarray:
        return self._states(ball, times)[..., :2]

    def spins(self, ball: str, times: float | np.ndarray) -> np.ndarray:
        return self._states(ball, times)[..., 4:]

    def rests(self) -> dict[str, tuple[float, float] | None]:
        return self.played.rests


def met_cushions(played: Played, number: int) -> bool:
    """Whether the cue ball has met so many cushions or jaws, or is gone."""
    cue = [kind for kind, ball, _ in played.events if ball == "cue"]
    return "potted" in cue or cue.count("cushion") + cue.count("jaw") >= number


class HiddenTable(Club):
    """A club whose table follows the raw equations."""

    def __init__(self, *seed: int) -> None:
        super().__init__(seed)
        self.truth = drawn_conditions(self.rng)
        self._kept: dict[tuple[float, ...], Watched] = {}

    def _straight(self, x, y, speed, tip, angle=math.pi / 2) -> Watched:
        key = (x, y, speed, tip, angle)
        if key not in self._kept:
            # on its way to a second cushion nothing of a bank is asked any more
            most = 2 if angle != math.pi / 2 else 99
            ball = Ball("cue", "cue", x, y)
            played = reference(
                self.table, self.truth, (ball,),
                strike_state(ball, self.truth, speed, tip, 0.0, angle), rebound=yardstick_rebound,
                step_mm=self.table.length_mm, enough=lambda one: met_cushions(one, most),
            )  # fmt: skip
            self._kept[key] = Watched(played)
        return self._kept[key]

    def table_test(self) -> tuple[Observation, ...]:
        """The two-minute test, played and read as its form asks."""
        usual = usual_conditions(self.table)
        up, _, _, pot = planned(self.table, usual)
        free = round(0.8 * self.table.length_mm)
        off_ramp = self.read(Observation("rebound", {"free_mm": free, "distance_mm": 0.4 * free}))
        read = {
            "lengths": self._lengths(up.cells) + self.rng.normal(0.0, LENGTHS_BY_EYE),
            **self._last_stretch(),
            "free_mm": off_ramp["free_mm"],
            "ramp_mm": off_ramp["distance_mm"],
            "back_mm": off_ramp["rest_mm"],
        }
        potted = self.read(pot)
        if potted is not None and potted["cushion"] == "top":
            read["mark_mm"] = potted["at_mm"]
        return observed(self.table, usual, read)

    def _lengths(self, cells) -> float:
        trace = self._straight(600.0, cells["start_mm"], self._speed(cells), 0.0)
        way = trace.positions("cue", np.linspace(0.0, trace.duration_s, 20001))[:, 1]
        return float(np.abs(np.diff(way)).sum()) / self.table.length_mm

    def _last_stretch(self) -> dict[str, float]:
        """A rolling ball from a mark to its rest."""
        far = self.rng.uniform(600.0, 1500.0)
        speed = math.sqrt(2.0 * 9810.0 * self.truth.rolling_resistance * far)
        trace = self._straight(600.0, 400.0, speed, 0.4)
        run = trace.rests()["cue"][1] - 400.0
        return {
            "stretch_mm": run + self.rng.normal(0.0, self.tape_mm),
            "stretch_s": trace.duration_s + self.rng.normal(0.0, self.watch_s),
        }

    def _set_up(self, cells, *names) -> list[float]:
        """Where balls really stand that were set up with the tape."""
        return [cells[name] + self.rng.normal(0.0, self.tape_mm) for name in names]

    def _bank(self, cells) -> dict | None:
        x, y = self._set_up(cells, "cue_x_mm", "cue_y_mm")
        return super()._bank({**cells, "cue_x_mm": x, "cue_y_mm": y})

    def _lane(self, cells) -> dict | None:
        at = self._set_up(cells, "cue_x_mm", "cue_y_mm", "ball_x_mm", "ball_y_mm")
        cue, ball = Ball("cue", "cue", *at[:2]), Ball("red", "red", *at[2:])
        speed, tip = self._speed(cells), cells.get("tip", 0.0)
        pocket = self.table.pocket(cells["pocket"])
        line = pocket_window(pocket, tuple(at[2:]), self.truth.ball_radius_mm).direction_rad
        way = self._aim(cue, ball, line, speed, tip)
        played = reference(
            self.table, self.truth, (cue, ball),
            strike_state(cue, self.truth, speed, tip, 0.0, way), rebound=yardstick_rebound,
            enough=lambda one: met_cushions(one, 1),
        )  # fmt: skip
        met = [one for one in Watched(played).events if one.kind == "cushion" and one.ball == "cue"]
        if not met:
            return None
        axis = 1 if met[0].other in ("left", "right") else 0
        return {"cushion": met[0].other, "at_mm": met[0].at_mm[axis]}

    def _aim(self, cue: Ball, ball: Ball, line: float, speed: float, tip: float) -> float:
        """The direction in which the cue ball sends the other along the line."""
        alone = self._straight(600.0, 400.0, speed, tip)
        most = next((e.t_s for e in alone.events if e.kind == "cushion"), alone.duration_s)
        away = np.array([ball.x_mm - cue.x_mm, ball.y_mm - cue.y_mm])

        def contact(centres: float) -> tuple[float, float]:
            """Way and run of the cue ball to where it meets the other along a line of centres."""
            toward = np.array([math.cos(centres), math.sin(centres)])
            x, y = away - 2.0 * self.truth.ball_radius_mm * toward
            return math.atan2(y, x), math.hypot(x, y)

        def off(centres: float) -> float:
            way, run = contact(centres)
            when = brentq(lambda t: alone.positions("cue", t)[1] - 400.0 - run, 0.0, most)
            state = alone.played.states(np.array([when]))[0, 0]
            c, s = math.cos(way - math.pi / 2.0), math.sin(way - math.pi / 2.0)
            turned = np.array([[c, -s], [s, c]])
            there = run * np.array([math.cos(way), math.sin(way)])
            struck = np.concatenate([there, turned @ state[2:4], turned @ state[4:6], state[6:]])
            sent = ball_impulse(struck, np.array([*away, *[0.0] * 5]), self.truth)[1]
            angle = math.atan2(sent[3], sent[2]) - line
            return math.atan2(math.sin(angle), math.cos(angle))

        return contact(brentq(off, line - 0.2, line + 0.2, xtol=1e-10))[0]
