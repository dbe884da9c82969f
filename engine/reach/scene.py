"""A shot laid out for thousands of tries: balls, potting line and gaps as arrays."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.lanes.edges import gap_ends_mm, stretch_mm
from engine.potting import cue_ball_of
from engine.potting.pockets import pocket_window
from engine.potting.pots import ball_of, pot
from engine.reach.judging import (
    AREA,
    BALL_BALL,
    BALL_CUSHION,
    CANNON,
    G_A,
    G_AT,
    G_AXIS,
    G_B,
    G_COUNT,
    G_FIRST,
    G_FROM,
    G_KIND,
    G_SIDE,
    G_TO,
    GAP_COLUMNS,
    STRETCH,
)
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Gap, Routine, Shot
from engine.tables.model import CUSHIONS, Pocket, Table

_CODES = {
    "ball-ball": BALL_BALL,
    "ball-cushion": BALL_CUSHION,
    "cushion-stretch": STRETCH,
    "cloth-area": AREA,
    "cannon": CANNON,
}
_SIDES = {"left": 1.0, "right": -1.0, "either": 0.0}


@dataclass(frozen=True, slots=True)
class Scene:
    """One shot of a routine, ready to be tried many times.

    `target` is the object ball's index in `balls`, −1 for a shot along a stated direction
    (`aim_rad`). `gap_rows` (g, GAP_COLUMNS) and `corners` (p, 2) lay the gaps out in order.
    `lowest_tip` is what the cue can reach.
    """

    table: Table
    conditions: Conditions
    balls: tuple[Ball, ...]
    shot: Shot
    gaps: tuple[Gap, ...]
    cue: int
    target: int
    pocket: int
    aim_rad: float | None
    lowest_tip: float
    gap_rows: np.ndarray
    corners: np.ndarray

    @property
    def places_mm(self) -> np.ndarray:
        """Where the balls lie, (n, 2)."""
        return np.array([ball.centre_mm for ball in self.balls], dtype=float).reshape(-1, 2)

    def line_rad(self, places_mm: np.ndarray) -> np.ndarray:
        """Direction of the potting line for each row of places (N, n, 2): the pocket's middle."""
        if self.target < 0:
            return np.full(len(places_mm), self.aim_rad)
        pocket, radius = self.table.pockets[self.pocket], self.conditions.ball_radius_mm
        spots = places_mm[:, self.target]
        if (spots == spots[0]).all():
            return np.full(len(spots), _line_rad(pocket, radius, *spots[0].tolist()))
        return np.array([_line_rad(pocket, radius, x, y) for x, y in spots.tolist()])


@lru_cache(maxsize=8192)
def _line_rad(pocket: Pocket, radius_mm: float, x_mm: float, y_mm: float) -> float:
    return pocket_window(pocket, (x_mm, y_mm), radius_mm).direction_rad


def scene_of(routine: Routine, shot_id: str, gap_ids: Sequence[str]) -> Scene:
    """The scene of one shot and the gaps asked of it, in order.

    `UnknownNameError` for names that are not there, `OutOfRangeError` for a gap or shot that is
    not complete.
    """
    gaps = tuple(routine.gap(gap_id) for gap_id in gap_ids)
    return scene_for(
        table_of(routine), conditions_of(routine), routine.balls, routine.shot(shot_id), gaps
    )


def scene_for(
    table: Table, conditions: Conditions, balls: Sequence[Ball], shot: Shot, gaps: Sequence[Gap]
) -> Scene:
    """The scene of a shot from its parts; errors as `scene_of`."""
    check_playable(table, shot)
    cue = cue_ball_of(balls)
    order = {ball.id: index for index, ball in enumerate(balls)}
    target, pocket, aim, lowest = -1, -1, None, -conditions.tip_limit
    if shot.aim_deg is not None:
        aim = math.radians(shot.aim_deg)
    else:
        answer = pot(table, conditions, balls, shot)
        target = order[ball_of(balls, shot.object_ball).id]
        pocket = [one.id for one in table.pockets].index(shot.pocket)
        lowest = max(lowest, answer.lowest_tip)
    rows, corners = _gap_rows(table, gaps, balls, order)
    return Scene(
        table, conditions, tuple(balls), shot, tuple(gaps), order[cue.id], target, pocket, aim,
        lowest, rows, corners,
    )  # fmt: skip


def check_playable(table: Table, shot: Shot) -> None:
    """`OutOfRangeError`, in words, for a shot with neither a pot nor a direction."""
    if shot.aim_deg is not None or (shot.object_ball and shot.pocket):
        return
    if not table.pockets:
        raise OutOfRangeError(
            f"shot {shot.id}", "without a direction", "a direction to play in (aim_deg)",
            "The table has no pockets, so nothing can be potted.",
        )  # fmt: skip
    raise OutOfRangeError(
        f"shot {shot.id}", "without a pot or a direction",
        "an object ball and its pocket, or a direction to play in (aim_deg)",
    )  # fmt: skip


def _gap_rows(
    table: Table, gaps: Sequence[Gap], balls: Sequence[Ball], order: dict[str, int]
) -> tuple[np.ndarray, np.ndarray]:
    rows = np.zeros((len(gaps), GAP_COLUMNS))
    corners: list[tuple[float, float]] = []
    for row, gap in zip(rows, gaps, strict=True):
        if gap.kind not in _CODES:
            raise UnknownNameError("kind of gap", gap.kind, tuple(_CODES))
        row[G_KIND] = _CODES[gap.kind]
        named = [order[ball_of(balls, ball_id).id] for ball_id in gap.balls]
        row[G_A] = named[0] if named else -1
        row[G_B] = named[1] if len(named) > 1 else -1
        if gap.kind in ("ball-ball", "ball-cushion"):
            gap_ends_mm(table, gap, balls)  # refuses a gap whose edges are not all named
        if gap.kind in ("ball-cushion", "cushion-stretch"):
            row[G_AXIS], row[G_AT] = _cushion_line(table, gap.cushion)
        if gap.kind == "cushion-stretch":
            row[G_FROM], row[G_TO] = stretch_mm(gap)
        if gap.kind == "cloth-area":
            if len(gap.points_mm) < 3:
                raise OutOfRangeError(
                    f"points of gap {gap.id}", len(gap.points_mm), "three or more"
                )
            row[G_FIRST], row[G_COUNT] = len(corners), len(gap.points_mm)
            corners += gap.points_mm
        if gap.kind == "cannon":
            if len(named) != 1:
                raise OutOfRangeError(f"balls of gap {gap.id}", list(gap.balls), "one ball")
            if gap.side not in _SIDES:
                raise UnknownNameError("side", gap.side, tuple(_SIDES))
            row[G_SIDE] = _SIDES[gap.side]
    return rows, np.array(corners, dtype=float).reshape(-1, 2)


def _cushion_line(table: Table, cushion: str) -> tuple[float, float]:
    lines = {
        "left": (0.0, 0.0),
        "right": (0.0, table.width_mm),
        "bottom": (1.0, 0.0),
        "top": (1.0, table.length_mm),
    }
    if cushion not in lines:
        raise UnknownNameError("cushion", cushion, CUSHIONS)
    return lines[cushion]
