"""Help lines over a photograph: where two of them cross, a corner that cannot be seen is marked.

The corners of a table with pockets lie where the lines of two noses would meet, in the air over
the pocket. A line laid along each nose shows where that is.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import combinations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from designer.drawing.look import INK

Pixel = tuple[float, float]
_PALE = "#8fd3ff"


class Guides:
    """Lines by two places each, in pixels of the picture; the last may still be in hand."""

    def __init__(self) -> None:
        self.lines: list[tuple[Pixel, Pixel]] = []

    def begin(self, at: Pixel) -> None:
        """Begin a line."""
        self.lines.append((at, at))

    def draw_to(self, at: Pixel) -> None:
        """The line in hand ends here."""
        self.lines[-1] = (self.lines[-1][0], at)

    def end(self, least_px: float) -> None:
        """Let go of the line; one shorter than that was a slip."""
        if self.lines and math.dist(*self.lines[-1]) < least_px:
            self.lines.pop()

    def clear(self) -> None:
        """Take all away."""
        self.lines = []

    def crossings(self) -> list[Pixel]:
        """Where every two of the lines, carried on, cross; lines nearly alike do not."""
        found = []
        for (a, b), (c, d) in combinations(self.lines, 2):
            one, other = np.subtract(b, a), np.subtract(d, c)
            turned = one[0] * other[1] - one[1] * other[0]
            if abs(turned) < 0.05 * np.linalg.norm(one) * np.linalg.norm(other):
                continue
            off = np.subtract(c, a)
            share = (off[0] * other[1] - off[1] * other[0]) / turned
            found.append((float(a[0] + share * one[0]), float(a[1] + share * one[1])))
        return found

    def held_to(self, at: Pixel, near_px: float) -> Pixel:
        """A crossing within that distance of a place; else the place itself."""
        near = [one for one in self.crossings() if math.dist(one, at) <= near_px]
        return min(near, key=lambda one: math.dist(one, at)) if near else at

    def paint(
        self, painter: QPainter, to_screen: Callable[[float, float], QPointF], area: QRectF
    ) -> None:
        """Every line, carried on over the picture in dashes, and a ring where two cross."""
        reach = 2.0 * (area.width() + area.height())
        for start, end in self.lines:
            one, other = to_screen(*start), to_screen(*end)
            way = other - one
            long = math.hypot(way.x(), way.y())
            if long < 1.0:
                continue
            way /= long
            for colour, wide in ((INK, 3.0), (_PALE, 1.4)):
                painter.setPen(QPen(QColor(colour), wide))
                painter.drawLine(one, other)
                painter.setPen(QPen(QColor(colour), wide * 0.6, Qt.PenStyle.DashLine))
                painter.drawLine(one - way * reach, one)
                painter.drawLine(other, other + way * reach)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for place in self.crossings():
            for colour, wide in ((INK, 3.0), (_PALE, 1.4)):
                painter.setPen(QPen(QColor(colour), wide))
                painter.drawEllipse(to_screen(*place), 7.0, 7.0)
