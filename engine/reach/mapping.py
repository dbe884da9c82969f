"""The reach map of one shot and its gaps: every tip height and pace, and the windows that thread.

Windows are refined to far below what a coach can set: their edges are found on a lattice and then
closed in on around each extreme, to better than 0.1 % of the radius in tip height and 0.01 m/s.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.answers.values import ReachWindow
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.reach.lattice import FINER, Lattice, label_regions
from engine.reach.outcomes import outcomes
from engine.reach.scene import Scene

TIP_COUNT, PACE_COUNT = 41, 37
ZOOMS, ZOOM_POINTS = 4, 5
#: Regions thinner than this many lattice steps on average (about 0.01 of the radius, or 0.1 of
#: pace) are slivers that nobody could play on purpose: counted, not offered.
LEAST_THICKNESS = 3.0


@dataclass(frozen=True, slots=True)
class ReachMap:
    """What every tip height and pace does for one shot and its gaps.

    `tip_heights` (n,) over the radius and `paces` (m,) rise; `threads` (n, m) on the refined
    lattice; `margin_mm`, `reason`, `other` (n, m) where `tried` (reason −1 elsewhere): room to the
    nearer edge, a code of `engine.reach.judging`, and the index of the ball it speaks of. `slivers`
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

    def nearest_miss(self) -> tuple[int, int] | None:
        """Indices (tip, pace) of the failing try that comes nearest; None when there is none."""
        margin = np.where(self.tried & ~self.threads, self.margin_mm, np.nan)
        if np.isnan(margin).all():
            return None
        i, j = np.unravel_index(int(np.nanargmax(margin)), margin.shape)
        return int(i), int(j)


def preview(scene: Scene, tips: int = 11, paces: int = 10) -> ReachMap:
    """A map on a coarse grid only, for while a ball is being dragged."""
    lattice = _lattice(scene, tips, paces, 1)
    lattice.evaluate(np.ones_like(lattice.tried), True)
    return _map(scene, lattice, refined=False)


def reach_map(scene: Scene) -> ReachMap:
    """The refined map of a scene's gaps, asked in order."""
    lattice = _lattice(scene, TIP_COUNT, PACE_COUNT, FINER)
    lattice.fill()
    return _map(scene, lattice, refined=True)


def _lattice(scene: Scene, tips: int, paces: int, finer: int) -> Lattice:
    limit = scene.conditions.tip_limit
    speeds = scene.conditions.speed_mm_s

    def attempt(
        tip: np.ndarray, pace: np.ndarray, margins: bool
    ) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        found = outcomes(scene, tip, speeds(pace), margins=margins)
        return found.reason, found.margin_mm, found.other

    return Lattice(
        np.linspace(scene.lowest_tip, limit, (tips - 1) * finer + 1),
        np.linspace(PACE_LOWEST, PACE_HIGHEST, (paces - 1) * finer + 1),
        attempt,
    )


def _map(scene: Scene, lattice: Lattice, refined: bool) -> ReachMap:
    labels = np.zeros(lattice.threads.shape, dtype=np.int64)
    count = label_regions(lattice.threads, labels)
    found = [labels == number for number in range(1, count + 1)]
    playable = [region for region in found if not refined or _thickness(region) >= LEAST_THICKNESS]
    playable.sort(key=lambda region: -int(region.sum()))
    windows = [_window(lattice, region, refined) for region in playable]
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
        tuple(windows),
        count - len(playable),
        int(lattice.tried.sum()),
    )


def _window(lattice: Lattice, region: np.ndarray, refined: bool) -> ReachWindow:
    at = np.nonzero(region)
    edges = [_extreme(lattice, region, axis, way, refined) for axis in (0, 1) for way in (-1, 1)]
    tip, pace, margin = _roomiest(lattice, region, at, refined)
    return ReachWindow(edges[0], edges[1], edges[2], edges[3], tip, pace, margin)


def _thickness(region: np.ndarray) -> float:
    """Mean thickness of a region in lattice steps, across its longer way."""
    longest = max(int(region.any(axis=1).sum()), int(region.any(axis=0).sum()))
    return float(region.sum()) / longest


def _roomiest(
    lattice: Lattice, region: np.ndarray, at: tuple[np.ndarray, ...], refined: bool
) -> tuple[float, float, float]:
    """The try of a region with the most room; edges of thin regions are tried for margins here."""
    margin = np.where(region & lattice.tried, lattice.margin, -np.inf)
    margin[np.isnan(margin)] = -np.inf
    # points tried without margins, spread over the region
    step = max(1, len(at[0]) // 64)
    i, j = at[0][::step], at[1][::step]
    _, room, _ = lattice.attempt(lattice.tips[i], lattice.paces[j], True)
    margin[i, j] = np.fmax(margin[i, j], room)
    i0, j0 = np.unravel_index(int(np.argmax(margin)), margin.shape)
    tip, pace, best = float(lattice.tips[i0]), float(lattice.paces[j0]), float(margin[i0, j0])
    if not refined:
        return tip, pace, best
    spans = [2 * _step(lattice.tips), 2 * _step(lattice.paces)]
    low = lattice.tips[at[0].min()], lattice.paces[at[1].min()]
    high = lattice.tips[at[0].max()], lattice.paces[at[1].max()]
    for _ in range(ZOOMS):
        tips, paces = _box(lattice, tip, pace, spans)
        tips, paces = np.clip(tips, low[0], high[0]), np.clip(paces, low[1], high[1])
        reason, room, _ = lattice.attempt(tips, paces, True)
        room = np.where(reason == 0, room, -np.inf)
        k = int(np.argmax(room))
        if room[k] > best:
            tip, pace, best = float(tips[k]), float(paces[k]), float(room[k])
        spans = [span / 2.0 for span in spans]
    return tip, pace, best


def _extreme(lattice: Lattice, region: np.ndarray, axis: int, way: int, refined: bool) -> float:
    """How far a region extends along an axis, one way, closed in on from the lattice."""
    values = lattice.tips if axis == 0 else lattice.paces
    reached = np.nonzero(region.any(axis=1 - axis))[0]
    index = int(reached[-1] if way > 0 else reached[0])
    edge = float(values[index])
    if not refined or index in (0, len(values) - 1):
        return edge
    line = np.nonzero(region.take(index, axis=axis))[0]
    middle = int(line[len(line) // 2])
    across = float((lattice.paces if axis == 0 else lattice.tips)[middle])
    tip, pace = (edge, across) if axis == 0 else (across, edge)
    spans = [_step(lattice.tips), _step(lattice.paces)]
    for _ in range(ZOOMS):
        tips, paces = _box(lattice, tip, pace, spans)
        reason, _, _ = lattice.attempt(tips, paces, False)
        good = np.nonzero(reason == 0)[0]
        if not len(good):
            break
        along = (tips if axis == 0 else paces)[good] * way
        k = good[int(np.argmax(along))]
        if along.max() > (tip if axis == 0 else pace) * way:
            tip, pace = float(tips[k]), float(paces[k])
        spans = [span / 2.0 for span in spans]
    return tip if axis == 0 else pace


def _box(
    lattice: Lattice, tip: float, pace: float, spans: list[float]
) -> tuple[np.ndarray, np.ndarray]:
    """Points of a small box around a try, kept within the map, flattened."""
    share = np.linspace(-1.0, 1.0, ZOOM_POINTS)
    tips = np.clip(tip + spans[0] * share, lattice.tips[0], lattice.tips[-1])
    paces = np.clip(pace + spans[1] * share, lattice.paces[0], lattice.paces[-1])
    grid = np.meshgrid(tips, paces, indexing="ij")
    return grid[0].ravel(), grid[1].ravel()


def _step(values: np.ndarray) -> float:
    return float(values[1] - values[0])
