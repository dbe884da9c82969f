"""Which part of the table fills the canvas: fitting, zooming and panning, without any widget."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSizeF
from PySide6.QtGui import QTransform

from designer.drawing.model import Bounds, Drawing

Point = tuple[float, float]

AIR_PX = 10.0
MOST_ZOOM = 12.0
STEP = 1.25


class Frame:
    """The map from table millimetres to the canvas's pixels.

    With zoom 1 the whole table fits. `middle` is the table point in the middle of the canvas,
    None while the whole table is shown; `air_px` is left free round it.
    """

    def __init__(self, air_px: float = AIR_PX) -> None:
        self._air_px = air_px
        self._size = QSizeF(1.0, 1.0)
        self._bounds: Bounds = (0.0, 0.0, 1.0, 1.0)
        self._turned = self._far = False
        self._zoom = 1.0
        self._middle: Point | None = None

    @property
    def zoom(self) -> float:
        """How many times larger than when the whole table fits."""
        return self._zoom

    @property
    def px_per_mm(self) -> float:
        """Pixels on the canvas for a millimetre of the table."""
        return self._fit * self._zoom

    @property
    def shape(self) -> float:
        """Width over height of what is shown when all is."""
        x0, y0, x1, y1 = self._bounds
        return (y1 - y0) / (x1 - x0) if self._turned else (x1 - x0) / (y1 - y0)

    def resize(self, width_px: float, height_px: float) -> None:
        """The canvas has another size; what is in its middle stays there."""
        self._size = QSizeF(max(width_px, 1.0), max(height_px, 1.0))

    def show(self, bounds: Bounds, turned: bool, far: bool = False) -> None:
        """Show this part of the plane (mm), laid on its side or not, from either end."""
        if (turned, far) != (self._turned, self._far):
            self.fit()
        self._bounds, self._turned, self._far = bounds, turned, far

    def fit(self) -> None:
        """Show everything again."""
        self._zoom, self._middle = 1.0, None

    def zoom_at(self, at_px: QPointF, factor: float) -> None:
        """Zoom so that the table point under `at_px` stays under it."""
        zoom = min(max(self._zoom * factor, 1.0), MOST_ZOOM)
        if zoom == 1.0:
            self.fit()
            return
        before = self.to_table(at_px)
        self._zoom, self._middle = zoom, self._middle or self._centre
        after = self.to_table(at_px)
        self._move_middle(before[0] - after[0], before[1] - after[1])

    def pan(self, by_px: QPointF) -> None:
        """Move what is shown along with the pointer; nothing to do while everything is."""
        if self._zoom == 1.0:
            return
        here, there = self.to_table(QPointF(0.0, 0.0)), self.to_table(by_px)
        self._move_middle(here[0] - there[0], here[1] - there[1])

    def transform(self) -> QTransform:
        """From table millimetres (y up) to canvas pixels (y down)."""
        x, y = self._middle or self._centre
        scale = self.px_per_mm
        lie = Drawing((), self._bounds, turned=self._turned, far=self._far)
        lie_matrix = QTransform(*lie.page_matrix(lie.width_mm, y_down=True))
        middle = lie_matrix.map(QPointF(x, y))
        away = QTransform.fromTranslate(-middle.x(), -middle.y())
        grown = QTransform.fromScale(scale, scale)
        placed = QTransform.fromTranslate(self._size.width() / 2, self._size.height() / 2)
        return lie_matrix * away * grown * placed

    def to_table(self, at_px: QPointF) -> Point:
        """The table point under a canvas point."""
        point = self.transform().inverted()[0].map(at_px)
        return (point.x(), point.y())

    def step_mm(self, right: float, up: float) -> Point:
        """A step on the screen (to the right, up) as a step on the table, same length."""
        x, y = (-up, right) if self._turned else (right, up)
        return (-x, -y) if self._far else (x, y)

    @property
    def _centre(self) -> Point:
        x0, y0, x1, y1 = self._bounds
        return ((x0 + x1) / 2, (y0 + y1) / 2)

    @property
    def _fit(self) -> float:
        x0, y0, x1, y1 = self._bounds
        wide, high = (y1 - y0, x1 - x0) if self._turned else (x1 - x0, y1 - y0)
        room_x = max(self._size.width() - 2 * self._air_px, 1.0)
        room_y = max(self._size.height() - 2 * self._air_px, 1.0)
        return min(room_x / wide, room_y / high)

    def _move_middle(self, dx: float, dy: float) -> None:
        """Shift what is in the middle, but keep the middle on the table."""
        x, y = self._middle or self._centre
        x0, y0, x1, y1 = self._bounds
        self._middle = (min(max(x + dx, x0), x1), min(max(y + dy, y0), y1))
