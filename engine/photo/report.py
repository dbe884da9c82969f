"""What was read off a photograph, as text and as JSON data with units in its keys."""

from __future__ import annotations

from typing import Any

from engine.photo.picture import PEOPLE
from engine.photo.reading import PhotoReading
from engine.units import LengthUnit, length_text
from engine.version import VERSION

#: What every reading rests on.
RESTS_ON = (
    "Places are read with the table's sizes as stated: measure your own table for better ones. "
    "± is the distance within which 95 of 100 balls so read stand."
)


def report_text(reading: PhotoReading, unit: LengthUnit = "mm") -> str:
    """Camera, marks and balls, one line each, then what to look at again."""
    camera = reading.fit.camera
    x, y, z = camera.at_mm
    lines = [
        f"Camera {z / 1000:.2f} m above the cloth, {x / 1000:.2f} m across and {y / 1000:.2f} m "
        f"up the table from its bottom left; a lens of {camera.focal_35mm:.0f} mm on 35 mm film.",
        f"Marks lie {reading.fit.marking_px:.1f} px off their places, as they go.",
        "",
        "Marks, and how far off the camera sees their places:",
    ]
    for one in reading.fit.checks:
        flag = "  SET ASIDE" if one.bad else ""
        lines.append(f"  {one.place.title:22} {one.distance_px:6.1f} px {one.off_mm:7.1f} mm{flag}")
    lines += ["", "Balls, from the left and the bottom cushion:"]
    for ball in reading.balls:
        across, up = (length_text(value, unit) for value in ball.placed_mm)
        moved = f"  moved {ball.settled_mm:.0f} mm to lie free" if ball.settled_mm > 0.5 else ""
        lines.append(
            f"  {ball.mark.id:12} {across:>12} {up:>12}   ± {ball.within_mm:.0f} mm{moved}"
        )
    if not reading.balls:
        lines.append("  none marked yet")
    lines += ["", RESTS_ON, PEOPLE]
    return "\n".join([*lines, *(f"Note: {note}" for note in reading.notes)])


def report_json(reading: PhotoReading) -> dict[str, Any]:
    """The same for programs."""
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
        "notes": list(reading.notes),
    }  # fmt: skip


def _rounded(values: Any, digits: int) -> list[float]:
    return [round(float(value), digits) for value in values]
