"""The connected regions of a map."""

from __future__ import annotations

import numpy as np

from engine.compiled import Flags2, Floats2, Ints1, Ints2, compiled

Region = tuple[np.ndarray, np.ndarray]


def regions(cells: np.ndarray) -> list[Region]:
    """The connected regions of a boolean array, each as indices (rows, columns)."""
    labels = np.zeros(cells.shape, dtype=np.int64)
    stack = np.empty((cells.size, 2), dtype=np.int64)
    count = number_regions(np.ascontiguousarray(cells), labels, stack)
    if not count:
        return []
    inside = np.flatnonzero(cells)
    # small numbers are sorted many times as fast
    number = labels.ravel()[inside].astype(np.int16 if count < 2**15 else np.int64)
    order = np.argsort(number, kind="stable")
    rows, columns = np.divmod(inside[order], cells.shape[1])
    cuts = np.cumsum(np.bincount(number, minlength=count + 1)[1:])[:-1]
    return list(zip(np.split(rows, cuts), np.split(columns, cuts), strict=True))


@compiled
def number_regions(cells: Flags2, labels: Ints2, stack: Ints2) -> int:
    """Number the connected regions of the cells from 1 in `labels`; returns their count.

    Neighbours share a side. `stack` is room for (row, column) of every cell.
    """
    n, m = cells.shape
    count = 0
    for i in range(n):
        for j in range(m):
            if not cells[i, j] or labels[i, j] != 0:
                continue
            count += 1
            stack[0, 0], stack[0, 1] = i, j
            labels[i, j] = count
            top = 1
            while top:
                top -= 1
                a, b = stack[top, 0], stack[top, 1]
                for k in range(4):
                    c = a + (1 if k == 0 else -1 if k == 1 else 0)
                    d = b + (1 if k == 2 else -1 if k == 3 else 0)
                    if 0 <= c < n and 0 <= d < m and cells[c, d] and labels[c, d] == 0:
                        labels[c, d] = count
                        stack[top, 0], stack[top, 1] = c, d
                        top += 1
    return count


@compiled
def grow_box(total: Floats2, box: Ints1, least: float) -> None:
    """Grow a box of cells, a step at a time on the side that keeps it fullest.

    For as long as the share of its cells that count is at least `least`. `total` (n + 1, m + 1)
    are the sums of what counts in the rows and columns before; `box` (4,) holds its first and
    last row, and first and last column, on the way in and out.
    """
    n, m = total.shape
    while True:
        best, side = -1.0, -1
        for k in range(4):
            # of sides as good as each other: higher, farther right, left, lower
            at = 1 if k == 0 else 3 if k == 1 else 2 if k == 2 else 0
            a = box[0] - (1 if at == 0 else 0)
            b = box[1] + (1 if at == 1 else 0)
            c = box[2] - (1 if at == 2 else 0)
            d = box[3] + (1 if at == 3 else 0)
            if a < 0 or c < 0 or b + 2 > n or d + 2 > m:
                continue
            held = total[b + 1, d + 1] - total[a, d + 1] - total[b + 1, c] + total[a, c]
            share = held / ((b + 1 - a) * (d + 1 - c))
            if share > best:
                best, side = share, at
        if best < least:
            return
        box[side] += 1 if side in (1, 3) else -1


@compiled
def fill_depth(cells: Flags2, depth: Ints2) -> None:
    """Fill `depth` with the steps from each cell that counts to the nearest that does not.

    Steps are taken along rows and columns; beyond the edges nothing counts.
    """
    n, m = cells.shape
    for i in range(n):
        for j in range(m):
            above = depth[i - 1, j] if i > 0 else 0
            left = depth[i, j - 1] if j > 0 else 0
            depth[i, j] = 1 + min(above, left) if cells[i, j] else 0
    for i in range(n - 1, -1, -1):
        for j in range(m - 1, -1, -1):
            below = depth[i + 1, j] if i < n - 1 else 0
            right = depth[i, j + 1] if j < m - 1 else 0
            depth[i, j] = min(depth[i, j], 1 + min(below, right))
