"""Lanes of other conditions, drawn faintly beneath the routine's own to be compared with them."""

from __future__ import annotations

import numpy as np

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Arc, Item, Stroke
from designer.drawing.paths import as_line, simplified
from designer.drawing.scene import Scene
from engine.results import ShotAnswer


def beneath_items(scene: Scene, shot: ShotAnswer) -> list[Item]:
    """Each lane as a thin dotted line in soft ink, and the cue ball's outline where it stops."""
    items: list[Item] = []
    pen = scene.look.line_mm
    for lane in shot.lanes:
        if len(lane.path_mm) < 2:
            continue
        line = as_line(simplified(np.asarray(lane.path_mm, dtype=float)))
        items.append(
            Stroke(roles.BENEATH, (line,), pen * 1.2, ink.SOFT_INK, dash=(pen * 1.2, pen * 2.6))
        )
        if lane.stops_mm is not None:
            items.append(
                Arc(roles.BENEATH, lane.stops_mm, scene.radius_mm, 0, 360, pen, ink.SOFT_INK)
            )
    return items
