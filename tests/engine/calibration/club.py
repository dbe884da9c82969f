"""An invented club table with hidden conditions, and a coach who measures it with realistic errors.

The observations are played by `engine.shot.play` and `engine.lanes` on the table with its pockets,
one at a time: not by the batch that calibration itself predicts with. Readings then get errors of
5 mm and 0.1 s (one sigma each).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from engine.balls import Ball
from engine.calibration import Observation, suggested
from engine.conditions import Conditions
from engine.lanes import lane
from engine.potting import pot
from engine.routine.values import LaneAsk, Shot
from engine.shot import Strike, Trace, play
from engine.tables import Table, load_table

TAPE_MM, WATCH_S = 5.0, 0.1


def hidden_conditions(rng: np.random.Generator) -> Conditions:
    """Conditions no preset has, drawn evenly from the likely ranges of a snooker table."""
    shift = rng.uniform(0.75, 1.3)
    return Conditions(
        sliding_friction=rng.uniform(0.18, 0.25),
        rolling_resistance=rng.uniform(0.010, 0.015),
        ball_restitution=rng.uniform(0.92, 0.98),
        cushion_restitution=rng.uniform(0.93, 0.99),
        cushion_friction=rng.uniform(0.10, 0.20),
        pace_speeds_m_s=tuple(float(shift * (0.1 + 0.5 * pace)) for pace in range(1, 11)),
    )


class Club:
    """One hidden table: tells what really happens, and what a coach reads of it."""

    def __init__(self, seed: int, table: Table | None = None) -> None:
        self.rng = np.random.default_rng(seed)
        self.truth = hidden_conditions(self.rng)
        self.table = table or load_table("snooker-12ft")
        self.tape_mm, self.watch_s = TAPE_MM, WATCH_S

    def observations(self) -> list[Observation]:
        """The suggested set, played and measured."""
        return self.observed(suggested(self.table, Conditions()))

    def observed(self, planned: Sequence[Observation]) -> list[Observation]:
        """What is planned, played and measured."""
        found = []
        for line, one in enumerate(planned, start=2):
            cells = self.read(one)
            if cells is not None:
                found.append(Observation(one.kind, cells, line))
        return found

    def read(self, one: Observation) -> dict | None:
        """The cells of a planned observation with what is measured filled in; None if it fails."""
        cells = dict(one.cells)
        true = getattr(self, "_" + one.kind.replace("-", "_"))(cells)
        if true is None:
            return None
        for column, value in true.items():
            if column.endswith("_s"):
                cells[column] = max(value + self.rng.normal(0.0, self.watch_s), 0.01)
            elif column.endswith("_mm"):
                cells[column] = value + self.rng.normal(0.0, self.tape_mm)
            else:
                cells[column] = value
        return cells

    def _straight(self, x, y, speed, tip, angle=math.pi / 2) -> Trace:
        balls = (Ball("cue", "cue", x, y),)
        return play(self.table, self.truth, balls, Strike(speed, tip), angle)

    def _speed(self, cells) -> float:
        return float(self.truth.speed_mm_s(cells["pace"], cells.get("tip", 0.0)))

    def _roll(self, cells) -> dict:
        far, then = cells["distance_mm"], self.rng.uniform(0.0, 600.0)
        drag = 9810.0 * self.truth.rolling_resistance
        speed = math.sqrt(2.0 * drag * (far + then))
        trace = self._straight(600.0, 400.0, speed, 0.4)
        times = np.linspace(0.0, trace.duration_s, 20001)
        run = trace.positions("cue", times)[:, 1] - 400.0
        return {
            "time_s": float(np.interp(far, run, times)),
            "distance_mm": far,
            "then_mm": float(run[-1]) - far,
        }

    def _rebound(self, cells) -> dict:
        drag = 9810.0 * self.truth.rolling_resistance
        speed = math.sqrt(2.0 * drag * cells["free_mm"])
        top = self.table.length_mm - self.truth.cue_radius_mm
        trace = self._straight(600.0, top - cells["distance_mm"], speed, 0.4)
        rest = trace.rests()["cue"]
        return {
            "free_mm": cells["free_mm"],
            "distance_mm": cells["distance_mm"],
            "rest_mm": top - rest[1],
        }

    def _up_and_down(self, cells) -> dict:
        trace = self._straight(600.0, cells["start_mm"], self._speed(cells), cells.get("tip", 0.0))
        met = sum(event.kind == "cushion" for event in trace.events)
        return {
            "cushions": float(met),
            "rest_mm": trace.rests()["cue"][1],
            "start_mm": cells["start_mm"],
        }

    def _pace_time(self, cells) -> dict | None:
        start = 300.0
        trace = self._straight(600.0, start, self._speed(cells), cells.get("tip", 0.0))
        first = next((e.t_s for e in trace.events if e.kind == "cushion"), trace.duration_s)
        times = np.linspace(0.0, first, 20001)
        run = trace.positions("cue", times)[:, 1] - start
        far = min(cells["distance_mm"], self.table.length_mm - 400.0)
        if run[-1] < far:
            return None
        return {"time_s": float(np.interp(far, run, times)), "distance_mm": far}

    def _stun(self, cells) -> dict:
        speed, depth = self._speed(cells), -cells["tip"]
        trace = self._straight(600.0, 100.0, speed, cells["tip"])
        times = np.linspace(0.0, 2.0 * speed * depth / (9810.0 * 0.1), 40001)
        spin = trace.spins("cue", times)[:, 0]
        gone = int(np.argmax(spin <= 0.0))
        return {"distance_mm": float(trace.positions("cue", times[gone])[1]) - 100.0}

    def _lane(self, cells) -> dict | None:
        if "pocket" not in cells:  # a table without pockets: this coach plays no lanes there
            return None
        balls = (
            Ball("cue", "cue", cells["cue_x_mm"], cells["cue_y_mm"]),
            Ball("red", "red", cells["ball_x_mm"], cells["ball_y_mm"]),
        )
        shot = Shot("s", "red", cells["pocket"])
        answer = pot(self.table, self.truth, balls, shot)
        ask = LaneAsk("A", cells["tip"], cells["pace"])
        found = lane(self.table, self.truth, balls, shot, answer, ask)
        if found.first_cushion_mm is None:
            return None
        axis = 1 if found.first_cushion in ("left", "right") else 0
        return {"cushion": found.first_cushion, "at_mm": found.first_cushion_mm[axis]}

    def _bank(self, cells) -> dict | None:
        width, radius = self.table.width_mm, self.truth.cue_radius_mm
        x, y = cells["cue_x_mm"], cells["cue_y_mm"]
        angle = math.atan2(cells["at_mm"] - y, width - radius - x)
        trace = self._straight(x, y, self._speed(cells), 0.0, angle)
        met = [event for event in trace.events if event.kind in ("cushion", "jaw")][:2]
        if [event.kind for event in met] != ["cushion", "cushion"]:
            return None
        axis = 1 if met[1].other in ("left", "right") else 0
        return {
            "cushion": met[0].other,
            "at_mm": met[0].at_mm[1],
            "then_cushion": met[1].other,
            "then_mark_mm": met[1].at_mm[axis],
        }


def true_value(truth: Conditions, name: str) -> float:
    """The hidden value of a finding's name."""
    if name.startswith("speed_at_pace_"):
        return float(truth.speed_mm_s(float(name.removeprefix("speed_at_pace_")), 0.0)) / 1000.0
    return float(getattr(truth, name))


def spoiled(rows: list[Observation], line: int, **cells: float) -> list[Observation]:
    """The rows with the cells of one of them moved by so much."""
    return [
        replace(one, cells={**one.cells, **{k: one.number(k) + v for k, v in cells.items()}})
        if one.line == line
        else one
        for one in rows
    ]
