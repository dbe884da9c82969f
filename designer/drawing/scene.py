"""What every part of the drawing is built from: the routine, its answer, table and look."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass, field

from designer.drawing.layers import Layers
from designer.drawing.look import Look
from designer.drawing.model import Point, Text
from designer.drawing.placing import Occupied, text_box
from designer.drawing.radii import radius_of
from engine.answers.values import RoutineAnswer, ShotAnswer
from engine.balls import touch_distance_mm
from engine.routine.values import Routine
from engine.tables import Table
from engine.units import LengthUnit


@dataclass(slots=True)
class Scene:
    """Everything the builders read, and `taken`, the places that texts must keep off.

    `radius_mm` is the cue ball's; `lanes` names the lanes to draw (None: all).
    """

    routine: Routine
    answer: RoutineAnswer | None
    shots: tuple[ShotAnswer, ...]
    table: Table
    radius_mm: float
    layers: Layers
    look: Look
    unit: LengthUnit
    lanes: Container[str] | None = None
    taken: Occupied = field(default_factory=Occupied)

    def radius_of(self, ball_id: str) -> float:
        """Radius of one ball, mm."""
        return radius_of(self.routine, ball_id)

    def touch_of(self, ball_id: str) -> float:
        """Distance of the centres, seen from above, when the cue ball touches that ball, mm."""
        return touch_distance_mm(self.radius_mm, self.radius_of(ball_id))

    def text(self, role: str, at: Point, text: str, colour: str, **options: object) -> Text:
        """A text that reads upright the way the drawing will be shown."""
        size = options.pop("size_mm", self.look.text_mm)
        angle = 90.0 if self.look.turned else 0.0
        return Text(role, at, text, size, colour, angle_deg=angle, **options)  # type: ignore[arg-type]


def on_bed(scene: Scene, text: Text) -> bool:
    """Whether a text stands on the cloth, clear of the cushions."""
    x0, y0, x1, y1 = text_box(text, scene.look.line_mm * 2.0)
    return x0 > 0.0 and y0 > 0.0 and x1 < scene.table.width_mm and y1 < scene.table.length_mm
