"""A camera over the table: which place is seen at which pixel, and the other way round."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from engine.photo.lens import bent, straightened, widest

#: Places nearer to the camera's own plane than this cannot be in a picture, mm.
NEAREST_MM = 40.0
#: Diagonal of a frame of 35 mm film, mm (36 by 24).
FILM_DIAGONAL_MM = math.hypot(36.0, 24.0)


@dataclass(frozen=True)
class Camera:
    """Pose and lens of a camera that took a picture of `size_px` (width, height).

    `turn` is the rotation vector and `shift_mm` the shift that carry table millimetres into the
    camera's: x to the right, y down, z away from it. `focal_px` and `middle_px` (where the lens
    looks) are pixels; `k1` and `k2` the distortion of `engine.photo.lens`.
    """

    size_px: tuple[int, int]
    focal_px: float
    middle_px: tuple[float, float]
    k1: float
    k2: float
    turn: tuple[float, float, float]
    shift_mm: tuple[float, float, float]

    @cached_property
    def rotation(self) -> np.ndarray:
        """The rotation as a matrix (3, 3), by Rodrigues' formula."""
        vector = np.asarray(self.turn, dtype=float)
        angle = float(np.linalg.norm(vector))
        if angle < 1e-12:
            return np.eye(3)
        x, y, z = vector / angle
        cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
        return np.eye(3) + math.sin(angle) * cross + (1.0 - math.cos(angle)) * cross @ cross

    @cached_property
    def at_mm(self) -> np.ndarray:
        """Where the camera stands, (3,) table mm; the height over the cloth is the third."""
        return -self.rotation.T @ np.asarray(self.shift_mm, dtype=float)

    @property
    def focal_35mm(self) -> float:
        """The focal length a film camera would need for the same view, mm."""
        return self.focal_px * FILM_DIAGONAL_MM / math.hypot(*self.size_px)

    def seen_from(self, places_mm: np.ndarray) -> np.ndarray:
        """Places (..., 3) of the table in the camera's own millimetres."""
        return np.asarray(places_mm, dtype=float) @ self.rotation.T + np.asarray(self.shift_mm)

    def picture_of(self, own_mm: np.ndarray) -> np.ndarray:
        """Pixels (..., 2) of places (..., 3) in the camera's own millimetres.

        Places behind the camera have no pixel: NaN.
        """
        deep = own_mm[..., 2]
        ahead = deep > NEAREST_MM / 10.0
        ideal = own_mm[..., :2] / np.where(ahead, deep, np.nan)[..., None]
        return bent(ideal, self.k1, self.k2) * self.focal_px + np.asarray(self.middle_px)

    def pixels(self, places_mm: np.ndarray) -> np.ndarray:
        """Pixels (..., 2) at which places (..., 3) of the table are seen; NaN behind the camera."""
        return self.picture_of(self.seen_from(places_mm))

    def looks(self, pixels: np.ndarray) -> np.ndarray:
        """The directions (..., 3), on the table, in which pixels (..., 2) look."""
        away = (np.asarray(pixels, dtype=float) - np.asarray(self.middle_px)) / self.focal_px
        ideal = straightened(away, self.k1, self.k2)
        own = np.concatenate((ideal, np.ones((*ideal.shape[:-1], 1))), axis=-1)
        return own @ self.rotation

    def on_level(self, pixels: np.ndarray, height_mm: float = 0.0) -> np.ndarray:
        """Where pixels (..., 2) look at a level above the cloth: (..., 2) table mm.

        NaN for those that look over the table.
        """
        ways, start = self.looks(pixels), self.at_mm
        with np.errstate(divide="ignore", invalid="ignore"):
            far = (height_mm - start[2]) / ways[..., 2]
            far = np.where(far > 0.0, far, np.nan)
        return start[:2] + ways[..., :2] * far[..., None]

    @cached_property
    def reach(self) -> tuple[float, float, float, float]:
        """What an ideal picture would have to hold, with a tenth to spare: x0, y0, x1, y1.

        In units of the focal length, kept where the lens is known.
        """
        wide, high = self.size_px
        along = np.linspace(0.0, 1.0, 9)
        x, y = along * (wide - 1), along * (high - 1)
        rim = np.concatenate(
            [
                np.column_stack((x, np.full(9, edge))) for edge in (0.0, high - 1.0)
            ]
            + [np.column_stack((np.full(9, edge), y)) for edge in (0.0, wide - 1.0)]
        )  # fmt: skip
        away = (rim - np.asarray(self.middle_px)) / self.focal_px
        ideal = straightened(away, self.k1, self.k2)
        limit = widest(self.k1, self.k2)
        low = np.maximum(ideal.min(axis=0) * 1.1, -limit)
        high_end = np.minimum(ideal.max(axis=0) * 1.1, limit)
        return (float(low[0]), float(low[1]), float(high_end[0]), float(high_end[1]))
