"""Enlarged insets of balls that lie too close to be seen and named on the table's drawing."""

from __future__ import annotations

from collections.abc import Collection

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from designer.drawing import Drawing, Look
from designer.drawing.crowds import crowds_of, pack_bounds, pack_drawing
from designer.handouts.figure import Figure
from designer.handouts.sheet import Sheet
from designer.handouts.stacking import Stack
from designer.handouts.styles import paragraph, words
from designer.texts import tr
from engine.routine.context import conditions_of

#: A ball on an inset, mm across: its name fits into it.
_BALL_MM = 5.6


def inset_story(
    sheet: Sheet, crowded: Collection[str], width: float, turned: bool = False
) -> list[Flowable]:
    """A drawing for each crowd, no wider than a column; nothing where no ball is crowded."""
    story: list[Figure] = []
    scale = 2.0 * conditions_of(sheet.routine).ball_radius_mm / _BALL_MM
    for group in crowds_of(sheet.routine, crowded):
        x0, y0, x1, y1 = pack_bounds(sheet.routine, group)
        wide, high = (y1 - y0, x1 - x0) if turned else (x1 - x0, y1 - y0)
        look = Look(turned=turned)

        def make(at: Look, group: tuple[str, ...] = group) -> Drawing:
            return pack_drawing(sheet.routine, group, at)

        size = (min(wide / scale * mm, width), high / scale * mm)
        story.append(Figure(make, *size, look))
    if not story:
        return []
    told = tr("Enlarged, from the dashed frame:")
    if len(story) > 1:
        told = tr("Enlarged, from the dashed frames:")
    caption = paragraph(words(told), "small")
    return [Stack([caption, story[0]], max(width, story[0].width)), *story[1:]]
