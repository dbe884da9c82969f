"""Values made fit for JSON: plain numbers, no NaN or infinity, points as pairs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import numpy as np

#: Digits kept: 1e-9 of a millimetre or a second is below anything the engine claims.
DIGITS = 9


#: What makes a text of a fact, a claim, a verdict, an advice: the engine has no words.
Words = Callable[[Any], str]


def number(value: float | None) -> float | None:
    """A finite number, else None."""
    if value is None or not math.isfinite(value):
        return None
    return round(float(value), DIGITS)


def pair(point: Iterable[float] | None) -> list[float | None] | None:
    """A point or vector as a list of numbers."""
    return None if point is None else [number(part) for part in point]


def polyline(points: np.ndarray) -> list[list[float | None]]:
    """An array of shape (n, 2) as a list of pairs."""
    return [[number(x), number(y)] for x, y in points.tolist()]


def length_mm(points: np.ndarray) -> float:
    """Length of a polyline of shape (n, 2)."""
    return float(np.hypot(*np.diff(points, axis=0).T).sum()) if len(points) > 1 else 0.0


def speed(velocity: tuple[float, float]) -> float | None:
    """Length of a velocity."""
    return number(math.hypot(*velocity))


def plain(value: Any) -> Any:
    """Any value of mappings, sequences and numbers as JSON takes it."""
    if isinstance(value, Mapping):
        return {str(key): plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [plain(part) for part in value]
    if isinstance(value, float):
        return number(value)
    return value
