"""Small plane geometry for the compiled judge: distances of points and chords."""

from __future__ import annotations

import math

from engine.compiled import inlined


@inlined
def length(x: float, y: float) -> float:
    """Length of a step; faster than `hypot` where nothing can overflow."""
    return math.sqrt(x * x + y * y)


@inlined
def point_to_chord(x: float, y: float, px: float, py: float, qx: float, qy: float) -> float:
    """Distance of a point from the chord p–q."""
    dx, dy = qx - px, qy - py
    square = dx * dx + dy * dy
    ex, ey = x - px, y - py
    along = ex * dx + ey * dy
    if along >= square:
        ex, ey = x - qx, y - qy
    elif along > 0.0:
        share = along / square
        ex, ey = ex - share * dx, ey - share * dy
    return length(ex, ey)


@inlined
def side_of(x: float, y: float, px: float, py: float, qx: float, qy: float) -> float:
    """Signed distance of a point from the line p–q, positive to its left."""
    far = length(qx - px, qy - py)
    if far <= 0.0:
        return 0.0
    return ((qx - px) * (y - py) - (qy - py) * (x - px)) / far


@inlined
def chords_cross(
    px: float, py: float, qx: float, qy: float, ax: float, ay: float, bx: float, by: float
) -> float:
    """Where the chord p–q meets a–b, as a share of p–q; −1 when it does not."""
    dx, dy, ex, ey = qx - px, qy - py, bx - ax, by - ay
    turn = dx * ey - dy * ex
    if turn == 0.0:
        return -1.0
    along = ((ax - px) * ey - (ay - py) * ex) / turn
    across = ((ax - px) * dy - (ay - py) * dx) / turn
    return along if 0.0 <= along <= 1.0 and 0.0 <= across <= 1.0 else -1.0


@inlined
def enters(x: float, y: float, reach: float, px: float, py: float, qx: float, qy: float) -> float:
    """Share of the chord p–q at which it comes within `reach` of (x, y), for one that does."""
    dx, dy, ex, ey = qx - px, qy - py, px - x, py - y
    a, b, c = dx * dx + dy * dy, dx * ex + dy * ey, ex * ex + ey * ey - reach * reach
    if c <= 0.0 or a <= 0.0:
        return 0.0
    return min(max((-b - math.sqrt(max(b * b - a * c, 0.0))) / a, 0.0), 1.0)


@inlined
def inside(x: float, y: float, corners, first: int, count: int) -> float:
    """Distance of a point inside a polygon from its edge; negative by how far it is outside."""
    within = False
    least = math.inf
    for k in range(count):
        px, py = corners[first + k, 0], corners[first + k, 1]
        qx, qy = corners[first + (k + 1) % count, 0], corners[first + (k + 1) % count, 1]
        least = min(least, point_to_chord(x, y, px, py, qx, qy))
        if (py > y) != (qy > y) and x < (qx - px) * (y - py) / (qy - py) + px:
            within = not within
    return least if within else -least
