"""What was read off a photograph as JSON data, with units in its keys."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from engine.photo.reading import PhotoReading
from engine.results import Note
from engine.version import VERSION


def report_json(reading: PhotoReading, *, words: Callable[[Note], str]) -> dict[str, Any]:
    """Camera, marks and balls for programs; `words` makes the notes' texts."""
    fit, camera = reading.fit, reading.fit.camera
    return {
        "engine_version": VERSION,
        "camera": {
            "at_mm": _rounded(camera.at_mm, 1),
            "turn_rad": _rounded(camera.turn, 9),
            "shift_mm": _rounded(camera.shift_mm, 5),
            "focal_px": round(camera.focal_px, 4),
            "focal_35mm": round(camera.focal_35mm, 3),
            "middle_px": _rounded(camera.middle_px, 4),
            "distortion_k1": round(camera.k1, 9),
            "distortion_k2": round(camera.k2, 9),
            "picture_px": list(camera.size_px),
        },
        "marking_px": round(fit.marking_px, 3),
        "marks": [
            {
                "place": one.place.id, "at_mm": list(one.place.at_mm),
                "off_x_px": round(one.off_px[0], 2), "off_y_px": round(one.off_px[1], 2),
                "off_mm": round(one.off_mm, 2), "bad": one.bad,
            }
            for one in fit.checks
        ],
        "balls": [
            {
                "id": ball.mark.id, "kind": ball.mark.kind,
                "x_mm": round(ball.placed_mm[0], 2), "y_mm": round(ball.placed_mm[1], 2),
                "read_x_mm": round(ball.read_mm[0], 2), "read_y_mm": round(ball.read_mm[1], 2),
                "within_mm": round(ball.within_mm, 2),
            }
            for ball in reading.balls
        ],
        "notes": [words(note) for note in reading.notes],
    }  # fmt: skip


def _rounded(values: Any, digits: int) -> list[float]:
    return [round(float(value), digits) for value in values]
