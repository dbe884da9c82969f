"""The set-up of a routine as a small picture: table, balls and gaps, without a letter.

Nobody could read letters at that size. Lists of routines and the page of a plan show it.
"""

from __future__ import annotations

from dataclasses import replace

from designer.drawing import roles
from designer.drawing.build import build_drawing
from designer.drawing.layers import Layers
from designer.drawing.look import PAPER, SOFT_INK, Look
from designer.drawing.model import Disc, Drawing, Fill, Item, Stroke, Text
from engine.results import RoutineAnswer
from engine.routine.values import Routine
from engine.version import VERSION

#: How much larger than life balls are drawn.
LARGER = 1.7
_SHOWN = Layers(
    potting_line=False, ninety_line=False, contact=False, lanes=False, corridors=False,
    letters=False, verdicts=False, ball_letters=False,
)  # fmt: skip


def set_up_drawing(routine: Routine) -> Drawing:
    """The table lying on its side; no shot is played for it."""
    nothing = RoutineAnswer(VERSION, (), (), (), (), ())
    drawing = build_drawing(routine, nothing, _SHOWN, look=Look(turned=True))
    items = tuple(_larger(item) for item in drawing.items if not _is_lettering(item))
    return replace(drawing, items=items)


def _larger(item: Item) -> Item:
    """Balls larger than they are: true to scale they would be specks."""
    if isinstance(item, Disc) and item.role == roles.BALL:
        return replace(item, radius_mm=LARGER * item.radius_mm)
    return item


def _is_lettering(item: Item) -> bool:
    """Whether it is a text, or the label and pointer that belong to the name of a gap."""
    if isinstance(item, Text):
        return True
    if isinstance(item, Fill):
        return item.role == roles.GAP and item.colour == PAPER
    pointer = isinstance(item, Stroke) and item.colour == SOFT_INK and len(item.lines) == 1
    return pointer and item.role == roles.GAP
