"""A drawing as a PNG image of any width, with a transparent background if wanted."""

from __future__ import annotations

import os
import sys

from PySide6.QtCore import QBuffer, QByteArray, QIODevice
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter

from designer.drawing.look import PAPER
from designer.drawing.model import Drawing
from designer.painters.qt import paint, world_transform
from engine.errors import OutOfRangeError
from engine.units import MM_PER_INCH

WIDEST_PX = 20_000

_kept: list[QGuiApplication] = []


def png_bytes(drawing: Drawing, width_px: int = 1200, transparent: bool = False) -> bytes:
    """The drawing `width_px` wide, as PNG. `OutOfRangeError` for a width no image can have."""
    if not 1 <= width_px <= WIDEST_PX:
        raise OutOfRangeError("picture width", f"{width_px} px", f"1 to {WIDEST_PX} px")
    return bytes_of(image_of(drawing, width_px, transparent))


def bytes_of(image: QImage) -> bytes:
    """An image as the bytes of a PNG file."""
    store = QByteArray()
    buffer = QBuffer(store)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]
    buffer.close()
    return bytes(store.data())


def image_of(drawing: Drawing, width_px: int, transparent: bool = False) -> QImage:
    """The drawing painted on an image of that width."""
    ensure_application()
    height = max(1, round(width_px * drawing.height_mm / drawing.width_mm))
    image = QImage(width_px, height, QImage.Format.Format_ARGB32_Premultiplied)
    dots = round(150 / MM_PER_INCH * 1000)
    image.setDotsPerMeterX(dots)
    image.setDotsPerMeterY(dots)
    if drawing.title:
        image.setText("Title", drawing.title)
    image.fill(QColor(0, 0, 0, 0) if transparent else QColor(PAPER))
    painter = QPainter(image)
    painter.setTransform(world_transform(drawing, width_px))
    paint(drawing, painter)
    painter.end()
    return image


def ensure_application() -> None:
    """Make sure Qt can paint text: without a program running, start it with no screen."""
    if QGuiApplication.instance() is None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        _kept.append(QGuiApplication(sys.argv[:1] or ["baizewright"]))
