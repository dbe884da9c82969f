"""Polylines made ready for drawing: fewer points, cut at a length, split where a ball is met."""

from __future__ import annotations

import math

import numpy as np

from designer.drawing.model import Line, Point

#: How far a simplified path may stray from the full one, about, in table mm.
STRAY_MM = 0.5


def simplified(path: np.ndarray, stray_mm: float = STRAY_MM) -> np.ndarray:
    """Leave out points where a path (n, 2) hardly turns; ends and corners stay.

    A chord of length l over a bend of curvature k strays by k·l²/8: points are kept so that
    this stays near `stray_mm`.
    """
    if len(path) < 3:
        return path
    steps = path[1:] - path[:-1]
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    moving = lengths > 1e-6
    if not moving.all():
        path = np.concatenate((path[:1], path[1:][moving]))
        steps, lengths = steps[moving], lengths[moving]
        if len(path) < 3:
            return path
    headings = np.arctan2(steps[:, 1], steps[:, 0])
    turns = np.abs(np.remainder(headings[1:] - headings[:-1] + math.pi, math.tau) - math.pi)
    near = (lengths[:-1] + lengths[1:]) / 2.0
    chords = np.floor(np.cumsum(np.sqrt(turns * near / (8.0 * stray_mm))))
    kept = np.ones(len(path), dtype=bool)
    kept[1:-1] = chords != np.concatenate(([0.0], chords[:-1]))
    return path[kept]


def as_line(path: np.ndarray) -> Line:
    """A path (n, 2) as the tuple of pairs a drawing holds."""
    return tuple(map(tuple, path.tolist()))


def length_mm(path: np.ndarray) -> float:
    """Length of a path (n, 2)."""
    steps = np.diff(path, axis=0)
    return float(np.hypot(steps[:, 0], steps[:, 1]).sum())


def sampled(path: np.ndarray, spacing_mm: float) -> np.ndarray:
    """Points (m, 2) at about even steps along a path (n, 2)."""
    if len(path) < 2:
        return path
    steps = np.diff(path, axis=0)
    along = np.concatenate(([0.0], np.cumsum(np.hypot(steps[:, 0], steps[:, 1]))))
    places = np.linspace(0.0, along[-1], max(2, int(along[-1] / spacing_mm)))
    return np.column_stack(
        (np.interp(places, along, path[:, 0]), np.interp(places, along, path[:, 1]))
    )


def first_meeting(path: np.ndarray, centre: Point, distance_mm: float) -> tuple[int, Point] | None:
    """Where a path first comes within a distance of a point: (segment index, place), or None.

    A path that starts within the distance meets it where it next comes nearer.
    """
    if len(path) < 2:
        return None
    start = path[:-1] - np.asarray(centre)
    step = np.diff(path, axis=0)
    a = (step * step).sum(axis=1)
    b = (start * step).sum(axis=1)
    c = (start * start).sum(axis=1) - distance_mm * distance_mm
    under = b * b - a * c
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (-b - np.sqrt(under)) / a
    enters = (a > 0) & (under >= 0) & (t >= -1e-9) & (t <= 1.0) & (b < 0)
    found = np.flatnonzero(enters)
    if not len(found):
        return None
    index = int(found[0])
    place = path[index] + max(float(t[index]), 0.0) * step[index]
    return index, (float(place[0]), float(place[1]))


def split_at(path: np.ndarray, index: int, place: Point) -> tuple[np.ndarray, np.ndarray]:
    """The path up to a place on its segment `index`, and the path from there on."""
    here = np.asarray([place])
    return np.concatenate((path[: index + 1], here)), np.concatenate((here, path[index + 1 :]))


def end_heading_deg(path: np.ndarray) -> float:
    """Direction of the path's last real step, degrees from +x (90 when it never moves)."""
    steps = np.diff(path, axis=0)
    moving = np.flatnonzero(np.hypot(steps[:, 0], steps[:, 1]) > 1e-6)
    if not len(moving):
        return 90.0
    dx, dy = steps[moving[-1]]
    return math.degrees(math.atan2(dy, dx))
