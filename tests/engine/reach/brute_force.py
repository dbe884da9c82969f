"""Reach by brute force: every shot of a dense grid played out, and maps held against it.

The grid is ten times finer than 41 × 37. Parts thinner than the map's own least thickness are
slivers, in the brute force by the same rule as in the map: they are left out of the comparison.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.judging import outcomes
from engine.playing import LaidOutShot
from engine.reach import ReachMap
from engine.reach.windows import LEAST_THICKNESS

TIPS, PACES = 401, 361
ROWS_AT_ONCE = 20


@dataclass(frozen=True)
class Dense:
    """What every shot of the dense grid does: `threads` (TIPS, PACES)."""

    tips: np.ndarray
    paces: np.ndarray
    threads: np.ndarray


def dense(scene: LaidOutShot) -> Dense:
    """Every tip height and pace of the dense grid tried."""
    tips = np.linspace(scene.lowest_tip, scene.conditions.tip_limit, TIPS)
    paces = np.linspace(PACE_LOWEST, PACE_HIGHEST, PACES)
    rows = []
    for start in range(0, TIPS, ROWS_AT_ONCE):
        part = tips[start : start + ROWS_AT_ONCE]
        tip, pace = (one.ravel() for one in np.meshgrid(part, paces, indexing="ij"))
        speed = scene.conditions.speed_mm_s(pace, tip)
        rows.append(outcomes(scene, tip, speed, margins=False).threads.reshape(len(part), -1))
    return Dense(tips, paces, np.concatenate(rows))


def solid(values: np.ndarray) -> np.ndarray:
    """The points that lie in a square of one value as wide as the least thickness.

    The rest is slivers, thin tails and corners; the map's border counts as another value.
    """
    square = np.ones((int(LEAST_THICKNESS), int(LEAST_THICKNESS)))
    inside = ndimage.binary_opening(values, square)
    return inside | ndimage.binary_opening(~values, square)


def apart(ours: np.ndarray, theirs: np.ndarray) -> np.ndarray:
    """Solid points of `ours` with no point of the same value within one step in `theirs`."""
    near = np.ones((3, 3))
    good = np.where(
        ours, ndimage.binary_dilation(theirs, near), ndimage.binary_dilation(~theirs, near)
    )
    return np.argwhere(solid(ours) & ~good)


@dataclass(frozen=True)
class Box:
    """A region's extremes (tip and pace, least and greatest), its mean thickness in steps."""

    edges: np.ndarray
    thickness: float

    @property
    def is_borderline(self) -> bool:
        """Whether the region is nearly thin enough, or nearly thick enough, to be a sliver."""
        return 0.75 <= self.thickness / LEAST_THICKNESS <= 1.25


def boxes(truth: Dense) -> list[Box]:
    """The regions of the brute force, thick or thin."""
    labels, _ = ndimage.label(truth.threads)
    found = []
    for number, (rows, columns) in enumerate(ndimage.find_objects(labels), 1):
        region = labels[rows, columns] == number
        longest = max(region.any(axis=1).sum(), region.any(axis=0).sum())
        edges = np.array(
            [
                truth.tips[rows.start], truth.tips[rows.stop - 1],
                truth.paces[columns.start], truth.paces[columns.stop - 1],
            ]
        )  # fmt: skip
        found.append(Box(edges, float(region.sum()) / float(longest)))
    return found


def unmatched(truth: Dense, found: ReachMap) -> tuple[list[Box], list[np.ndarray]]:
    """Thick regions without a window of the same edges within one step, and windows without one."""
    steps = np.repeat([truth.tips[1] - truth.tips[0], truth.paces[1] - truth.paces[0]], 2)
    windows = [
        np.array([one.tip_min, one.tip_max, one.pace_min, one.pace_max]) for one in found.windows
    ]
    regions = boxes(truth)
    thick = [one for one in regions if one.thickness >= LEAST_THICKNESS]

    def alike(box: Box, window: np.ndarray) -> bool:
        return bool((np.abs(box.edges - window) <= steps * (1.0 + 1e-9)).all())

    return (
        [box for box in thick if not any(alike(box, window) for window in windows)],
        [window for window in windows if not any(alike(box, window) for box in regions)],
    )
