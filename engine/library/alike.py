"""Near-duplicates: routines whose balls stand alike, whatever their order, mirrored or not.

Two set-ups are alike within d when their balls can be paired off, each with one of its own kind
no farther away than d. Then their centroids lie no farther apart than d either, and mirroring
across the table's lines moves the centroid with the balls; so a search tree of centroids, folded
into one quarter of the table, gives all that could be alike, and only those are paired off.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence

import numpy as np

from engine.library.values import Layout, Pair

#: Told (done, in all); False asks to stop.
Progress = Callable[[int, int], bool | None]
MIRRORS = ("", "long", "cross", "both")


def alike(
    layouts: Sequence[Layout],
    within_mm: float = 20.0,
    *,
    mirrors: bool = True,
    progress: Progress | None = None,
) -> list[Pair]:
    """Every pair of set-ups alike within a distance (mm), the nearest first.

    Empty set-ups are left out. Stopped early, it gives the pairs found until then.
    """
    from scipy.spatial import cKDTree

    groups: dict[tuple, list[Layout]] = defaultdict(list)
    for layout in layouts:
        if layout.kinds:
            size = (layout.table, layout.width_mm, layout.length_mm)
            groups[(*size, tuple(sorted(layout.kinds)))].append(layout)
    found: list[Pair] = []
    done, wanted = 0, sum(map(len, groups.values()))
    for group in groups.values():
        if progress is not None and progress(done, wanted) is False:
            break
        done += len(group)
        tree = cKDTree(_centroids(group, mirrors))
        # a little wider, so that rounding leaves out no pair at the very edge
        for one, other in sorted(tree.query_pairs(within_mm + 1e-6)):
            pair = compared(group[one], group[other], mirrors=mirrors)
            if pair is not None and pair.apart_mm <= within_mm:
                found.append(pair)
    return sorted(found, key=lambda pair: (pair.apart_mm, pair.one, pair.other))


def compared(one: Layout, other: Layout, *, mirrors: bool = True) -> Pair | None:
    """How far apart two set-ups lie at best; None when their balls are not of the same kinds."""
    if sorted(one.kinds) != sorted(other.kinds) or not one.kinds:
        return None
    best: Pair | None = None
    mine = np.array(one.places_mm)
    for way in MIRRORS if mirrors else MIRRORS[:1]:
        there = _mirrored(np.array(other.places_mm), other, way)
        apart = max(
            _farthest(mine[_of(one, kind)], there[_of(other, kind)]) for kind in set(one.kinds)
        )
        if best is None or apart < best.apart_mm - 1e-9:
            best = Pair(one.key, other.key, apart, way)
    return best


def families(pairs: Sequence[Pair]) -> list[list[int]]:
    """Keys of routines that are alike with one another, directly or by way of others."""
    head: dict[int, int] = {}

    def first(key: int) -> int:
        while head.setdefault(key, key) != key:
            key = head[key]
        return key

    for pair in pairs:
        head[first(pair.one)] = first(pair.other)
    groups: dict[int, list[int]] = defaultdict(list)
    for key in sorted(head):
        groups[first(key)].append(key)
    return sorted(groups.values())


def _of(layout: Layout, kind: str) -> np.ndarray:
    return np.array([at for at, one in enumerate(layout.kinds) if one == kind])


def _farthest(mine: np.ndarray, there: np.ndarray) -> float:
    """The least d (mm) for which two sets of equal size can be paired off within d."""
    apart = np.linalg.norm(mine[:, None] - there[None], axis=2)
    if len(apart) == 1:
        return float(apart[0, 0])
    from scipy.optimize import linear_sum_assignment

    steps = np.unique(apart)
    low, high = 0, len(steps) - 1
    while low < high:
        middle = (low + high) // 2
        over = apart > steps[middle]
        rows, columns = linear_sum_assignment(over)
        if over[rows, columns].any():
            low = middle + 1
        else:
            high = middle
    return float(steps[low])


def _mirrored(places: np.ndarray, layout: Layout, way: str) -> np.ndarray:
    made = places.copy()
    if way in ("long", "both"):
        made[:, 0] = layout.width_mm - made[:, 0]
    if way in ("cross", "both"):
        made[:, 1] = layout.length_mm - made[:, 1]
    return made


def _centroids(group: Sequence[Layout], fold: bool) -> np.ndarray:
    """Centroid of each set-up (n, 2), folded across the table's two lines."""
    middles = np.array([np.mean(layout.places_mm, axis=0) for layout in group])
    if not fold:
        return middles
    half = np.array([[layout.width_mm / 2.0, layout.length_mm / 2.0] for layout in group])
    return np.abs(middles - half)
