"""Values made fit for JSON: their fields by name, plain numbers, no NaN or infinity."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
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


def length_mm(points: np.ndarray) -> float:
    """Length of a polyline of shape (n, 2)."""
    return float(np.hypot(*np.diff(points, axis=0).T).sum()) if len(points) > 1 else 0.0


def speed(velocity: tuple[float, float]) -> float | None:
    """Length of a velocity."""
    return number(math.hypot(*velocity))


def plain(value: Any) -> Any:
    """Any frozen value, mapping, sequence, array or number as JSON takes it."""
    if isinstance(value, np.ndarray | np.generic):
        value = value.tolist()
    if isinstance(value, float):
        return number(value)
    if is_dataclass(value):
        return figures(value)
    if isinstance(value, Mapping):
        return {str(key): plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [plain(part) for part in value]
    return value


def figures(value: Any, **keys: str) -> dict[str, Any]:
    """The fields of a frozen value under their own names, or under those of `keys`.

    A key of "" leaves the field out.

    >>> from engine.results import LanePair
    >>> figures(LanePair("A", "B", 120.0, True), distance_mm="mm", apart="")
    {'one': 'A', 'two': 'B', 'mm': 120.0}
    """
    names = {field.name: keys.get(field.name, field.name) for field in fields(value)}
    return {key: plain(getattr(value, name)) for name, key in names.items() if key}
