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
    for group in crowds_of(sheet.routine, crowded):
        wide, high = _size(sheet, group, turned)
        look = Look(turned=turned)

        def make(at: Look, group: tuple[str, ...] = group) -> Drawing:
            return pack_drawing(sheet.routine, group, at)

        story.append(Figure(make, min(wide, width), high, look))
    if not story:
        return []
    told = tr("Enlarged, from the dashed frame:")
    if len(story) > 1:
        told = tr("Enlarged, from the dashed frames:")
    caption = paragraph(words(told), "small")
    return [Stack([caption, story[0]], max(width, story[0].width)), *story[1:]]


def insets_fit(sheet: Sheet, crowded: Collection[str], width: float, turned: bool) -> bool:
    """Whether a column is wide enough for all of the insets at their size."""
    groups = crowds_of(sheet.routine, crowded)
    return all(_size(sheet, group, turned)[0] <= width for group in groups)


def _size(sheet: Sheet, group: tuple[str, ...], turned: bool) -> tuple[float, float]:
    """Width and height of an inset on which names fit into the balls, points."""
    scale = 2.0 * conditions_of(sheet.routine).ball_radius_mm / _BALL_MM
    x0, y0, x1, y1 = pack_bounds(sheet.routine, group)
    wide, high = (y1 - y0, x1 - x0) if turned else (x1 - x0, y1 - y0)
    return wide / scale * mm, high / scale * mm
