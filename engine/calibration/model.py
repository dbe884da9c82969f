"""What the ball-motion model says every observation should have read, for given conditions.

Straight rolling and sliding come from the closed forms; whatever meets a ball or a cushion is
played by the shot engine, all at once. Lanes and banks are played between whole cushions, without
pockets: the observed mark says that no pocket was met.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.balls import Ball
from engine.calibration.kinds import KINDS, Observation
from engine.conditions import Conditions
from engine.motion.cloth import no_spin_distance_mm, rolling_speed_mm_s, slide_distance_mm
from engine.playing.aims import aim_many, sizes_of
from engine.potting.pockets import pocket_window
from engine.potting.vectors import direction_rad
from engine.shot import play_many
from engine.shot.layout import (
    HIT_BALL,
    HIT_CUSHION,
    R_CAUSE,
    R_OTHER,
    R_X,
    R_Y,
    condition_values,
)
from engine.tables import Table
from engine.tables.geometry import faces

#: Segments of the cue ball looked at: a dozen cushions' worth.
WAY_LENGTH = 64
#: A rebound begins this far off the cushion, already rolling.
APPROACH_MM = 1.0
#: A tip 2/5 of the radius above centre sends the ball off rolling (Coriolis 1835).
ROLLING_TIP = 0.4
CUE = Ball("cue", "cue", 0.0, 0.0)
BALL = Ball("ball", "plain", 0.0, 0.0)


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """A table ready for predictions; `plain` is the same bed between four whole cushions."""

    table: Table
    plain: Table

    @classmethod
    def of(cls, table: Table) -> Bench:
        """The bench of a table."""
        whole = faces(table.width_mm, table.length_mm, ())
        return cls(table, replace(table, pockets=(), faces=whole))


def measured_value(one: Observation, table: Table, radius_mm: float) -> float:
    """The result of an observation as the model predicts it: mm of travel, mm along, or seconds."""
    if one.kind == "up-and-down":
        return travel_mm(one, table, radius_mm)
    if one.kind in ("roll", "pace-time"):
        return one.number("time_s")
    columns = {"rebound": "rest_mm", "stun": "distance_mm", "lane": "at_mm", "bank": "then_mark_mm"}
    return one.number(columns[one.kind])


def travel_mm(one: Observation, table: Table, radius_mm: float) -> float:
    """How far the centre ran in an up-and-down, from start to rest."""
    if "rest_mm" not in one.cells or "cushions" not in one.cells:
        return one.number("lengths") * table.length_mm
    count, top = int(one.number("cushions")), table.length_mm - radius_mm
    start, rest = one.number("start_mm"), one.number("rest_mm")
    if count == 0:
        return rest - start
    between = (count - 1) * (table.length_mm - 2.0 * radius_mm)
    last = top - rest if count % 2 else rest - radius_mm
    return top - start + between + last


class Rows:
    """Observations laid out once on a bench, for the many conditions a fit tries on them.

    `sizes` are conditions with the radii of the balls, which no fit changes. Arrays (n,): `struck`
    whether a cue strikes the ball, `pace` of the stroke (nan without one) and `tip`.
    """

    def __init__(self, bench: Bench, rows: Sequence[Observation], sizes: Conditions) -> None:
        self.rows, self._plain = tuple(rows), bench.plain
        self.struck = np.array([KINDS[one.kind].struck for one in rows], dtype=bool)
        self.pace = self._column("pace", math.nan)
        self.tip = self._column("tip")
        self._distance = self._column("distance_mm")
        self._of = {kind: self._where(kind) for kind in KINDS}
        rolls = [rows[k] for k in self._of["roll"]]
        then = np.array([one.number("then_mm") for one in rolls])
        far = np.array([one.number("distance_mm") for one in rolls])
        self._root_mm = np.sqrt(far + then) - np.sqrt(then)
        self._alone(bench, sizes)
        self._pots(bench, sizes)

    def _column(self, name: str, default: float = 0.0) -> np.ndarray:
        return np.array([one.number(name, default) for one in self.rows])

    def _where(self, *kinds: str) -> np.ndarray:
        return np.array([k for k, one in enumerate(self.rows) if one.kind in kinds], dtype=int)

    def _alone(self, bench: Bench, sizes: Conditions) -> None:
        """Lay out the shots of the cue ball alone: up-and-down, rebound, bank."""
        at = self._alone_at = self._where("up-and-down", "rebound", "bank")
        kinds = np.array([self.rows[k].kind for k in at], dtype=object)
        self._up, self._back, self._bank = (
            np.nonzero(kinds == kind)[0] for kind in ("up-and-down", "rebound", "bank")
        )
        self._top = bench.table.length_mm - sizes.cue_radius_mm
        self._cues, self._ways = np.empty((len(at), 1, 2)), np.full(len(at), math.pi / 2.0)
        self._left = np.zeros(len(at))
        middle = bench.table.width_mm / 2.0
        for k, index in enumerate(at):
            one = self.rows[index]
            if one.kind == "rebound":
                self._left[k] = one.number("free_mm") - one.number("distance_mm") + APPROACH_MM
                self._cues[k, 0] = middle, self._top - APPROACH_MM
            elif one.kind == "up-and-down":
                self._cues[k, 0] = middle, one.number("start_mm")
            else:
                cue = (one.number("cue_x_mm"), one.number("cue_y_mm"))
                mark = centre_at(one.text("cushion"), one.number("at_mm"), bench.table, sizes)
                self._cues[k, 0], self._ways[k] = cue, direction_rad(cue, mark)
        banks = [self.rows[k] for k in at[self._bank]]
        self._bank_marks = self._marks([(b.text("cushion"), b.text("then_cushion")) for b in banks])

    def _pots(self, bench: Bench, sizes: Conditions) -> None:
        """Lay out the lanes: object balls go where they were seen to go."""
        lanes = [self.rows[k] for k in self._of["lane"]]
        cue = [(one.number("cue_x_mm"), one.number("cue_y_mm")) for one in lanes]
        ball = [(one.number("ball_x_mm"), one.number("ball_y_mm")) for one in lanes]
        self._pot_places = np.array([cue, ball], dtype=float).reshape(2, -1, 2)
        self._lines = np.array([_potting_line(one, bench.table, sizes) for one in lanes])
        self._lane_marks = self._marks([(one.text("cushion"),) for one in lanes])

    def _marks(self, wanted: Sequence[tuple[str, ...]]) -> tuple[np.ndarray, np.ndarray]:
        """Cushions to be met, in order (n, w) as numbers, and the column of the last's mark."""
        names = [face.cushion for face in self._plain.faces]
        numbers = [[names.index(name) if name in names else -1 for name in one] for one in wanted]
        along = [R_Y if one[-1] in ("left", "right") else R_X for one in wanted]
        return np.array(numbers, dtype=int), np.array(along, dtype=int)

    def predict(self, conditions: Conditions, speeds_mm_s: np.ndarray) -> np.ndarray:
        """The predicted result of every row, (n,); nan for one the model gives no result for.

        `speeds_mm_s` (n,) holds the cue ball's speed off the tip of the rows that are struck.
        """
        found = np.full(len(self.rows), np.nan)
        gravity = 1000.0 * conditions.gravity_m_s2
        drag = conditions.rolling_resistance * gravity
        found[self._of["roll"]] = math.sqrt(2.0 / drag) * self._root_mm
        timed, stuns = self._of["pace-time"], self._of["stun"]
        found[timed] = seconds_over_mm(
            self._distance[timed], speeds_mm_s[timed], self.tip[timed], conditions
        )
        found[stuns] = no_spin_distance_mm(
            speeds_mm_s[stuns], -self.tip[stuns], conditions.sliding_friction, gravity
        )
        if len(self._alone_at):
            self._play_alone(conditions, drag, speeds_mm_s, found)
        if len(self._lines):
            self._play_pots(conditions, speeds_mm_s, found)
        return found

    def _play_alone(
        self, conditions: Conditions, drag: float, speeds: np.ndarray, found: np.ndarray
    ) -> None:
        speed, tip = speeds[self._alone_at], self.tip[self._alone_at]
        speed[self._back] = np.sqrt(2.0 * drag * self._left[self._back])
        tip[self._back] = ROLLING_TIP
        played = replace(conditions, tip_limit=max(conditions.tip_limit, 0.5))
        shots = play_many(
            self._plain, played, [CUE], speed, self._ways, tip_height=tip, places_mm=self._cues,
            log_length=0, way_length=WAY_LENGTH,
        )  # fmt: skip
        assert shots.ways is not None
        result = np.empty(len(speed))
        result[self._back] = self._top - shots.rests_mm[self._back, 0, 1]
        run = np.abs(np.diff(shots.ways[self._up, :, R_Y], axis=1))
        result[self._up] = np.nansum(run, axis=1)
        if len(self._bank):
            result[self._bank] = _marks_on(shots.ways[self._bank], *self._bank_marks)
        found[self._alone_at] = result

    def _play_pots(self, conditions: Conditions, speeds: np.ndarray, found: np.ndarray) -> None:
        lanes, (cue, ball) = self._of["lane"], self._pot_places
        speed, tip = speeds[lanes], self.tip[lanes]
        direction, state = np.empty(len(lanes)), np.zeros(len(lanes), dtype=np.int64)
        aim_many(
            cue, ball, self._lines, speed, tip, np.zeros(len(tip)), sizes_of(conditions),
            condition_values(conditions), True, direction, state,
        )  # fmt: skip
        shots = play_many(
            self._plain, conditions, [CUE, BALL], speed, direction, tip_height=tip,
            places_mm=np.stack([cue, ball], axis=1), log_length=0, way_length=WAY_LENGTH,
        )  # fmt: skip
        assert shots.ways is not None
        # the cue ball's cushions before the object ball are not the lane's
        after = np.maximum.accumulate(shots.ways[:, :, R_CAUSE] == HIT_BALL, axis=1)
        ways = np.where(after[:, :, None], shots.ways, np.nan)
        marks = _marks_on(ways, *self._lane_marks)
        found[lanes] = np.where(state == 0, marks, np.nan)


def seconds_over_mm(
    distance_mm: np.ndarray, speed_mm_s: np.ndarray, tip: np.ndarray, conditions: Conditions
) -> np.ndarray:
    """Time from the strike until a straight ball has run a distance; nan when it stops before.

    Scalars or arrays of one shape, and so is the answer.

    >>> round(float(seconds_over_mm(1000.0, 2000.0, 0.4, Conditions())), 4)
    0.508
    """
    gravity = 1000.0 * conditions.gravity_m_s2
    grip, drag = conditions.sliding_friction * gravity, conditions.rolling_resistance * gravity
    ratio = 2.5 * np.asarray(tip)
    slide = slide_distance_mm(speed_mm_s, ratio, conditions.sliding_friction, gravity)
    rolled = rolling_speed_mm_s(speed_mm_s, ratio)
    pull = np.where(ratio > 1.0, grip, -grip)
    now = np.sqrt(np.maximum(np.square(speed_mm_s) + 2.0 * pull * distance_mm, 0.0))
    left = rolled * rolled - 2.0 * drag * (distance_mm - slide)
    then = (rolled - np.sqrt(np.where(left >= 0.0, left, np.nan))) / drag
    sliding = np.asarray(distance_mm) <= slide
    return np.where(sliding, (now - speed_mm_s) / pull, (rolled - speed_mm_s) / pull + then)


def centre_at(
    cushion: str, at_mm: float, table: Table, conditions: Conditions
) -> tuple[float, float]:
    """The cue ball's centre as it touches a cushion at a mark along it."""
    radius = conditions.cue_radius_mm
    return {
        "left": (radius, at_mm),
        "right": (table.width_mm - radius, at_mm),
        "bottom": (at_mm, radius),
        "top": (at_mm, table.length_mm - radius),
    }[cushion]


def _marks_on(ways: np.ndarray, wanted: np.ndarray, along: np.ndarray) -> np.ndarray:
    """Where along the last of the wanted cushions (n, w) ways meet it, after the others in order.

    `ways` (n, s, RECORD_COLUMNS); `along` (n,) the column of the mark. (n,), nan for other ways.
    """
    hits = ways[:, :, R_CAUSE] == HIT_CUSHION
    first = np.argsort(~hits, axis=1, kind="stable")[:, : wanted.shape[1]]
    row = np.arange(len(ways))[:, None]
    met = hits[row, first] & (ways[row, first, R_OTHER] == wanted)
    return np.where(met.all(axis=1), ways[row[:, 0], first[:, -1], along], np.nan)


def _potting_line(one: Observation, table: Table, conditions: Conditions) -> float:
    at = (one.number("ball_x_mm"), one.number("ball_y_mm"))
    if "pocket" in one.cells:
        pocket = table.pocket(one.text("pocket"))
        return pocket_window(pocket, at, conditions.ball_radius_mm).direction_rad
    return direction_rad(at, (one.number("to_x_mm"), one.number("to_y_mm")))
