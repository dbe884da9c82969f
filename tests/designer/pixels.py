"""Counting pixels of a widget as it is painted."""

import numpy as np
from PySide6.QtGui import QColor, QImage


def pixels_of(widget):
    """The widget's picture as an array (rows, columns, 3)."""
    image = widget.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).copy()


def count_of(widget, name):
    """How many pixels have exactly that colour."""
    colour = QColor(name)
    wanted = (colour.red(), colour.green(), colour.blue())
    return int((pixels_of(widget) == wanted).all(axis=2).sum())


def count_near(widget, name, within=60):
    """How many pixels have about that colour: thin lines rarely fall on whole pixels."""
    colour = QColor(name)
    wanted = np.array((colour.red(), colour.green(), colour.blue()), dtype=int)
    return int((np.abs(pixels_of(widget).astype(int) - wanted).max(axis=2) <= within).sum())
