"""What a photograph shows beside what the routine says: which balls are where."""

from __future__ import annotations

import numpy as np

from designer.drawing.radii import radius_of
from designer.overlay.build import StandingBall
from engine.photo import CameraFit, PhotoMarks, ball_place, within_mm
from engine.results import Note
from engine.routine.context import conditions_of
from engine.routine.values import Routine


def seen_balls(
    routine: Routine, photo: PhotoMarks, fit: CameraFit
) -> tuple[list[StandingBall] | None, list[Note]]:
    """The balls marked in the photograph, and where they differ from the routine's; None for none.

    A ball that the routine has elsewhere is told when it lies farther off than its uncertainty.
    """
    if not photo.balls:
        return None, []
    found: list[StandingBall] = []
    notes: list[Note] = []
    conditions = conditions_of(routine)
    known = {ball.id: ball for ball in routine.balls}
    for mark in photo.balls:
        usual = conditions.cue_radius_mm if mark.kind == "cue" else conditions.ball_radius_mm
        radius = radius_of(routine, mark.id) if mark.id in known else usual
        place = ball_place(fit.camera, mark.at_px, radius)
        if not np.isfinite(place).all():
            continue
        found.append(StandingBall(float(place[0]), float(place[1]), radius))
        if mark.id not in known:
            continue
        off = float(np.hypot(*(place - known[mark.id].centre_mm)))
        sure = float(within_mm(fit, np.array([[*place, radius]]))[0])
        if off > max(1.5 * sure, 10.0):
            notes.append(Note("ball-elsewhere", {"ball": mark.id, "off_mm": off}))
    return found, notes
