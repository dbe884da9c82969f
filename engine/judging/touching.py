"""Where a way touches a ball, and where it comes nearest to one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString
from shapely.geometry import Point as PlanePoint
from shapely.geometry.base import BaseGeometry

from engine.judging.nearing import nearest_rows
from engine.playing.legs import NO_PATH, STEP_MM, Legs
from engine.results import Point

#: Answers kept of where ways come nearest: those of a few shots.
MOST_KEPT = 32


@dataclass(frozen=True, slots=True)
class Touch:
    """Where a travelling centre first comes within reach of a point.

    `along_mm` is the way travelled by then; `offset_mm` how far the point lies to the left (+)
    of the line of travel; `after_cushions` counts the cushions met before.
    """

    along_mm: float
    at_mm: Point
    offset_mm: float
    after_cushions: int


def first_touch(legs: Legs, centre_mm: Point, reach_mm: float) -> Touch | None:
    """The first touch of a point by a circle of `reach_mm` that travels the legs, if any.

    A way that starts in touch counts only when it leads closer.
    """
    travelled = 0.0
    for index, leg in enumerate(legs):
        starts, steps, lengths = _segments(leg)
        if len(lengths):
            way = np.asarray(centre_mm) - starts
            ahead = (way * steps).sum(axis=1)
            beside = steps[:, 0] * way[:, 1] - steps[:, 1] * way[:, 0]
            half = np.sqrt(np.maximum(reach_mm**2 - beside**2, 0.0))
            entry = ahead - half
            meets = (np.abs(beside) < reach_mm) & (entry <= lengths) & (ahead > 0.0)
            if meets.any():
                first = int(np.argmax(meets))
                step_mm = max(float(entry[first]), 0.0)
                at = starts[first] + step_mm * steps[first]
                before = float(lengths[:first].sum())
                return Touch(
                    travelled + before + step_mm,
                    (float(at[0]), float(at[1])),
                    float(beside[first]),
                    index,
                )
        travelled += float(lengths.sum())
    return None


def _segments(leg: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Starts (n, 2), unit steps (n, 2) and lengths (n,) of a leg's segments."""
    if len(leg) < 2:
        return NO_PATH, NO_PATH, np.empty(0)
    steps = np.diff(leg, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    kept = lengths > STEP_MM
    return leg[:-1][kept], steps[kept] / lengths[kept, None], lengths[kept]


@dataclass(frozen=True, slots=True)
class Nearest:
    """The place on a way nearest to a point; `offset_mm` as in `Touch`."""

    distance_mm: float
    at_mm: Point
    offset_mm: float
    after_cushions: int


_kept: dict[tuple[int, tuple[Point, ...]], tuple[Legs, tuple[Nearest, ...]]] = {}


def nearest(legs: Legs, centre_mm: Point) -> Nearest | None:
    """Where the way comes nearest to a point; None for an empty way."""
    found = nearest_of_each(legs, [centre_mm])
    return found[0] if found else None


def nearest_of_each(legs: Legs, centres_mm: Sequence[Point]) -> tuple[Nearest, ...]:
    """Where the way comes nearest to each point, in their order; () for an empty way.

    Of places equally near, the first on the way is taken. Clearances and gaps ask the same of
    the same way, so the last few answers are kept.
    """
    if not len(centres_mm) or not any(len(leg) for leg in legs):
        return ()
    asked = (id(legs), tuple(centres_mm))
    known = _kept.get(asked)
    if known is not None and known[0] is legs:
        return known[1]
    rows = nearest_rows(
        np.concatenate(legs),
        np.repeat(np.arange(len(legs), dtype=np.int64), [len(leg) for leg in legs]),
        np.array(centres_mm, dtype=float),
        STEP_MM,
    )
    found = tuple(
        Nearest(distance, (x, y), offset, int(leg)) for distance, x, y, offset, leg in rows
    )
    if len(_kept) >= MOST_KEPT:
        _kept.clear()
    _kept[asked] = (legs, found)
    return found


def line_of(leg: Sequence[Point] | np.ndarray) -> BaseGeometry | None:
    """A leg for shapely: a line, a point when the ball stays put, None when empty."""
    if len(leg) == 0:
        return None
    return LineString(leg) if len(leg) > 1 else PlanePoint(leg[0])
