"""Where the most forgiving strike is looked for: the lattice points deepest within what threads."""

from __future__ import annotations

import numpy as np
import pytest

from engine.reach.choosing import APART, CANDIDATES, _deepest, _depth


def peeled(cells: np.ndarray) -> np.ndarray:
    """Depth by its meaning: how often a rim of one step can be taken off before a cell goes."""
    depth = np.zeros(cells.shape, dtype=int)
    left = np.pad(cells, 1)
    while left.any():
        depth += left[1:-1, 1:-1]
        inner = left[1:-1, 1:-1] & left[:-2, 1:-1] & left[2:, 1:-1] & left[1:-1, :-2]
        left[1:-1, 1:-1] = inner & left[1:-1, 2:]
    return depth


def blots(seed: int) -> np.ndarray:
    """Rectangles laid over each other, with specks of what does not thread."""
    dice = np.random.default_rng(seed)
    cells = np.zeros(dice.integers(1, 90, 2), dtype=bool)
    for _ in range(dice.integers(0, 6)):
        row, column = (dice.integers(0, size) for size in cells.shape)
        cells[row : row + dice.integers(1, 60), column : column + dice.integers(1, 60)] ^= True
    return cells & (dice.random(cells.shape) > 0.002 * dice.integers(0, 9))


@pytest.mark.parametrize("seed", range(40))
def test_depth_is_how_often_a_rim_can_be_taken_off(seed):
    cells = blots(seed)
    assert np.array_equal(_depth(cells), peeled(cells))


@pytest.mark.parametrize("seed", range(40))
def test_the_deepest_points_come_first_and_lie_apart(seed):
    cells = blots(seed)
    depth = peeled(cells)
    order = sorted(zip(*np.nonzero(cells), strict=True), key=lambda at: -depth[at])
    wanted: list[tuple[int, int]] = []
    for i, j in order:
        if len(wanted) < CANDIDATES and all(
            abs(int(i) - a) + abs(int(j) - b) > APART for a, b in wanted
        ):
            wanted.append((int(i), int(j)))
    assert [tuple(at) for at in _deepest(depth.copy()).tolist()] == wanted
