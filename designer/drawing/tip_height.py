"""The cue ball's face as the player sees it: where the tip meets it.

Millimetres on the ball, centre at the origin, y upwards. The ring is the miscue limit.
"""

from __future__ import annotations

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.look import SCREEN_LOOK, Look
from designer.drawing.model import Arc, Disc, Drawing, Item, Stroke
from designer.texts import tr
from designer.words.figures import list_of, side_place, tip_place
from engine.conditions import Conditions

#: Width of a snooker tip (common practice, no source).
TIP_MM = 9.5


def tip_drawing(
    conditions: Conditions, tip: tuple[float, float] | None, look: Look = SCREEN_LOOK
) -> Drawing:
    """The face with the tip on it, if one is given: its height and side over the radius."""
    pen, r = look.line_mm, conditions.cue_radius_mm
    items: list[Item] = [
        Disc(roles.BALL, (0.0, 0.0), r - pen / 2, ink.CHALK, edge_colour=ink.INK, edge_mm=pen),
        Arc(
            roles.TIP, (0.0, 0.0), r * conditions.tip_limit, 0, 360, pen * 0.6, ink.SOFT_INK,
            dash=(pen * 2, pen * 2),
        ),
        Stroke(
            roles.TIP, (((0.0, -r), (0.0, r)), ((-r, 0.0), (r, 0.0))), pen * 0.5, ink.SOFT_INK,
            cap="butt",
        ),
    ]  # fmt: skip
    told = tr("to be drawn in")
    if tip is not None:
        height, side = tip
        items.append(Disc(roles.TIP, (side * r, height * r), TIP_MM / 2.0, ink.INK))
        sides = side_place(side * r) if abs(side) > 1e-9 else ""
        told = list_of([tip_place(height * r), sides])
    bounds = (-r, -r, r, r)
    words = tr("Where the tip meets the cue ball: {place}.", place=told)
    return Drawing(tuple(items), bounds, tr("Tip height"), words)
