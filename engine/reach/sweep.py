"""Sweep tip heights and paces through one shot, and see which of them thread a gap.

A coarse grid: every cell is one shot with plain top or screw (no side), the obstacles judged by
geometry. Windows are connected cells that thread; neighbours differ by one step of tip or pace.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.answers.values import GapPass, PotAnswer, ReachWindow
from engine.balls import Ball
from engine.conditions import Conditions
from engine.lanes import Way, free_way, gap_pass
from engine.lanes.strikes import Struck
from engine.routine.values import Gap, Shot
from engine.tables.model import Table

TIP_STEPS = 21
PACES: tuple[float, ...] = tuple(float(pace) for pace in range(1, 11))


@dataclass(frozen=True, slots=True)
class ReachMap:
    """Which tip heights and paces send the cue ball through one gap.

    `tip_heights` (n,) over the radius, lowest first; `paces` (m,); `margin_mm` (n, m) as in
    `GapPass`, nan where the cue ball does not get as far as the object ball, the object ball
    not to the pocket, or the cue ball goes in-off; `threads` (n, m). `reasons` says in words
    what each cell does.
    """

    shot: str
    gap: str
    tip_heights: np.ndarray
    paces: np.ndarray
    margin_mm: np.ndarray
    threads: np.ndarray
    reasons: tuple[tuple[str, ...], ...]

    def windows(self) -> tuple[ReachWindow, ...]:
        """The connected windows that thread, the one with the widest margin first."""
        found = [self._window(region) for region in regions(self.threads)]
        return tuple(sorted(found, key=lambda window: -window.best_margin_mm))

    def _window(self, region: np.ndarray) -> ReachWindow:
        tips, paces = np.nonzero(region)
        margin = np.where(region, self.margin_mm, -np.inf)
        best = np.unravel_index(int(np.argmax(margin)), margin.shape)
        return ReachWindow(
            tip_min=float(self.tip_heights[tips.min()]),
            tip_max=float(self.tip_heights[tips.max()]),
            pace_min=float(self.paces[paces.min()]),
            pace_max=float(self.paces[paces.max()]),
            best_tip=float(self.tip_heights[best[0]]),
            best_pace=float(self.paces[best[1]]),
            best_margin_mm=float(margin[best]),
        )

    def nearest_miss(self) -> tuple[float, float, float, str] | None:
        """Margin (mm, not above 0), tip height, pace and reason of the cell that comes nearest."""
        if self.threads.any() or np.isnan(self.margin_mm).all():
            return None
        i, j = np.unravel_index(int(np.nanargmax(self.margin_mm)), self.margin_mm.shape)
        margin = min(float(self.margin_mm[i, j]), 0.0)
        return margin, float(self.tip_heights[i]), float(self.paces[j]), self.reasons[i][j]


def tip_grid(conditions: Conditions, lowest_tip: float) -> np.ndarray:
    """Tip heights from the lowest the cue can reach to the miscue limit, evenly spread (n,)."""
    tips = np.linspace(-conditions.tip_limit, conditions.tip_limit, TIP_STEPS)
    return tips[tips >= lowest_tip - 1e-9]


def sweep(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    shot: Shot,
    pot_answer: PotAnswer | None,
    gaps: Iterable[Gap],
    paces: Sequence[float] = PACES,
    tips: Sequence[float] | None = None,
) -> tuple[ReachMap, ...]:
    """One map per gap; every cell's shot is played once for all gaps."""
    lowest = -conditions.tip_limit if pot_answer is None else pot_answer.lowest_tip
    heights = tip_grid(conditions, lowest) if tips is None else np.asarray(tips, dtype=float)
    asked = tuple(gaps)
    cells = [
        [
            _cell(table, conditions, balls, shot, pot_answer, asked, float(tip), pace)
            for pace in paces
        ]
        for tip in heights
    ]
    return tuple(
        ReachMap(
            shot=shot.id,
            gap=gap.id,
            tip_heights=heights,
            paces=np.asarray(paces, dtype=float),
            margin_mm=np.array([[cell[k].margin_mm for cell in row] for row in cells]),
            threads=np.array([[cell[k].threads for cell in row] for row in cells], dtype=bool),
            reasons=tuple(tuple(cell[k].reason for cell in row) for row in cells),
        )
        for k, gap in enumerate(asked)
    )


def _cell(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    shot: Shot,
    pot_answer: PotAnswer | None,
    gaps: tuple[Gap, ...],
    tip: float,
    pace: float,
) -> tuple[GapPass, ...]:
    struck = Struck(float(conditions.speed_mm_s(pace)), tip)
    way: Way = free_way(table, conditions, balls, shot, pot_answer, struck)
    return tuple(_useful(way, gap_pass(table, gap, balls, way)) for gap in gaps)


def _useful(way: Way, one: GapPass) -> GapPass:
    """The pass, unless the shot is lost: a pot that falls short or an in-off threads nothing."""
    if not way.legs:
        return one
    if not way.pots:
        return replace(one, threads=False, margin_mm=math.nan, reason="the pot falls short")
    if way.stops_mm is None:
        return replace(one, threads=False, margin_mm=math.nan, reason="the cue ball goes in-off")
    return one


def regions(cells: np.ndarray) -> tuple[np.ndarray, ...]:
    """The connected regions of a boolean array (n, m), each as an array of the same shape.

    Cells are neighbours when they share an edge.

    >>> [int(region.sum()) for region in regions(np.array([[1, 1, 0], [0, 0, 1]], dtype=bool))]
    [2, 1]
    """
    left, found = cells.copy(), []
    for start in np.argwhere(cells):
        if not left[tuple(start)]:
            continue
        region = np.zeros_like(cells)
        waiting = [tuple(start)]
        while waiting:
            i, j = waiting.pop()
            if 0 <= i < cells.shape[0] and 0 <= j < cells.shape[1] and left[i, j]:
                left[i, j], region[i, j] = False, True
                waiting += [(i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)]
        found.append(region)
    return tuple(found)
