"""The reach map of one shot and its gaps: every tip height and pace, and the windows that thread.

Windows are refined to far below what a coach can set: their edges are found on a lattice and then
closed in on around each extreme, to better than 0.1 % of the radius in tip height and 0.01 m/s.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.judging.outcomes import outcomes, outcomes_of_each
from engine.playing.laid_out import LaidOutShot
from engine.reach.lattice import FINER, Lattice
from engine.reach.windows import windows_of
from engine.results import ReachWindow

TIP_COUNT, PACE_COUNT = 51, 46


@dataclass(frozen=True, slots=True)
class ReachMap:
    """What every tip height and pace does for one shot and its gaps.

    `tip_heights` (n,) over the radius and `paces` (m,) rise; `threads` (n, m) on the refined
    lattice; `margin_mm`, `reason`, `other` (n, m) where `tried` (reason −1 elsewhere): room to the
    nearer edge, a code of `engine.judging.scan`, and the index of the ball it speaks of. `slivers`
    counts the regions too thin to play.
    """

    shot: str
    gaps: tuple[str, ...]
    tip_heights: np.ndarray
    paces: np.ndarray
    threads: np.ndarray
    margin_mm: np.ndarray
    reason: np.ndarray
    other: np.ndarray
    tried: np.ndarray
    windows: tuple[ReachWindow, ...]
    slivers: int
    tries: int

    def threading_share(self) -> float:
        """The share of all its strikes that thread."""
        return float(self.threads.mean())

    def nearest_miss(self) -> tuple[int, int] | None:
        """Indices (tip, pace) of the failing try that comes nearest; None when there is none."""
        margin = np.where(self.tried & ~self.threads, self.margin_mm, np.nan)
        if np.isnan(margin).all():
            return None
        i, j = np.unravel_index(int(np.nanargmax(margin)), margin.shape)
        return int(i), int(j)

    def nearest_miss_mm(self) -> float | None:
        """By how much that try misses; None when there is none."""
        at = self.nearest_miss()
        return None if at is None else max(0.0, -float(self.margin_mm[at]))


def preview(scene: LaidOutShot, tips: int = 11, paces: int = 10) -> ReachMap:
    """A map on a coarse grid only, for while a ball is being dragged."""
    lattice = _lattice(scene, tips, paces, 1)
    lattice.evaluate(np.ones_like(lattice.tried), True)
    return _map(scene, lattice, refined=False)


def reach_map(scene: LaidOutShot) -> ReachMap:
    """The refined map of a scene's gaps, asked in order."""
    return next(reach_maps((scene,)))


def reach_maps(scenes: Sequence[LaidOutShot]) -> Iterator[ReachMap]:
    """The refined maps of scenes that differ in nothing but their gaps.

    Their coarse grids are the same strikes: each is played once, and judged for all of them.
    """
    lattices = [_lattice(scene, TIP_COUNT, PACE_COUNT, FINER) for scene in scenes]
    if not lattices:
        return
    tip, pace = lattices[0].coarse_grid()
    speeds = scenes[0].conditions.speed_mm_s(pace, tip)
    for scene, lattice, found in zip(
        scenes, lattices, outcomes_of_each(scenes, tip, speeds), strict=True
    ):
        lattice.fill(found.reason, found.margin_mm, found.other)
        yield _map(scene, lattice, refined=True)


def _lattice(scene: LaidOutShot, tips: int, paces: int, finer: int) -> Lattice:
    limit = scene.conditions.tip_limit
    speeds = scene.conditions.speed_mm_s

    def attempt(
        tip: np.ndarray, pace: np.ndarray, margins: bool
    ) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        found = outcomes(scene, tip, speeds(pace, tip), margins=margins)
        return found.reason, found.margin_mm, found.other

    return Lattice(
        np.linspace(scene.lowest_tip, limit, (tips - 1) * finer + 1),
        np.linspace(PACE_LOWEST, PACE_HIGHEST, (paces - 1) * finer + 1),
        attempt,
    )


def _map(scene: LaidOutShot, lattice: Lattice, refined: bool) -> ReachMap:
    windows, slivers = windows_of(lattice, refined)
    return ReachMap(
        scene.shot.id,
        tuple(gap.id for gap in scene.gaps),
        lattice.tips,
        lattice.paces,
        lattice.threads,
        lattice.margin,
        lattice.reason,
        lattice.other,
        lattice.tried,
        windows,
        slivers,
        int(lattice.tried.sum()),
    )
