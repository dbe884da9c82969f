"""Areas of the table as the camera sees them: cut to the view, then outlined in pixels."""

from __future__ import annotations

import numpy as np
import shapely
from shapely import Geometry

from engine.photo.camera import NEAREST_MM, Camera

#: Longest step along an outline on the table, mm: straight lines bend in a lens.
_STEP_MM = 15.0
#: How far round the table anything is looked at, mm.
_FAR_MM = 6_000.0


class View:
    """What of one level over the cloth the camera can see, and where in the picture."""

    def __init__(self, camera: Camera, height_mm: float = 0.0) -> None:
        self.camera, self.height_mm = camera, height_mm
        self.area = _seen_area(camera, height_mm)

    def outlines(self, area: Geometry) -> tuple[np.ndarray, ...]:
        """The outlines (n, 2), px, of an area in table mm; inner ones run the other way round."""
        if area.is_empty:
            return ()
        held = area if shapely.contains(self.area, area) else shapely.intersection(area, self.area)
        found: list[np.ndarray] = []
        for part in shapely.get_parts(shapely.segmentize(held, _STEP_MM)):
            if part.geom_type != "Polygon":
                continue
            whole = shapely.orient_polygons(part) if _ORIENTS else _oriented(part)
            found += [self._pixels(ring) for ring in (whole.exterior, *whole.interiors)]
        return tuple(found)

    def pixel(self, place_mm: tuple[float, float]) -> tuple[float, float] | None:
        """Where a place of the level is seen; None outside the view."""
        if not self.area.contains(shapely.Point(place_mm)):
            return None
        x, y = self.camera.pixels(np.array([*place_mm, self.height_mm]))
        return (float(x), float(y))

    def px_per_mm(self, place_mm: tuple[float, float]) -> float:
        """How many px a mm is at a place of the level, both directions taken together."""
        at = np.array([*place_mm, self.height_mm])
        step = np.array([[0.0, 0, 0], [1.0, 0, 0], [0, 1.0, 0]])
        seen = self.camera.pixels(at + step)
        one, two = seen[1] - seen[0], seen[2] - seen[0]
        return float(np.sqrt(abs(one[0] * two[1] - one[1] * two[0])))

    def _pixels(self, ring: shapely.LinearRing) -> np.ndarray:
        points = shapely.get_coordinates(ring)[:-1]
        high = np.full((len(points), 1), self.height_mm)
        return self.camera.pixels(np.hstack((points, high)))


_ORIENTS = hasattr(shapely, "orient_polygons")


def _oriented(part: shapely.Polygon) -> shapely.Polygon:
    from shapely.geometry.polygon import orient

    return orient(part)


def _seen_area(camera: Camera, height_mm: float) -> shapely.Polygon:
    """The part of a level that lies ahead of the camera and within its picture, with some room.

    Every bound is a plane through or before the camera, and so a line on the level.
    """
    turn, shift = camera.rotation, np.asarray(camera.shift_mm)
    own = np.column_stack((turn[:, 0], turn[:, 1], turn[:, 2] * height_mm + shift))
    x, y, deep = own
    x0, y0, x1, y1 = camera.reach
    ahead = deep - np.array([0.0, 0.0, NEAREST_MM])
    bounds = (ahead, x - x0 * deep, x1 * deep - x, y - y0 * deep, y1 * deep - y)
    points = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], dtype=float) * _FAR_MM
    for bound in bounds:
        points = _cut(points, bound)
    return shapely.Polygon(points) if len(points) > 2 else shapely.Polygon()


def _cut(points: np.ndarray, bound: np.ndarray) -> np.ndarray:
    """A convex polygon (n, 2) cut by a·x + b·y + c ≥ 0."""
    if not len(points):
        return points
    off = points @ bound[:2] + bound[2]
    kept = []
    for i in range(len(points)):
        j = (i + 1) % len(points)
        if off[i] >= 0.0:
            kept.append(points[i])
        if (off[i] >= 0.0) != (off[j] >= 0.0):
            kept.append(points[i] + (points[j] - points[i]) * off[i] / (off[i] - off[j]))
    return np.array(kept).reshape(-1, 2)
