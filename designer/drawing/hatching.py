"""Hatching as plain strokes: across a lane's corridor, or over a polygon.

Six patterns tell lanes apart without colour: slanted either way, straight across, crossed,
arrow heads along the travel, and rows of dots.
"""

from __future__ import annotations

import math

import numpy as np

from designer.drawing.model import Line, Point

#: Pattern to strokes within one cell: (along, across) pairs, in units of the half width.
_CELLS: dict[str, tuple[tuple[Point, Point], ...]] = {
    "forward": (((-0.55, -1.0), (0.55, 1.0)),),
    "backward": (((-0.55, 1.0), (0.55, -1.0)),),
    "across": (((0.0, -1.0), (0.0, 1.0)),),
    "cross": (((-0.55, -1.0), (0.55, 1.0)), ((-0.55, 1.0), (0.55, -1.0))),
    "chevron": (((-0.5, -1.0), (0.3, 0.0)), ((-0.5, 1.0), (0.3, 0.0))),
    "dots": (
        ((-0.1, -0.6), (0.1, -0.6)),
        ((-0.1, 0.6), (0.1, 0.6)),
    ),
}


def corridor_hatch(
    path: np.ndarray, half_width_mm: float, pattern: str, spacing_mm: float
) -> tuple[Line, ...]:
    """Hatch strokes at even steps along a path (n, 2), reaching `half_width_mm` either side."""
    steps = np.diff(path, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    along = np.concatenate(([0.0], np.cumsum(lengths)))
    count = int(along[-1] / spacing_mm)
    if count < 1:
        return ()
    places = (np.arange(count) + 0.5) * (along[-1] / count)
    index = np.clip(np.searchsorted(along, places, side="right") - 1, 0, len(steps) - 1)
    forward = steps[index] / np.maximum(lengths[index], 1e-9)[:, None]
    left = np.column_stack((-forward[:, 1], forward[:, 0]))
    centre = path[index] + forward * (places - along[index])[:, None]
    lines: list[Line] = []
    for (a0, c0), (a1, c1) in _CELLS[pattern]:
        start = centre + (forward * a0 + left * c0) * half_width_mm
        end = centre + (forward * a1 + left * c1) * half_width_mm
        lines += [
            ((p[0], p[1]), (q[0], q[1])) for p, q in zip(start.tolist(), end.tolist(), strict=True)
        ]
    return tuple(lines)


def polygon_hatch(
    points: tuple[Point, ...], spacing_mm: float, angle_deg: float
) -> tuple[Line, ...]:
    """Parallel strokes inside a polygon, at an angle from +x (even-odd for odd shapes)."""
    if len(points) < 3:
        return ()
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    turned = [(x * c + y * s, y * c - x * s) for x, y in points]
    lines: list[Line] = []
    low, high = min(v for _, v in turned), max(v for _, v in turned)
    level = (math.floor(low / spacing_mm) + 0.5) * spacing_mm
    while level < high:
        cuts = []
        for (u0, v0), (u1, v1) in zip(turned, (*turned[1:], turned[0]), strict=True):
            if (v0 <= level) != (v1 <= level):
                cuts.append(u0 + (u1 - u0) * (level - v0) / (v1 - v0))
        cuts.sort()
        for a, b in zip(cuts[::2], cuts[1::2], strict=False):
            lines.append(
                ((a * c - level * s, a * s + level * c), (b * c - level * s, b * s + level * c))
            )
        level += spacing_mm
    return tuple(lines)
