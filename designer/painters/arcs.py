"""Where an arc starts and ends, for painters that draw arcs between points."""

from __future__ import annotations

import math

from designer.drawing.model import Arc, Point


def arc_points(arc: Arc) -> tuple[Point, Point]:
    """First and last point of an arc.

    >>> [tuple(round(v, 9) for v in p) for p in arc_points(Arc("", (0, 0), 2, 0, 90, 1, ""))]
    [(2.0, 0.0), (0.0, 2.0)]
    """
    x, y = arc.centre
    out = []
    for degrees in (arc.start_deg, arc.start_deg + arc.sweep_deg):
        a = math.radians(degrees)
        out.append((x + arc.radius_mm * math.cos(a), y + arc.radius_mm * math.sin(a)))
    return out[0], out[1]
