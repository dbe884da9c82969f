"""The table as a camera has it: lines over the photograph that should lie on what is seen."""

from __future__ import annotations

import numpy as np

from engine.photo import Camera, nose_height_mm
from engine.tables import Table

#: Longest step along a line, mm.
_STEP_MM = 40.0


def table_lines(table: Table, camera: Camera) -> list[np.ndarray]:
    """Noses at their height, baulk line, D and spots on the cloth, as lines (n, 2) of pixels."""
    high = nose_height_mm(table)
    found = []
    for face in table.faces:
        found.append(_line(face.start_mm, face.end_mm, high))
    if table.baulk_y_mm is not None:
        y = table.baulk_y_mm
        found.append(_line((0.0, y), (table.width_mm, y), 0.0))
        if table.d_radius_mm is not None:
            turn = np.linspace(np.pi, 2 * np.pi, 40)
            x = table.width_mm / 2 + table.d_radius_mm * np.cos(turn)
            found.append(np.column_stack((x, y + table.d_radius_mm * np.sin(turn), 0 * turn)))
    for spot in table.spots:
        turn = np.linspace(0, 2 * np.pi, 17)
        x, y2 = spot.x_mm + 12.0 * np.cos(turn), spot.y_mm + 12.0 * np.sin(turn)
        found.append(np.column_stack((x, y2, 0 * turn)))
    return [line for places in found for line in _seen(camera, places)]


def _line(start: tuple[float, float], end: tuple[float, float], high: float) -> np.ndarray:
    count = max(2, int(np.hypot(end[0] - start[0], end[1] - start[1]) / _STEP_MM))
    along = np.linspace(0.0, 1.0, count)[:, None]
    flat = np.asarray(start) + along * (np.asarray(end) - np.asarray(start))
    return np.hstack((flat, np.full((count, 1), high)))


def _seen(camera: Camera, places: np.ndarray) -> list[np.ndarray]:
    """The stretches of a line that lie ahead of the camera and not far outside its picture."""
    pixels = camera.pixels(places)
    wide, high = camera.size_px
    x, y = pixels[:, 0], pixels[:, 1]
    good = (x > -0.3 * wide) & (x < 1.3 * wide) & (y > -0.3 * high) & (y < 1.3 * high)
    runs = np.split(np.arange(len(good)), np.flatnonzero(np.diff(good)) + 1)
    return [pixels[run] for run in runs if good[run[0]] and len(run) > 1]
