"""Texts kept as small pictures: painting an outline anew takes ten times as long."""

from __future__ import annotations

import math
from collections import OrderedDict

from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPixmap, QTransform

from designer.drawing.model import Text
from designer.drawing.placing import text_box
from designer.painters.qt import paint_item

#: Texts kept; a drawing holds some forty.
MOST = 600
#: A text is put down to this share of a pixel; on a fine screen, whose pixels are smaller, a
#: coarser share of them will do.
SHARES = 4
#: Room round a text for accents and smoothed edges, in em and in pixels.
ROOM_EM, ROOM_PX = 0.35, 2


class TextPictures:
    """Paints texts from pictures, made when a text is first seen at a size and angle."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[object, ...], tuple[QPixmap, QPoint]] = OrderedDict()
        self._world: QTransform | None = None
        self._shift = (0.0, 0.0)
        #: The transform to device pixels: its rows, and how many of those a pixel has.
        self._turn: tuple[float, ...] = ()

    def paint(self, item: Text, painter: QPainter) -> None:
        """Paint a text on a painter whose transform is from table mm; the same as its outline."""
        world = painter.worldTransform()
        ratio = painter.device().devicePixelRatioF()
        if world != self._world or ratio != self._turn[-1]:
            self._world = world
            self._turn = (world.m11(), world.m12(), world.m21(), world.m22(), ratio)
            self._shift = (world.dx(), world.dy())
        a, b, c, d, ratio = self._turn
        (across, up), (dx, dy) = item.at, self._shift
        shares = max(1, round(SHARES / ratio))
        x = round((a * across + c * up + dx) * ratio * shares) / shares
        y = round((b * across + d * up + dy) * ratio * shares) / shares
        left, top = math.floor(x), math.floor(y)
        look = (item.text, item.bold, item.colour, item.size_mm, item.angle_deg, item.anchor)
        key = (*look, item.stretch, self._turn, x - left, y - top)
        found = self._kept.get(key)
        if found is None:
            at = QPointF(x - left, y - top)
            found = self._kept[key] = _picture(item, world, ratio, at)
            if len(self._kept) > MOST:
                self._kept.popitem(last=False)
        else:
            self._kept.move_to_end(key)
        picture, corner = found
        painter.resetTransform()
        painter.drawPixmap(
            QPointF((left + corner.x()) / ratio, (top + corner.y()) / ratio), picture
        )
        painter.setWorldTransform(world)


def _picture(item: Text, world: QTransform, ratio: float, at: QPointF) -> tuple[QPixmap, QPoint]:
    """The picture of a text whose anchor is at `at`, device px, and its top left corner there."""
    x0, y0, x1, y1 = text_box(item, item.size_mm * ROOM_EM)
    origin = QPointF(*item.at)
    linear = QTransform(
        world.m11() * ratio, world.m12() * ratio, world.m21() * ratio, world.m22() * ratio, 0, 0
    )
    linear = QTransform.fromTranslate(-origin.x(), -origin.y()) * linear
    linear *= QTransform.fromTranslate(at.x(), at.y())
    box = linear.mapRect(QRectF(x0, y0, x1 - x0, y1 - y0)).toAlignedRect()
    box.adjust(-ROOM_PX, -ROOM_PX, ROOM_PX, ROOM_PX)
    picture = QPixmap(box.size())
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setTransform(linear * QTransform.fromTranslate(-box.x(), -box.y()))
    paint_item(item, painter)
    painter.end()
    picture.setDevicePixelRatio(ratio)
    return picture, box.topLeft()
