"""Small pictures of routines: the set-up with its gaps, painted from the drawing model.

They carry no texts: nobody could read them at that size, and letters must not be painted on other
threads than the first (Qt's raw fonts belong to the thread that made them).
"""

from __future__ import annotations

from dataclasses import replace

from designer.drawing import Layers, Look, build_drawing, roles
from designer.drawing.look import PAPER, SOFT_INK
from designer.drawing.model import Fill, Item, Stroke, Text
from designer.painters.png import png_bytes
from engine.answers.values import RoutineAnswer
from engine.routine.values import Routine
from engine.version import VERSION

WIDTH_PX = 320
#: Names this way of painting: pictures of another are made anew.
MAKER = f"{VERSION} {WIDTH_PX} set-up 2"
_SHOWN = Layers(
    potting_line=False, ninety_line=False, contact=False, lanes=False, corridors=False,
    letters=False, verdicts=False, ball_letters=False,
)  # fmt: skip


def picture(routine: Routine, width_px: int = WIDTH_PX) -> bytes:
    """The set-up lying on its side, as PNG; no shot is played for it."""
    nothing = RoutineAnswer(VERSION, (), (), (), (), ())
    drawing = build_drawing(routine, nothing, _SHOWN, look=Look(turned=True))
    items = tuple(item for item in drawing.items if not _is_lettering(item))
    return png_bytes(replace(drawing, items=items), width_px)


def _is_lettering(item: Item) -> bool:
    """Whether it is a text, or the label and pointer that belong to the name of a gap."""
    if isinstance(item, Text):
        return True
    if isinstance(item, Fill):
        return item.role == roles.GAP and item.colour == PAPER
    pointer = isinstance(item, Stroke) and item.colour == SOFT_INK and len(item.lines) == 1
    return pointer and item.role == roles.GAP
