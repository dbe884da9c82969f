"""Lens distortion along the radius, both ways: r' = r·(1 + k1·r² + k2·r⁴) (Brown, 1971).

Lengths are in units of the focal length, from the middle of the picture.
"""

from __future__ import annotations

import numpy as np

#: Rounds of Newton's method; four are enough for lenses that pictures are taken with.
_ROUNDS = 12


def widest(k1: float, k2: float) -> float:
    """The radius up to which a larger radius is also seen farther out; at most 3.

    >>> widest(0.0, 0.0)
    3.0
    """
    radii = np.linspace(0.0, 3.0, 601)
    falling = 1.0 + 3.0 * k1 * radii**2 + 5.0 * k2 * radii**4 <= 0.02
    return float(radii[int(np.argmax(falling))]) if falling.any() else 3.0


def bent(points: np.ndarray, k1: float, k2: float) -> np.ndarray:
    """Points (..., 2) of an ideal picture where the lens puts them.

    Beyond `widest` the lens is taken to go on evenly, so that nothing folds back into the picture.
    """
    limit = widest(k1, k2)
    radius = np.hypot(points[..., 0], points[..., 1])
    held = np.minimum(radius, limit)
    seen = held * (1.0 + k1 * held**2 + k2 * held**4) + (radius - held)
    rate = np.where(radius > 0.0, seen / np.maximum(radius, 1e-12), 1.0)
    return points * rate[..., None]


def straightened(points: np.ndarray, k1: float, k2: float) -> np.ndarray:
    """Points (..., 2) of a picture taken through the lens where an ideal one would have them."""
    limit = widest(k1, k2)
    edge = limit * (1.0 + k1 * limit**2 + k2 * limit**4)
    seen = np.hypot(points[..., 0], points[..., 1])
    inside = np.minimum(seen, edge)
    radius = np.minimum(inside, limit)
    for _ in range(_ROUNDS):
        off = radius * (1.0 + k1 * radius**2 + k2 * radius**4) - inside
        slope = 1.0 + 3.0 * k1 * radius**2 + 5.0 * k2 * radius**4
        radius = np.clip(radius - off / np.maximum(slope, 0.02), 0.0, limit)
    radius = radius + (seen - inside)
    rate = np.where(seen > 0.0, radius / np.maximum(seen, 1e-12), 1.0)
    return points * rate[..., None]
