"""How far a place read from a picture may lie from the true one, anywhere on the table."""

from __future__ import annotations

import numpy as np

from engine.photo.camera import NEAREST_MM
from engine.photo.fit import CameraFit, seen_with_slopes

#: Share of places that lie within the distance told.
SHARE = 0.95


def place_spread(
    fit: CameraFit, places_mm: np.ndarray, pointing_px: np.ndarray | float | None = None
) -> np.ndarray:
    """Covariances (n, 2, 2), mm², of places (n, 3) read off at their own heights.

    `pointing_px` is how exactly the place is pointed at in the picture (one sigma, a number or
    one for each); as exactly as the marks without it. What the camera does not know adds to it.
    """
    places = np.asarray(places_mm, dtype=float).reshape(-1, 3)
    pointed = np.broadcast_to(
        np.asarray(fit.marking_px if pointing_px is None else pointing_px, dtype=float),
        (len(places),),
    )
    _, slopes = seen_with_slopes(fit.camera, places)
    slopes = slopes.reshape(-1, 2, slopes.shape[-1])
    seen = slopes @ fit.spread @ np.swapaxes(slopes, 1, 2)
    seen = seen + np.eye(2) * pointed[:, None, None] ** 2
    back = np.linalg.pinv(_rates(fit, places))
    return back @ seen @ np.swapaxes(back, 1, 2)


def within_mm(
    fit: CameraFit, places_mm: np.ndarray, pointing_px: np.ndarray | float | None = None
) -> np.ndarray:
    """Distances (n,), mm, within which 95 of 100 places so read lie; places as `place_spread`.

    Infinite where a place cannot be in the picture.
    """
    places = np.asarray(places_mm, dtype=float).reshape(-1, 3)
    found = np.full(len(places), np.inf)
    ahead = np.isfinite(places).all(axis=1)
    ahead[ahead] = fit.camera.seen_from(places[ahead])[:, 2] > NEAREST_MM
    if pointing_px is not None and np.ndim(pointing_px):
        pointing_px = np.asarray(pointing_px)[ahead]
    if ahead.any():
        spread = place_spread(fit, places[ahead], pointing_px)
        found[ahead] = reach_of(spread, fit.freedom)
    return found


def reach_of(spreads: np.ndarray, freedom: float, share: float = SHARE) -> np.ndarray:
    """Radii (n,) of circles that hold a share of a bivariate Student t with covariances (n, 2, 2).

    Along a direction φ of the standardised plane the share beyond x is (1 + x/ν)^(−ν/2); the
    circle's share is its mean over φ, solved for by halving.

    >>> float(reach_of(np.eye(2)[None], 1e9).round(3)[0])   # Rayleigh: sqrt(−2·ln 0.05)
    2.448
    """
    long, short = (np.maximum(side, 1e-12) for side in np.linalg.eigvalsh(spreads).T[::-1])
    turn = (np.arange(64) + 0.5) * np.pi / 64
    sizes = long[:, None] * np.cos(turn) ** 2 + short[:, None] * np.sin(turn) ** 2
    low, high = np.zeros(len(long)), np.sqrt(long) * 60.0
    for _ in range(50):
        middle = (low + high) / 2.0
        beyond = (1.0 + middle[:, None] ** 2 / sizes / freedom) ** (-freedom / 2.0)
        inside = 1.0 - beyond.mean(axis=1)
        low, high = np.where(inside < share, middle, low), np.where(inside < share, high, middle)
    return (low + high) / 2.0


def _rates(fit: CameraFit, places: np.ndarray) -> np.ndarray:
    """How pixels move (n, 2, 2) when a place moves by one mm along x and along y."""
    step = 0.5
    columns = []
    for axis in range(2):
        shift = np.zeros(3)
        shift[axis] = step
        ahead, back = fit.camera.pixels(places + shift), fit.camera.pixels(places - shift)
        columns.append((ahead - back) / (2.0 * step))
    return np.stack(columns, axis=-1)
