"""The photograph on the screen: zoomed and moved, with its marks, its balls and the drawing."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QResizeEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from designer.photo.guides import Guides
from designer.photo.marks import Shown, paint_glass, paint_shown
from designer.texts import tr

#: A mark is taken hold of from this near, px of the screen.
_GRIP = 11.0
#: Moving by less than this is no drag.
_TREMBLE = 3.0
_STEP, _MOST_ZOOM = 1.25, 40.0


class PhotoView(QWidget):
    """Shows a picture; tells of presses, drags and the pointer, in pixels of the picture.

    `pressed(x, y)` where nothing is marked, `grabbed(key)` on a mark, then `dragged(key, x, y)`
    and `dropped()`; `hovered(x, y)`, NaN off the picture; `nudged(dx, dy)` by arrow keys and
    `removed()` by Delete.
    """

    pressed = Signal(float, float)
    grabbed = Signal(str)
    dragged = Signal(str, float, float)
    dropped = Signal()
    hovered = Signal(float, float)
    nudged = Signal(float, float)
    removed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMinimumSize(QSize(320, 240))
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Photograph"))
        self.shown: Sequence[Shown] = ()
        self.lines: Sequence[np.ndarray] = ()
        self.overlay: QImage | None = None
        self._smaller_overlays: list[QImage] = []
        self._image: QImage | None = None
        self._pixels: np.ndarray | None = None
        self._smaller: list[QImage] = []
        self._scale, self._shift = 1.0, QPointF()
        self._held = ""
        self._moved = False
        self._grip = (0.0, 0.0)
        self._from: QPointF | None = None
        self._began: QPointF | None = None
        self._pointer: QPointF | None = None
        self._whole = True
        self.guides = Guides()
        self._guiding = False

    # What is shown ---------------------------------------------------------------------------

    def show_picture(self, pixels: np.ndarray | None) -> None:
        """Show another picture (high, wide, 3), all of it."""
        if pixels is self._pixels:
            return
        self._pixels = pixels
        if pixels is None:
            self._image = None
        else:
            high, wide = pixels.shape[:2]
            held = np.ascontiguousarray(pixels)
            self._image = QImage(
                held.data, wide, high, 3 * wide, QImage.Format.Format_RGB888
            ).copy()
        self._smaller = list(_halved(self._image))
        self.show_all()

    def lay_over(self, overlay: QImage | None) -> None:
        """Lay a see-through picture of the same view over it, or none."""
        if overlay is not self.overlay:
            self.overlay = overlay
            self._smaller_overlays = list(_halved(overlay))
        self.update()

    def show_all(self) -> None:
        """Fit the whole picture in."""
        self._whole = True
        if self._image is not None:
            self._scale = self._fit()
            wide, high = self._image.width() * self._scale, self._image.height() * self._scale
            self._shift = QPointF((self.width() - wide) / 2.0, (self.height() - high) / 2.0)
        self.update()

    def zoom(self, rate: float, about: QPointF | None = None) -> None:
        """Show it larger or smaller; what is at `about` stays there."""
        if self._image is None:
            return
        about = about or QPointF(self.width() / 2, self.height() / 2)
        wanted = min(max(self._scale * rate, self._fit()), _MOST_ZOOM)
        if wanted <= self._fit() * 1.0001:
            self.show_all()
            return
        self._shift = about + (self._shift - about) * (wanted / self._scale)
        self._scale = wanted
        self._whole = False
        self._keep_in_view()
        self.update()

    def to_screen(self, x: float, y: float) -> QPointF:
        """Where a place of the picture is on the widget; whole numbers are middles of pixels."""
        return self._shift + QPointF(x + 0.5, y + 0.5) * self._scale

    def to_picture(self, at: QPointF) -> tuple[float, float]:
        """Which place of the picture is there on the widget."""
        away = (at - self._shift) / self._scale
        return (away.x() - 0.5, away.y() - 0.5)

    # Hands -----------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a mark, or say where there is none; other buttons move the picture."""
        if self._image is None:
            return
        at = event.position()
        if event.button() != Qt.MouseButton.LeftButton:
            self._from = at
            return
        x, y = self.to_picture(at)
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self._guiding = True
            self.guides.begin((x, y))
            return
        self._began, self._moved = at, False
        self._held = self._at(at)
        if self._held:
            self.grabbed.emit(self._held)
        elif -0.5 <= x < self._image.width() and -0.5 <= y < self._image.height():
            self.pressed.emit(*self.guides.held_to((x, y), _GRIP / self._scale))
            self._held = self._at(at)
        place = next((one.at_px for one in self.shown if one.key == self._held), (x, y))
        self._grip = (place[0] - x, place[1] - y)
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag what is held, or tell where the pointer is."""
        at = event.position()
        self._pointer = at
        x, y = self.to_picture(at)
        if self._guiding:
            self.guides.draw_to((x, y))
        elif self._held and event.buttons() & Qt.MouseButton.LeftButton:
            self._drag(at, (x, y))
        elif self._from is not None and event.buttons():
            self._shift += at - self._from
            self._from = at
            self._keep_in_view()
        inside = self._image is not None and 0 <= x < self._image.width()
        inside = inside and self._image is not None and 0 <= y < self._image.height()
        self.hovered.emit(x if inside else math.nan, y if inside else math.nan)
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        self._from = None
        if self._guiding:
            self._guiding = False
            self.guides.end(12.0 / self._scale)
        if self._held and self._moved:
            self.dropped.emit()
        self._held = ""
        self.update()

    def _drag(self, at: QPointF, place: tuple[float, float]) -> None:
        """Move what is held by as much as the hand moved; a tremble on pressing moves nothing."""
        assert self._began is not None
        off = at - self._began
        if self._moved or math.hypot(off.x(), off.y()) >= _TREMBLE:
            self._moved = True
            wanted = (place[0] + self._grip[0], place[1] + self._grip[1])
            self.dragged.emit(self._held, *self.guides.held_to(wanted, 4.0 / self._scale))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the pointer."""
        turned = event.angleDelta().y()
        if turned:
            self.zoom(_STEP ** (turned / 120.0), event.position())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows move the chosen mark by a quarter pixel (with Shift by one), Delete removes it;
        + − 0 zoom.
        """
        step = 1.0 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 0.25
        ways = {
            Qt.Key.Key_Left: (-step, 0.0),
            Qt.Key.Key_Right: (step, 0.0),
            Qt.Key.Key_Up: (0.0, -step),
            Qt.Key.Key_Down: (0.0, step),
        }
        zooms = {Qt.Key.Key_Plus: _STEP, Qt.Key.Key_Equal: _STEP, Qt.Key.Key_Minus: 1 / _STEP}
        key = Qt.Key(event.key())
        if key in ways:
            self.nudged.emit(*ways[key])
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.removed.emit()
        elif key in zooms:
            self.zoom(zooms[key])
        elif key == Qt.Key.Key_0:
            self.show_all()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """A whole picture stays whole."""
        super().resizeEvent(event)
        if self._whole:
            self.show_all()

    # Painting --------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """The picture, the drawing over it, the table as the camera has it, marks and balls."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor("#3a3f42"))
        if self._image is None:
            painter.setPen(QColor("#eceae4"))
            painter.drawText(
                self.rect(), Qt.AlignmentFlag.AlignCenter, tr("Open a photograph of the table.")
            )
            return
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, self._scale < 4.0)
        self._paint_picture(painter)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_lines(painter)
        self.guides.paint(painter, self.to_screen, QRectF(self.rect()))
        taken = [self._cross_box(one) for one in self.shown]
        # what is chosen has its words first
        for one in sorted(self.shown, key=lambda each: not (each.chosen or each.bad)):
            paint_shown(painter, one, self.to_screen, taken)
        if self._held and self._pointer is not None:
            paint_glass(painter, self._image, self.to_picture(self._pointer), self.rect())

    def _paint_picture(self, painter: QPainter) -> None:
        assert self._image is not None
        place = QRectF(
            self._shift.x(), self._shift.y(),
            self._image.width() * self._scale, self._image.height() * self._scale,
        )  # fmt: skip
        painter.drawImage(place, self._fitting(self._image, self._smaller, place))
        if self.overlay is not None:
            painter.drawImage(place, self._fitting(self.overlay, self._smaller_overlays, place))

    def _fitting(self, image: QImage, smaller: Sequence[QImage], place: QRectF) -> QImage:
        """The smallest copy that still has a pixel for every one of the screen."""
        needed = place.width() * self.devicePixelRatioF()
        copies = [one for one in smaller if one.width() >= needed]
        return copies[-1] if copies else image

    def _paint_lines(self, painter: QPainter) -> None:
        turn = QTransform(self._scale, 0, 0, self._scale, self._shift.x(), self._shift.y())
        turn.translate(0.5, 0.5)
        for colour, wide in (("#ffffff", 3.0), ("#1b2327", 1.2)):
            pen = QPen(QColor(colour), wide)
            painter.setPen(pen)
            painter.setOpacity(0.8)
            for line in self.lines:
                points = QPolygonF([QPointF(x, y) for x, y in line.tolist()])
                painter.drawPolyline(turn.map(points))
        painter.setOpacity(1.0)

    # Inside ----------------------------------------------------------------------------------

    def _at(self, at: QPointF) -> str:
        """Key of the mark nearest to a place of the widget, "" when none is near."""
        best, key = _GRIP, ""
        for one in self.shown:
            off = self.to_screen(*one.at_px) - at
            far = math.hypot(off.x(), off.y())
            if far < best:
                best, key = far, one.key
        return key

    def _cross_box(self, one: Shown) -> QRectF:
        """The part of the widget that a mark's cross takes, but for where its own words begin."""
        at = self.to_screen(*one.at_px)
        return QRectF(at.x() - 8.0, at.y() - 8.0, 12.0, 12.0)

    def _fit(self) -> float:
        assert self._image is not None
        return min(self.width() / self._image.width(), self.height() / self._image.height())

    def _keep_in_view(self) -> None:
        assert self._image is not None
        wide, high = self._image.width() * self._scale, self._image.height() * self._scale
        x = min(max(self._shift.x(), self.width() / 2 - wide), self.width() / 2)
        y = min(max(self._shift.y(), self.height() / 2 - high), self.height() / 2)
        self._shift = QPointF(x, y)


def _halved(image: QImage | None) -> Iterator[QImage]:
    """Copies of half the size, a quarter and so on: large pictures are scaled well, and once."""
    while image is not None and image.width() > 600:
        image = image.scaled(
            image.width() // 2, image.height() // 2,
            Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation,
        )  # fmt: skip
        yield image
