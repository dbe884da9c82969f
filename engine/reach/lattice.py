"""A map of tip heights and paces, coarse first and refined wherever an edge runs.

The map is a lattice `FINER` times finer than its coarse grid. Only the coarse grid and the
cells an edge runs through are tried; the rest takes the value of the cell it lies in.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

FINER = 8
#: A cell whose corners all fail is looked into when the margin could reach zero between them.
SLOPE_SHARE = 1.0

Try = Callable[[np.ndarray, np.ndarray, bool], tuple[np.ndarray, np.ndarray, np.ndarray]]

_NEIGHBOURS = ((0, 0), (0, 1), (1, 0), (1, 1))


@dataclass(slots=True)
class Lattice:
    """Values on the fine lattice: `threads` (n, m), and `margin`, `reason`, `tried` beside them.

    Axis 0 is tip height, axis 1 pace. Where `tried` is False, `threads` is taken over from the
    cell and margin is nan.
    """

    tips: np.ndarray
    paces: np.ndarray
    attempt: Try
    threads: np.ndarray = field(init=False)
    margin: np.ndarray = field(init=False)
    reason: np.ndarray = field(init=False)
    other: np.ndarray = field(init=False)
    tried: np.ndarray = field(init=False)

    def __post_init__(self) -> None:
        shape = (len(self.tips), len(self.paces))
        self.threads = np.zeros(shape, dtype=bool)
        self.margin = np.full(shape, np.nan)
        self.reason = np.full(shape, -1, dtype=np.int8)
        self.other = np.full(shape, -1, dtype=np.int16)
        self.tried = np.zeros(shape, dtype=bool)

    def evaluate(self, wanted: np.ndarray, margins: bool) -> None:
        """Try the lattice points marked in `wanted` that have not been tried."""
        # one axis is looked through ten times faster than two
        row, column = np.divmod(np.flatnonzero(wanted & ~self.tried), len(self.paces))
        self._try_points(row, column, margins)

    def _try_points(self, row: np.ndarray, column: np.ndarray, margins: bool) -> None:
        if not len(row):
            return
        tried = self.attempt(self.tips[row], self.paces[column], margins)
        self._take((row, column), *tried)

    def _take(
        self,
        at: tuple[np.ndarray, np.ndarray],
        reason: np.ndarray,
        margin: np.ndarray,
        other: np.ndarray,
    ) -> None:
        self.threads[at] = reason == 0
        self.reason[at], self.margin[at], self.other[at] = reason, margin, other
        self.tried[at] = True

    def coarse_grid(self) -> tuple[np.ndarray, np.ndarray]:
        """Tip heights and paces of the coarse grid, (k,) each."""
        tips, paces = np.meshgrid(self.tips[::FINER], self.paces[::FINER], indexing="ij")
        return tips.ravel(), paces.ravel()

    def fill(self, reason: np.ndarray, margin: np.ndarray, other: np.ndarray) -> None:
        """Refine every cell an edge may run through, from what came of the coarse grid."""
        grid = np.zeros_like(self.tried)
        grid[::FINER, ::FINER] = True
        row, column = np.nonzero(grid)
        self._take((row, column), reason, margin, other)
        step = FINER
        while step > 1:
            self._refine(step)
            step //= 2
        self._follow(1)

    def _follow(self, step: int) -> np.ndarray:
        """Try the corners of every mixed cell of this step, and of the cells mixed by that."""
        mixed = self._mixed(step)
        corners = np.zeros_like(self.tried)
        for di, dj in _NEIGHBOURS:
            part = corners[di * step :: step, dj * step :: step]
            part[: mixed.shape[0], : mixed.shape[1]] |= mixed
        flat = np.flatnonzero(corners & ~self.tried)
        anew = False
        for _ in range(64):
            row, column = np.divmod(flat, len(self.paces))
            was = self.threads[row, column]
            self._try_points(row, column, False)
            changed = was != self.threads[row, column]
            if not changed.any():
                break
            anew = True
            flat = self._unsure_about(row[changed] // step, column[changed] // step, step)
        return self._mixed(step) if anew else mixed

    def _unsure_about(self, row: np.ndarray, column: np.ndarray, step: int) -> np.ndarray:
        """The untried corners of the mixed cells about points (k,) each, by their flat index."""
        value = self.threads[::step, ::step]
        i = np.concatenate([row - di for di, _ in _NEIGHBOURS])
        j = np.concatenate([column - dj for _, dj in _NEIGHBOURS])
        within = (i >= 0) & (j >= 0) & (i < value.shape[0] - 1) & (j < value.shape[1] - 1)
        i, j = i[within], j[within]
        corners = np.stack([value[i + di, j + dj] for di, dj in _NEIGHBOURS])
        mixed = corners.any(axis=0) & ~corners.all(axis=0)
        i, j = i[mixed] * step, j[mixed] * step
        flat = np.concatenate(
            [(i + di * step) * len(self.paces) + j + dj * step for di, dj in _NEIGHBOURS]
        )
        return np.unique(flat[~self.tried.ravel()[flat]])

    def _refine(self, step: int) -> None:
        half = step // 2
        mixed = self._follow(step)
        wanted = np.zeros_like(self.tried)
        if half > 1:
            shape = mixed.shape
            for di in (0, half, step):
                for dj in (0, half, step):
                    wanted[di::step, dj::step][: shape[0], : shape[1]] |= mixed
        else:
            # nothing thinner is looked for: the middles, and where the edge runs between corners
            value = self.threads[::step, ::step]
            wanted[half::step, half::step] = mixed
            wanted[half::step, ::step] = value[:-1] != value[1:]
            wanted[::step, half::step] = value[:, :-1] != value[:, 1:]
        # take the cell's value over where nothing is tried, then try what is wanted
        for di in (0, half):
            for dj in (0, half):
                if di or dj:
                    part = self.threads[di::step, dj::step]
                    from_cell = self.threads[::step, ::step][: part.shape[0], : part.shape[1]]
                    known = self.tried[di::step, dj::step]
                    part[:] = np.where(known, part, from_cell)
        self.evaluate(wanted, False)

    def _mixed(self, step: int) -> np.ndarray:
        """Cells of this step with corners that differ, or that a thin window may hide in."""
        value = self.threads[::step, ::step]
        a, b, c, d = value[:-1, :-1], value[:-1, 1:], value[1:, :-1], value[1:, 1:]
        some, every = a | b | c | d, a & b & c & d
        mixed = some & ~every
        if step == FINER:
            margin = self.margin[::step, ::step]
            room = np.stack([margin[:-1, :-1], margin[:-1, 1:], margin[1:, :-1], margin[1:, 1:]])
            with np.errstate(invalid="ignore"):
                change = room.max(axis=0) - room.min(axis=0)
                near_miss = ~some & (room.max(axis=0) > -SLOPE_SHARE * change)
                near_touch = every & (room.min(axis=0) < SLOPE_SHARE * change)
            mixed |= near_miss | near_touch
        return mixed
