"""A shot laid out once: balls, potting line and gaps, for one lane or thousands of tries."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError
from engine.playing.edges import gap_rows, gap_width_mm
from engine.potting import cue_ball_of
from engine.potting.pockets import pocket_window
from engine.potting.pots import ball_of, pot
from engine.results import PotAnswer
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Gap, Routine, Shot
from engine.tables.model import Pocket, Table


@dataclass(frozen=True, eq=False)
class LaidOutShot:
    """One shot of a routine, ready to be played once or many times.

    `cue` and `target` are indices in `balls`; `target` is the object ball, the first the cue ball
    is to meet (−1 without one). `pocket` is where it is to be potted, −1 when no pot is asked:
    then the cue ball is sent along `aim_rad`. `gap_rows` (g, GAP_COLUMNS) and `corners` (p, 2) lay
    the gaps out in order. `lowest_tip` is what the cue can reach.
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
    pot: PotAnswer | None = None

    @cached_property
    def cue_ball(self) -> Ball:
        """The ball that is struck."""
        return self.balls[self.cue]

    @cached_property
    def object_ball(self) -> Ball | None:
        """The ball it is to meet first, if any."""
        return self.balls[self.target] if self.target >= 0 else None

    @cached_property
    def others(self) -> tuple[Ball, ...]:
        """All other balls: what a lane has to clear."""
        played = (self.cue, self.target)
        return tuple(ball for index, ball in enumerate(self.balls) if index not in played)

    @cached_property
    def alone(self) -> list[int]:
        """The indices of cue ball and object ball: what a free way is played with."""
        return [self.cue] if self.target < 0 else [self.cue, self.target]

    @property
    def places_mm(self) -> np.ndarray:
        """Where the balls lie, (n, 2)."""
        return np.array([ball.centre_mm for ball in self.balls], dtype=float).reshape(-1, 2)

    @cached_property
    def width_mm(self) -> float:
        """Width of the narrowest of its gaps."""
        c = self.conditions
        return min(
            gap_width_mm(self.table, gap, self.balls, c.ball_radius_mm, c.cue_radius_mm)
            for gap in self.gaps
        )

    def asking(self, gaps: Sequence[Gap]) -> LaidOutShot:
        """The same shot with gaps asked of it in order; errors for a gap that is not complete."""
        rows, corners = gap_rows(self.table, gaps, self.balls)
        return replace(self, gaps=tuple(gaps), gap_rows=rows, corners=corners)

    def line_rad(self, places_mm: np.ndarray) -> np.ndarray:
        """The line to play along for each row of places (N, n, 2): the potting line, or the aim."""
        if self.aim_rad is not None:
            return np.full(len(places_mm), self.aim_rad)
        pocket, radius = self.table.pockets[self.pocket], self.conditions.ball_radius_mm
        spots = places_mm[:, self.target]
        if len(spots) == 1 or (spots == spots[0]).all():
            return np.full(len(spots), _line_rad(pocket, radius, *spots[0].tolist()))
        return np.array([_line_rad(pocket, radius, x, y) for x, y in spots.tolist()])


@lru_cache(maxsize=8192)
def _line_rad(pocket: Pocket, radius_mm: float, x_mm: float, y_mm: float) -> float:
    return pocket_window(pocket, (x_mm, y_mm), radius_mm).direction_rad


def laid_out_of(routine: Routine, shot_id: str, gap_ids: Sequence[str] = ()) -> LaidOutShot:
    """One shot of a routine laid out, with the gaps asked of it in order.

    `UnknownNameError` for names that are not there, `OutOfRangeError` for a gap or shot that is
    not complete.
    """
    gaps = tuple(routine.gap(gap_id) for gap_id in gap_ids)
    return laid_out(
        table_of(routine), conditions_of(routine), routine.balls, routine.shot(shot_id), gaps
    )


def gaps_in_order(routine: Routine, gap_id: str) -> tuple[str, ...]:
    """The gaps a gap stands for: itself, or those it asks for one after another."""
    gap = routine.gap(gap_id)
    return gap.gaps if gap.kind == "in-order" else (gap.id,)


def laid_out(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    shot: Shot,
    gaps: Sequence[Gap] = (),
    pot_answer: PotAnswer | None = None,
) -> LaidOutShot:
    """A shot laid out from its parts, the pot worked out unless it is given; errors as above."""
    check_playable(table, shot)
    cue = cue_ball_of(balls)
    order = {ball.id: index for index, ball in enumerate(balls)}
    if shot.aim_deg is not None:
        aim, pocket, lowest = math.radians(shot.aim_deg), -1, -conditions.tip_limit
        target = order.get(shot.object_ball, -1)
        target = -1 if target == order[cue.id] else target
    else:
        pot_answer = pot_answer or pot(table, conditions, balls, shot)
        aim, pocket = None, [one.id for one in table.pockets].index(shot.pocket)
        lowest = max(-conditions.tip_limit, pot_answer.lowest_tip)
        target = order[ball_of(balls, shot.object_ball).id]
    rows, corners = gap_rows(table, gaps, balls)
    return LaidOutShot(
        table, conditions, tuple(balls), shot, tuple(gaps), order[cue.id], target, pocket, aim,
        lowest, rows, corners, pot_answer,
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
