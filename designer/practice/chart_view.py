"""A chart on the screen: the same drawing that goes on paper, as wide as there is room."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from designer.drawing.look import PAPER
from designer.drawing.model import Drawing
from designer.painters.qt import paint, world_transform


class ChartView(QWidget):
    """Shows one drawing; its description is what a screen reader says."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self.drawing: Drawing | None = None
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName(name)

    def show_drawing(self, drawing: Drawing | None) -> None:
        """Show another drawing, or none."""
        self.drawing = drawing
        self.setAccessibleDescription(drawing.description if drawing is not None else "")
        self.updateGeometry()
        self.update()

    def heightForWidth(self, width: int) -> int:
        """As the drawing's shape asks for."""
        if self.drawing is None:
            return 0
        return round(width * self.drawing.height_mm / self.drawing.width_mm)

    def hasHeightForWidth(self) -> bool:
        """Its height follows from its width."""
        return True

    def sizeHint(self) -> QSize:
        """Wide enough to be read."""
        return QSize(560, max(self.heightForWidth(560), 40))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint it on paper white, in either look."""
        if self.drawing is None:
            return
        painter = QPainter(self)
        shape = self.drawing.height_mm / self.drawing.width_mm
        width = min(float(self.width()), self.height() / shape)
        painter.fillRect(QRectF(0.0, 0.0, width, width * shape), QColor(PAPER))
        painter.setTransform(world_transform(self.drawing, round(width)), True)
        paint(self.drawing, painter)
        painter.end()
