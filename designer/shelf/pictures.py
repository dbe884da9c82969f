"""Small pictures of routines: the set-up with its gaps, painted from the drawing model."""

from __future__ import annotations

from designer.drawing import Layers, Look, build_drawing
from designer.painters.png import png_bytes
from engine.answers.values import RoutineAnswer
from engine.routine.values import Routine
from engine.version import VERSION

WIDTH_PX = 320
#: Names this way of painting: pictures of another are made anew.
MAKER = f"{VERSION} {WIDTH_PX} set-up 1"
_SHOWN = Layers(
    potting_line=False, ninety_line=False, contact=False, lanes=False, corridors=False,
    letters=False, verdicts=False, ball_letters=False,
)  # fmt: skip


def picture(routine: Routine, width_px: int = WIDTH_PX) -> bytes:
    """The set-up lying on its side, as PNG; no shot is played for it."""
    nothing = RoutineAnswer(VERSION, (), (), (), (), ())
    drawing = build_drawing(routine, nothing, _SHOWN, look=Look(turned=True))
    return png_bytes(drawing, width_px)
