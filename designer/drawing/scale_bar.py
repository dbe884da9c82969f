"""A bar of known length at the foot of a measured drawing, to check a copy's scale with."""

from __future__ import annotations

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Bounds, Fill, Item, Point
from designer.drawing.scene import Scene
from designer.texts import tr
from engine.units import MM_PER_INCH

#: Length and name of the bar in each unit; it is drawn as five parts, dark and light in turn.
_BARS = {"mm": (500.0, "500 mm"), "inch": (20.0 * MM_PER_INCH, '20"')}
_PARTS = 5


def scale_bar(scene: Scene, bounds: Bounds) -> tuple[list[Item], Bounds]:
    """The bar below everything in `bounds` as shown, and the bounds grown to hold it."""
    size, pen, turned = scene.look.text_mm, scene.look.line_mm, scene.look.turned
    x0, y0, x1, y1 = bounds
    length, name = _BARS[scene.unit]
    thick, gap = size * 0.3, size * 0.7
    if turned:
        level, start = x1 + gap, 0.0
        bounds = (x0, y0, x1 + gap + size * 0.7, y1)
    else:
        level, start = y0 - gap, 0.0
        bounds = (x0, y0 - gap - size * 0.7, x1, y1)

    def at(along: float, across: float) -> Point:
        return (level - across, start + along) if turned else (start + along, level + across)

    items: list[Item] = []
    for part in range(_PARTS):
        low, high = length * part / _PARTS, length * (part + 1) / _PARTS
        half = thick / 2
        corners = (at(low, -half), at(high, -half), at(high, half), at(low, half))
        shade = ink.PAPER if part % 2 else ink.INK
        items.append(Fill(roles.SCALE_BAR, corners, shade, edge_colour=ink.INK, edge_mm=pen * 0.6))
    words = tr("{length} on the table", length=name)
    place = at(length + size * 0.4, 0.0)
    items.append(scene.text(roles.SCALE_BAR, place, words, ink.INK, anchor="start"))
    return items, bounds
