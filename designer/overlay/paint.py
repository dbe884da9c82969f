"""Paint a photo drawing with Qt: a see-through picture of the photograph's own size."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QPen, QPolygonF

from designer.overlay.model import Label, Patch, PhotoDrawing
from designer.painters.png import ensure_application
from designer.painters.qt import paint_item

_Mode = QPainter.CompositionMode


def overlay_pixels(drawing: PhotoDrawing) -> np.ndarray:
    """The overlay (high, wide, 4), red, green, blue and cover, 8 bits each, not premultiplied."""
    image = overlay_image(drawing).convertToFormat(QImage.Format.Format_RGBA8888)
    wide, high = drawing.size_px
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(high, image.bytesPerLine())
    return rows[:, : 4 * wide].reshape(high, wide, 4).copy()


def overlay_image(drawing: PhotoDrawing) -> QImage:
    """The overlay as an image of the photograph's size."""
    ensure_application()
    image = QImage(*drawing.size_px, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(QColor(0, 0, 0, 0))
    painter = QPainter(image)
    # Whole numbers are the middles of pixels in a photograph, their corners in Qt.
    painter.translate(0.5, 0.5)
    paint_over(drawing, painter)
    painter.end()
    return image


def paint_over(drawing: PhotoDrawing, painter: QPainter) -> None:
    """Paint onto a device of its own that is still see-through, in pixels of the photograph."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    for patch in drawing.ground:
        _patch(patch, painter)
    _hide(drawing, painter)
    for patch in drawing.standing:
        _patch(patch, painter)
    for label in drawing.labels:
        _lead(label, painter)
    for label in drawing.labels:
        _label(label, painter)
    painter.restore()


def _hide(drawing: PhotoDrawing, painter: QPainter) -> None:
    """Take away what cushions and balls hide."""
    closed = QPainterPath()
    wide, high = drawing.size_px
    closed.addRect(-1.0, -1.0, wide + 1.0, high + 1.0)
    painter.setCompositionMode(_Mode.CompositionMode_DestinationOut)
    painter.fillPath(closed.subtracted(_path(drawing.opening.outlines)), QColor("black"))
    for outline in drawing.hiding:
        painter.fillPath(_path((outline,)), QColor("black"))
    painter.setCompositionMode(_Mode.CompositionMode_SourceOver)


def _patch(patch: Patch, painter: QPainter) -> None:
    shade = QColor(patch.colour)
    shade.setAlphaF(patch.opacity)
    painter.fillPath(_path(patch.outlines), shade)


def _path(outlines: tuple[np.ndarray, ...]) -> QPainterPath:
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    for outline in outlines:
        path.addPolygon(QPolygonF([QPointF(x, y) for x, y in outline.tolist()]))
        path.closeSubpath()
    return path


def _lead(label: Label, painter: QPainter) -> None:
    if label.leads_to_px is None:
        return
    ends = QPointF(*label.at_px), QPointF(*label.leads_to_px)
    for colour, more in (("#ffffff", 1.5), (label.lead_colour, 0.0)):
        painter.setPen(QPen(QColor(colour), label.lead_px + more))
        painter.drawLine(*ends)
    painter.setPen(Qt.PenStyle.NoPen)


def _label(label: Label, painter: QPainter) -> None:
    painter.save()
    painter.translate(*label.at_px)
    painter.scale(label.scale, -label.scale)
    painter.translate(-label.about_mm[0], -label.about_mm[1])
    for item in label.items:
        paint_item(item, painter)
    painter.restore()
