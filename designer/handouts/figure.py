"""A routine's drawing as a part of a sheet, its text sized for the paper it lands on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from reportlab.platypus import Flowable

from designer.drawing import Drawing, Look, Text, roles
from designer.drawing.look import SCREEN_LOOK
from designer.drawing.table import table_bounds
from designer.painters.pdf import POINTS_PER_MM, paint_on_canvas
from engine.routine.context import table_of
from engine.routine.values import Routine

#: Rounds of fitting: text of a fixed size on paper changes the room that it leaves.
_ROUNDS = 8

#: What a scale is taken coarser by than is reckoned: a drawing saved for hardly smaller texts.
_ROOM = 1.005

#: How much coarser than at first a drawing may get to make room for its texts.
_COARSEST = 1.8

#: Letters that names of gaps are cut to, the one after the other, where they are too wide.
_SHORTER_NAMES = (24, 17, 12)


class Figure(Flowable):
    """A drawing as large as fits into a width and height, in points; see `fit_drawing`."""

    def __init__(
        self,
        make: Callable[[Look], Drawing],
        width: float,
        height: float,
        look: Look = SCREEN_LOOK,
        about: tuple[float, float] | None = None,
    ) -> None:
        super().__init__()
        self.drawing, self.width = fit_drawing(make, width, height, look, about)
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
    make: Callable[[Look], Drawing],
    width: float,
    height: float,
    look: Look = SCREEN_LOOK,
    about: tuple[float, float] | None = None,
) -> tuple[Drawing, float]:
    """The drawing made for the largest scale that fits, and its width in points.

    Text is never smaller on paper than the look's limit: the last drawing is made for a scale
    that is at least as coarse as the one it is shown at. Names of gaps too wide for that are cut.
    Only with more balls than a side has room for readings does the text give way, not the table.
    `about` is what the drawing shows but for texts beside it, as shown, width and height in mm: a
    scale to begin with.
    """
    drawing, wide, readable = _fitted(make, width, height, look, about)
    for letters in _SHORTER_NAMES:
        if readable or not any(_is_gap_name(item) for item in drawing.items):
            break
        shorter = replace(look, name_letters=letters)
        drawing, wide, readable = _fitted(make, width, height, shorter, about)
    return drawing, wide


def _is_gap_name(item: object) -> bool:
    return isinstance(item, Text) and item.role == roles.GAP


def _fitted(
    make: Callable[[Look], Drawing],
    width: float,
    height: float,
    look: Look,
    about: tuple[float, float] | None,
) -> tuple[Drawing, float, bool]:
    """The drawing, its width in points, and whether its texts have their size on paper."""
    wide_mm, high_mm = width / POINTS_PER_MM, height / POINTS_PER_MM

    def needed(made: Drawing) -> float:
        return max(made.width_mm / wide_mm, made.height_mm / high_mm)

    scale = max(about[0] / wide_mm, about[1] / high_mm) if about else needed(make(look))
    # texts of no size need no room: the first point of the line by which the next scale is found
    before, coarsest = (0.0, scale), 0.0
    for _ in range(_ROUNDS):
        drawing = make(look.at_scale(scale))
        wanted = needed(drawing)
        coarsest = coarsest or _COARSEST * wanted
        if wanted <= scale * 1.0005 or scale >= coarsest:
            break
        # the room that texts take grows with the scale: along that line lies one that fits
        rise = (wanted - before[1]) / (scale - before[0])
        before = (scale, wanted)
        ahead = (wanted - rise * scale) / (1.0 - rise) if 0.0 < rise < 0.9 else wanted
        scale = min(max(_ROOM * ahead, wanted), coarsest)
    fitting = needed(drawing)
    return drawing, drawing.width_mm / fitting * POINTS_PER_MM, fitting <= scale * 1.0005


def table_figure(
    routine: Routine, make: Callable[[Look], Drawing], width: float, height: float, look: Look
) -> Figure:
    """A drawing of a routine's whole table, as large as fits."""
    return Figure(make, width, height, look, table_as_shown(routine, look))


def table_as_shown(routine: Routine, look: Look) -> tuple[float, float]:
    """Width and height of a routine's table with its rim, mm."""
    x0, y0, x1, y1 = table_bounds(table_of(routine))
    return (y1 - y0, x1 - x0) if look.turned else (x1 - x0, y1 - y0)
