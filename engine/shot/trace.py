"""A shot as it was played: where every ball is, how fast and how it spins, at any time."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from engine.errors import UnknownNameError
from engine.results import LaneEvent
from engine.shot.layout import (
    FALLS,
    HIT_BALL,
    HIT_CUSHION,
    HIT_JAW,
    PLACED,
    R_AX,
    R_AY,
    R_BALL,
    R_CAUSE,
    R_OTHER,
    R_PHASE,
    R_QX,
    R_QY,
    R_T,
    R_VX,
    R_VY,
    R_WX,
    R_WY,
    R_WZ,
    R_X,
    R_Y,
    ROLLING,
    ROLLS,
    STOPS,
    STRUCK,
    TURNS,
)  # fmt: skip
from engine.shot.polyline import FLATTEN_MM, polyline

_KINDS = {
    STRUCK: "struck",
    HIT_BALL: "ball",
    HIT_CUSHION: "cushion",
    HIT_JAW: "jaw",
    ROLLS: "rolling",
    STOPS: "stopped",
    FALLS: "potted",
}


@dataclass(frozen=True, slots=True)
class Instant:
    """One ball at one time: centre mm, velocity mm/s, spin rad/s about x, y and the vertical."""

    at_mm: tuple[float, float]
    velocity_mm_s: tuple[float, float]
    spin_rad_s: tuple[float, float, float]


class Trace:
    """All segments of all balls of one shot, as the kernel recorded them.

    `records` has one row a segment (columns in `engine.shot.layout`). `ids`, `faces`, `jaws` and
    `pockets` name the balls, the cushion of each face, the pocket of each jaw, and the pockets.
    Times may be scalars or arrays; a time before 0 or after the end takes the nearest state.
    """

    def __init__(
        self,
        ids: Sequence[str],
        records: np.ndarray,
        radii_mm: np.ndarray,
        spin_decay_rad_s2: float,
        names: tuple[Sequence[str], Sequence[str], Sequence[str]],
        cut_short: bool,
    ) -> None:
        self.ids = tuple(ids)
        self.records = records
        self.radii_mm = radii_mm
        self.cut_short = cut_short
        self._decay = spin_decay_rad_s2
        self._faces, self._jaws, self._pockets = names

    @cached_property
    def _of(self) -> list[np.ndarray]:
        owner = self.records[:, R_BALL].astype(int)
        return [self.records[owner == index] for index in range(len(self.ids))]

    def rows(self, ball_id: str) -> np.ndarray:
        """One ball's records in order of time (columns in `engine.shot.layout`)."""
        if ball_id not in self.ids:
            raise UnknownNameError("ball", ball_id, self.ids)
        return self._of[self.ids.index(ball_id)]

    @cached_property
    def _plain(self) -> list[tuple[list[list[float]], list[float]]]:
        """Each ball's records and their times as plain numbers: numpy's are slow one at a time."""
        return [(rows.tolist(), rows[:, R_T].tolist()) for rows in self._of]

    def _plain_rows(self, ball_id: str) -> tuple[list[list[float]], list[float]]:
        if ball_id not in self.ids:
            raise UnknownNameError("ball", ball_id, self.ids)
        return self._plain[self.ids.index(ball_id)]

    def instant(self, ball_id: str, t_s: float) -> Instant:
        """One ball at one time, just after any event; quicker than the arrays for one time."""
        rows, starts = self._plain_rows(ball_id)
        time = max(t_s, 0.0)
        row = rows[max(bisect_right(starts, time) - 1, 0)]
        dt = time - row[R_T]
        vx, vy = row[R_VX] + row[R_AX] * dt, row[R_VY] + row[R_AY] * dt
        at = (
            row[R_X] + (row[R_VX] + 0.5 * row[R_AX] * dt) * dt,
            row[R_Y] + (row[R_VY] + 0.5 * row[R_AY] * dt) * dt,
        )
        if row[R_PHASE] == ROLLING:
            radius = float(self.radii_mm[self.ids.index(ball_id)])
            spin = (-vy / radius, vx / radius)
        else:
            spin = (row[R_WX] + row[R_QX] * dt, row[R_WY] + row[R_QY] * dt)
        upright = math.copysign(max(abs(row[R_WZ]) - self._decay * dt, 0.0), row[R_WZ])
        return Instant(at, (vx, vy), (*spin, upright))

    @cached_property
    def duration_s(self) -> float:
        """Seconds until the last ball comes to rest."""
        return float(self.records[:, R_T].max(initial=0.0))

    @cached_property
    def potted(self) -> dict[str, str]:
        """Ball id to pocket id, for every ball that fell."""
        fell = self.records[self.records[:, R_CAUSE] == FALLS]
        return {self.ids[int(r[R_BALL])]: self._pockets[int(r[R_OTHER])] for r in fell}

    def _at(self, ball_id: str, t_s: ArrayLike) -> tuple[np.ndarray, np.ndarray]:
        """The record in force at each time, and the seconds since it began."""
        rows = self.rows(ball_id)
        times = np.maximum(np.asarray(t_s, dtype=float), 0.0)
        index = np.maximum(np.searchsorted(rows[:, R_T], times, side="right") - 1, 0)
        row = rows[index]
        return row, times - row[..., R_T]

    def positions(self, ball_id: str, t_s: ArrayLike) -> np.ndarray:
        """Centre at the given times, mm, shape (..., 2); a potted ball stays where it fell."""
        row, dt = self._at(ball_id, t_s)
        dt = dt[..., None]
        return (
            row[..., R_X : R_Y + 1]
            + (row[..., R_VX : R_VY + 1] + 0.5 * row[..., R_AX : R_AY + 1] * dt) * dt
        )

    def velocities(self, ball_id: str, t_s: ArrayLike) -> np.ndarray:
        """Velocity at the given times, mm/s, shape (..., 2), just after any event."""
        row, dt = self._at(ball_id, t_s)
        return row[..., R_VX : R_VY + 1] + row[..., R_AX : R_AY + 1] * dt[..., None]

    def spins(self, ball_id: str, t_s: ArrayLike) -> np.ndarray:
        """Spin at the given times, rad/s about x, y and the vertical, shape (..., 3)."""
        row, dt = self._at(ball_id, t_s)
        radius = self.radii_mm[self.ids.index(ball_id)]
        velocity = self.velocities(ball_id, t_s)
        rolling = row[..., R_PHASE] == ROLLING
        spin = np.empty((*dt.shape, 3))
        spin[..., 0] = np.where(
            rolling, -velocity[..., 1] / radius, row[..., R_WX] + row[..., R_QX] * dt
        )
        spin[..., 1] = np.where(
            rolling, velocity[..., 0] / radius, row[..., R_WY] + row[..., R_QY] * dt
        )
        upright = row[..., R_WZ]
        spin[..., 2] = np.sign(upright) * np.maximum(np.abs(upright) - self._decay * dt, 0.0)
        return spin

    def path_mm(
        self,
        ball_id: str,
        start_s: float = 0.0,
        end_s: float | None = None,
        tolerance_mm: float = FLATTEN_MM,
    ) -> np.ndarray:
        """The way of a ball's centre as a polyline, (n, 2) mm, within `tolerance_mm` of it."""
        end = self.duration_s if end_s is None else end_s
        return polyline(self.rows(ball_id), float(start_s), float(end), tolerance_mm)

    def rests(self) -> dict[str, tuple[float, float] | None]:
        """Where each ball ends, mm; None for a potted one."""
        return {ball_id: self.rest_mm(ball_id) for ball_id in self.ids}

    def rest_mm(self, ball_id: str) -> tuple[float, float] | None:
        """Where one ball ends, mm; None when it is potted."""
        if ball_id in self.potted:
            return None
        rows, _ = self._plain_rows(ball_id)
        last = rows[-1]
        if last[R_VX] or last[R_VY] or last[R_AX] or last[R_AY]:  # cut short while it ran
            return self.instant(ball_id, self.duration_s).at_mm
        return (last[R_X], last[R_Y])

    @cached_property
    def events(self) -> tuple[LaneEvent, ...]:
        """What happened, in order of time (ball-to-ball contacts once, told of the lower ball)."""
        found = []
        for row in self.records.tolist():
            cause, ball, other = int(row[R_CAUSE]), int(row[R_BALL]), int(row[R_OTHER])
            if cause in (PLACED, TURNS):
                continue
            if cause == HIT_BALL and other < ball:
                continue
            found.append(self._event(row, cause, ball, other))
        return tuple(found)

    def _event(self, row: list[float], cause: int, ball: int, other: int) -> LaneEvent:
        name = ""
        if cause == HIT_BALL:
            name = self.ids[other]
        elif cause == HIT_CUSHION:
            name = self._faces[other]
        elif cause == HIT_JAW:
            name = self._jaws[other]
        elif cause == FALLS:
            name = self._pockets[other]
        return LaneEvent(
            t_s=row[R_T],
            kind=_KINDS[cause],
            ball=self.ids[ball],
            other=name,
            at_mm=(row[R_X], row[R_Y]),
            velocity_m_s=(row[R_VX] / 1000.0, row[R_VY] / 1000.0),
            spin_rad_s=(row[R_WX], row[R_WY], row[R_WZ]),
        )
