"""Balls in a picture: where a ball stands whose outline is seen there, and the other way round.

The outline of a ball is an ellipse. Its middle is not where the ball's own middle is seen: with
the middle at (X, Y, Z) from the camera and radius R, the ellipse's middle in an ideal picture is
(X·Z, Y·Z)/(Z² − R²), a little farther from the picture's middle. (The cone that touches a sphere,
cut by the plane of the picture.)
"""

from __future__ import annotations

import numpy as np

from engine.photo.camera import Camera


def outline_middle(camera: Camera, centres_mm: np.ndarray, radius_mm: float) -> np.ndarray:
    """Pixels (..., 2) of the middles of the outlines of balls with centres (..., 3)."""
    own = camera.seen_from(centres_mm)
    deep = own[..., 2:]
    with np.errstate(divide="ignore", invalid="ignore"):
        nearer = deep - radius_mm**2 / deep
    return camera.picture_of(np.concatenate((own[..., :2], nearer), axis=-1))


def ball_place(camera: Camera, pixel: tuple[float, float], radius_mm: float) -> np.ndarray:
    """Where on the table, (2,) mm, a ball stands whose outline has its middle at a pixel.

    The ball stands on the cloth, so its centre is a radius above it. NaN over the table's edge
    of view.
    """
    wanted = np.asarray(pixel, dtype=float)
    aimed = wanted.copy()
    place = camera.on_level(aimed, radius_mm)
    for _ in range(6):
        if not np.isfinite(place).all():
            return np.full(2, np.nan)
        seen = outline_middle(camera, np.array([*place, radius_mm]), radius_mm)
        aimed = aimed + (wanted - seen)
        place = camera.on_level(aimed, radius_mm)
    return place


def outline(camera: Camera, centre_mm: np.ndarray, radius_mm: float, count: int = 96) -> np.ndarray:
    """The outline of a ball, (count, 2) pixels: where looks from the camera just touch it.

    The touching points form a circle, nearer than the ball's centre and a little smaller.
    """
    own = camera.seen_from(np.asarray(centre_mm, dtype=float))
    far = float(np.linalg.norm(own))
    if far <= radius_mm * 1.01 or own[2] <= radius_mm * 1.01:
        return np.full((count, 2), np.nan)
    ahead = own / far
    side = np.cross(ahead, (0.0, 1.0, 0.0) if abs(ahead[1]) < 0.9 else (1.0, 0.0, 0.0))
    side /= np.linalg.norm(side)
    up = np.cross(ahead, side)
    share = radius_mm / far
    middle = own * (1.0 - share**2)
    small = radius_mm * np.sqrt(1.0 - share**2)
    turn = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)[:, None]
    return camera.picture_of(middle + small * (np.cos(turn) * side + np.sin(turn) * up))
