"""What every part of the drawing is built from: the routine, its answer, table and look."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import dataclass, field

from designer.drawing.layers import Layers
from designer.drawing.look import Look
from designer.drawing.model import Bounds, Point, Text
from designer.drawing.placing import Occupied, text_box
from designer.drawing.radii import radius_of
from engine.balls import touch_distance_mm
from engine.results import RoutineAnswer, ShotAnswer
from engine.routine.values import Routine
from engine.tables import Table
from engine.units import LengthUnit


@dataclass(slots=True)
class Scene:
    """Everything the builders read, and `taken`, the places that texts must keep off.

    `radius_mm` is the cue ball's; `lanes` names the lanes to draw (None: all), `chosen` the one
    that stands out while the others step back ("": none does). `offsets` tells how
    far each letter and name that looks for room stands off what it names, `held` how far it stood
    off in the drawing before. `drawn` holds the radii balls are drawn with where that is not
    their own, `crowded` the balls that lie too close for it, or to be named.
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
    chosen: str = ""
    taken: Occupied = field(default_factory=Occupied)
    held: Mapping[str, Point] = field(default_factory=dict)
    offsets: dict[str, Point] = field(default_factory=dict)
    drawn: Mapping[str, float] = field(default_factory=dict)
    crowded: set[str] = field(default_factory=set)

    def held_at(self, name: str, anchor: Point) -> Point | None:
        """Where a text stands if it stays where it was beside what it names."""
        off = self.held.get(name)
        return None if off is None else (anchor[0] + off[0], anchor[1] + off[1])

    def hold(self, name: str, anchor: Point, at: Point) -> None:
        """Note how far a text stands off what it names."""
        self.offsets[name] = (at[0] - anchor[0], at[1] - anchor[1])

    def radius_of(self, ball_id: str) -> float:
        """Radius of one ball, mm."""
        return radius_of(self.routine, ball_id)

    def drawn_radius(self, ball_id: str) -> float:
        """Radius a ball is drawn with, mm."""
        return self.drawn.get(ball_id) or self.radius_of(ball_id)

    def touch_of(self, ball_id: str) -> float:
        """Distance of the centres, seen from above, when the cue ball touches that ball, mm."""
        return touch_distance_mm(self.radius_mm, self.radius_of(ball_id))

    def text(self, role: str, at: Point, text: str, colour: str, **options: object) -> Text:
        """A text that reads upright the way the drawing will be shown."""
        size = options.pop("size_mm", self.look.text_mm)
        angle = 90.0 if self.look.turned else 0.0
        return Text(role, at, text, size, colour, angle_deg=angle, **options)  # type: ignore[arg-type]


def on_bed(scene: Scene, text: Text) -> bool:
    """Whether a text stands on the cloth that is seen, clear of the cushions."""
    x0, y0, x1, y1 = text_box(text, scene.look.line_mm * 2.0)
    bed = (0.0, 0.0, scene.table.width_mm, scene.table.length_mm)
    left, low, right, high = seen_part(scene, bed)
    return x0 > left and y0 > low and x1 < right and y1 < high


def seen_part(scene: Scene, whole: Bounds) -> Bounds:
    """What of a part of the table will be seen."""
    seen = scene.look.within or whole
    return (
        max(whole[0], seen[0]), max(whole[1], seen[1]),
        min(whole[2], seen[2]), min(whole[3], seen[3]),
    )  # fmt: skip
