"""A routine's drawing as a part of a sheet, its text sized for the paper it lands on."""

from __future__ import annotations

from collections.abc import Callable

from reportlab.platypus import Flowable

from designer.drawing import Drawing, Look
from designer.drawing.look import SCREEN_LOOK
from designer.painters.pdf import POINTS_PER_MM, paint_on_canvas

#: Rounds of fitting: text of a fixed size on paper changes the room that it leaves.
_ROUNDS = 8

#: How much coarser than at first a drawing may get to make room for its texts.
_COARSEST = 1.8


class Figure(Flowable):
    """A drawing as large as fits into a width and height, in points."""

    def __init__(
        self,
        make: Callable[[Look], Drawing],
        width: float,
        height: float,
        look: Look = SCREEN_LOOK,
    ) -> None:
        super().__init__()
        self.drawing, self.width = fit_drawing(make, width, height, look)
        self.height = self.width * self.drawing.height_mm / self.drawing.width_mm

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, whatever room is offered."""
        return self.width, self.height

    def draw(self) -> None:
        """Paint it at the flowable's own origin, with its words for who cannot see it."""
        with self.canv.tagged("Figure", self.drawing.description):
            paint_on_canvas(self.drawing, self.canv, 0.0, 0.0, self.width)

    @property
    def scale(self) -> float:
        """Table millimetres for one millimetre of paper."""
        return self.drawing.width_mm / (self.width / POINTS_PER_MM)


def fit_drawing(
    make: Callable[[Look], Drawing], width: float, height: float, look: Look = SCREEN_LOOK
) -> tuple[Drawing, float]:
    """The drawing made for the largest scale that fits, and its width in points.

    Text is never smaller on paper than the look's limit: the last drawing is made for a scale
    that is at least as coarse as the one it is shown at. Only with more balls than a side has
    room for readings does the text give way, not the table.
    """
    wide_mm, high_mm = width / POINTS_PER_MM, height / POINTS_PER_MM
    drawing = make(look)
    scale = 0.0
    coarsest = _COARSEST * max(drawing.width_mm / wide_mm, drawing.height_mm / high_mm)
    for _ in range(_ROUNDS):
        needed = max(drawing.width_mm / wide_mm, drawing.height_mm / high_mm)
        if scale and needed <= scale * 1.0005:
            break
        scale = min(max(scale, needed), coarsest)
        drawing = make(look.at_scale(scale))
    fitting = max(drawing.width_mm / wide_mm, drawing.height_mm / high_mm)
    return drawing, drawing.width_mm / fitting * POINTS_PER_MM
