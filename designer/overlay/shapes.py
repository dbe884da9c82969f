"""Items of the drawing as plain areas on the table, so that perspective can be applied to them.

A line becomes the band it covers: seen from the camera its far end is thinner than its near one.
"""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely import Geometry

from designer.drawing.model import Arc, Disc, Fill, Line, Stroke

#: Quarter circles are drawn with this many steps.
_QUARTER = 12


def stroke_area(item: Stroke, wider_mm: float = 0.0) -> Geometry:
    """What a stroke covers, with its dashes; `wider_mm` is added to its width."""
    lines = [_closed(line) if item.closed else line for line in item.lines]
    return _bands(lines, item.dash, item.width_mm + wider_mm, item.cap)


def arc_area(item: Arc, wider_mm: float = 0.0) -> Geometry:
    """What an arc covers."""
    steps = max(2, math.ceil(abs(item.sweep_deg) / 90.0 * _QUARTER * 2))
    turn = np.radians(item.start_deg + np.linspace(0.0, item.sweep_deg, steps + 1))
    x, y = item.centre
    line = np.column_stack((x + item.radius_mm * np.cos(turn), y + item.radius_mm * np.sin(turn)))
    points = tuple(map(tuple, line.tolist()))
    return _bands([points], item.dash, item.width_mm + wider_mm, item.cap)


def disc_area(item: Disc) -> tuple[Geometry, Geometry]:
    """What a disc covers, and what its edge does."""
    centre = shapely.Point(item.centre)
    half = item.edge_mm / 2.0
    edge = shapely.difference(
        shapely.buffer(centre, item.radius_mm + half, quad_segs=_QUARTER),
        shapely.buffer(centre, max(item.radius_mm - half, 0.0), quad_segs=_QUARTER),
    )
    return shapely.buffer(centre, item.radius_mm, quad_segs=_QUARTER), edge


def fill_area(item: Fill) -> tuple[Geometry, Geometry]:
    """What a filled polygon covers, and what its edge does."""
    area = shapely.make_valid(shapely.Polygon(item.points))
    if item.edge_mm <= 0.0:
        return area, shapely.Polygon()
    return area, shapely.buffer(shapely.boundary(area), item.edge_mm / 2.0)


def _closed(line: Line) -> Line:
    return line if line[0] == line[-1] else (*line, line[0])


def _bands(lines: list[Line], dash: tuple[float, ...], width_mm: float, cap: str) -> Geometry:
    pieces = [piece for line in lines for piece in _dashed(np.array(line, dtype=float), dash)]
    known = [shapely.linestrings(piece) for piece in pieces if len(piece) > 1]
    if not known:
        return shapely.Polygon()
    style = "round" if cap == "round" else "flat"
    bands = shapely.buffer(np.array(known), width_mm / 2.0, quad_segs=6, cap_style=style)
    return shapely.union_all(bands)


def _dashed(line: np.ndarray, dash: tuple[float, ...]) -> list[np.ndarray]:
    """The pieces of a line (n, 2) that its dashes leave."""
    steps = np.diff(line, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    line = np.concatenate((line[:1], line[1:][lengths > 1e-9]))
    if not dash or len(line) < 2:
        return [line]
    along = np.concatenate(([0.0], np.cumsum(lengths[lengths > 1e-9])))
    pieces, at, turn = [], 0.0, 0
    while at < along[-1]:
        end = min(at + dash[turn % len(dash)], along[-1])
        if turn % 2 == 0 and end > at:
            inner = line[(along > at) & (along < end)]
            ends = np.column_stack(
                [np.interp((at, end), along, line[:, axis]) for axis in range(2)]
            )
            pieces.append(np.concatenate((ends[:1], inner, ends[1:])))
        at, turn = end, turn + 1
    return pieces
