"""The reach map as a widget: tip height across, pace up. Point to read a strike, click to take it.

By keys: arrows move the sight, with Shift farther; Enter takes the strike under it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QFont, QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from designer.answers.reach_kinds import KINDS
from designer.answers.reach_paint import label_places, on_pixels, picture
from designer.drawing.look import INK, PAPER, SOFT_INK, lane_pattern
from designer.texts import tr
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST

Strike = tuple[float, float]

#: Steps of the sight by keys: mm of tip height and paces; with Shift so many times as far.
STEP_MM, STEP_PACE, LONG = 0.5, 0.1, 5
#: From the middle of the diamond of what forgives most to its corners, px.
BEST_REACH = 7.0


@dataclass(frozen=True, slots=True)
class LaneMark:
    """A lane of the shot on the map: its letter, place among the lanes, and strike."""

    label: str
    index: int
    tip_height: float
    pace: float
    selected: bool


class ReachChart(QWidget):
    """Shows kinds of outcome over tip height and pace.

    `pointed` tells a strike to be read out ((tip over radius, pace)), `left` that none is, and
    `taken` one to be played.
    """

    pointed = Signal(float, float)
    taken = Signal(float, float)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kinds: np.ndarray | None = None
        self._lowest, self._limit, self._radius_mm = -0.5, 0.5, 26.25
        self._marks: tuple[LaneMark, ...] = ()
        self._best: Strike | None = None
        self._words = ""
        self._sight: Strike | None = None
        self._image: QImage | None = None
        self._image_key: tuple[object, ...] = ()
        self._plain = np.zeros((0, 0), dtype=np.int8)
        self._words_at: dict[int, QRectF] | None = None
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(tr("Reach map: tip height across, pace up"))

    # What is shown ---------------------------------------------------------------------------

    def show_kinds(self, kinds: np.ndarray | None, lowest: float, words: str = "") -> None:
        """Show kinds on a lattice (tips, paces) from the lowest tip on, or words instead."""
        self._kinds, self._lowest, self._words = kinds, lowest, words
        self._image = None
        self.update()

    def show_scale(self, limit: float, radius_mm: float) -> None:
        """Tip heights run from −limit to +limit of the radius."""
        if (limit, radius_mm) != (self._limit, self._radius_mm):
            self._limit, self._radius_mm = limit, radius_mm
            self._image = None
            self.update()

    def show_marks(self, marks: tuple[LaneMark, ...], best: Strike | None) -> None:
        """Mark the shot's lanes, and the strike that forgives most."""
        if (marks, best) != (self._marks, self._best):
            self._marks, self._best = marks, best
            self._words_at = None
            self.update()

    @property
    def kinds(self) -> np.ndarray | None:
        """The kinds on show."""
        return self._kinds

    @property
    def best(self) -> Strike | None:
        """The strike marked as the one that forgives most."""
        return self._best

    @property
    def marks(self) -> tuple[LaneMark, ...]:
        """The lanes marked."""
        return self._marks

    def place_of(self, tip_height: float, pace: float) -> QPointF:
        """Where a strike lies on the widget."""
        plot = self._plot()
        share = (tip_height + self._limit) / (2.0 * self._limit)
        up = (pace - PACE_LOWEST) / (PACE_HIGHEST - PACE_LOWEST)
        return QPointF(plot.left() + share * plot.width(), plot.bottom() - up * plot.height())

    def strike_at(self, at: QPointF) -> Strike:
        """The strike at a place, to a tenth of a millimetre and of a pace, held to the map."""
        plot = self._plot()
        share = (at.x() - plot.left()) / plot.width()
        up = (plot.bottom() - at.y()) / plot.height()
        return self._held(
            (2.0 * share - 1.0) * self._limit, PACE_LOWEST + up * (PACE_HIGHEST - PACE_LOWEST)
        )

    def _held(self, tip: float, pace: float) -> Strike:
        tip = min(max(round(tip * self._radius_mm, 1) / self._radius_mm, -self._limit), self._limit)
        return tip, min(max(round(pace, 1), PACE_LOWEST), PACE_HIGHEST)

    def sizeHint(self) -> QSize:
        """Nearly square."""
        return QSize(380, 350)

    def minimumSizeHint(self) -> QSize:
        """The least in which regions can be told apart."""
        return QSize(250, 230)

    # Hands -----------------------------------------------------------------------------------

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Read out the strike under the pointer."""
        if self._plot().adjusted(-4, -4, 4, 4).contains(event.position()):
            self._point(self.strike_at(event.position()))
        else:
            self._leave()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the strike under the pointer."""
        if event.button() != Qt.MouseButton.LeftButton:
            return
        if self._plot().adjusted(-4, -4, 4, 4).contains(event.position()):
            strike = self.strike_at(event.position())
            self._point(strike)
            self.taken.emit(*strike)

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is read out any more."""
        self._leave()
        super().leaveEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the sight by arrows, take the strike by Enter."""
        steps = {
            Qt.Key.Key_Left: (-1, 0),
            Qt.Key.Key_Right: (1, 0),
            Qt.Key.Key_Up: (0, 1),
            Qt.Key.Key_Down: (0, -1),
        }
        if event.key() in steps:
            far = LONG if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
            dx, dy = (step * far for step in steps[Qt.Key(event.key())])
            tip, pace = self._sight or self._start()
            tip += dx * STEP_MM / self._radius_mm
            self._point(self._held(tip, pace + dy * STEP_PACE))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._sight is not None:
            self.taken.emit(*self._sight)
        elif event.key() == Qt.Key.Key_Escape and self._sight is not None:
            self._leave()
        else:
            super().keyPressEvent(event)

    def _start(self) -> Strike:
        chosen = next((mark for mark in self._marks if mark.selected), None)
        return (chosen.tip_height, chosen.pace) if chosen is not None else (0.0, 5.0)

    def _point(self, strike: Strike) -> None:
        self._sight = strike
        self.pointed.emit(*strike)
        self.update()

    def _leave(self) -> None:
        if self._sight is not None:
            self._sight = None
            self.left.emit()
            self.update()

    # Painting --------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Regions, their words, axes, marks, sight."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        plot = self._plot()
        if self._kinds is None:
            painter.fillRect(plot, QColor(PAPER))
            painter.setPen(QColor(SOFT_INK))
            flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(plot.adjusted(16, 16, -16, -16), flags, self._words)
        else:
            self._paint_regions(painter, plot)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(INK), 2.0 if self.hasFocus() else 1.2))
        painter.drawRect(plot)
        self._paint_axes(painter, plot)
        if self._kinds is not None:
            self._paint_best(painter)
        for mark in sorted(self._marks, key=lambda mark: mark.selected):
            self._paint_mark(painter, mark)
        if self._sight is not None:
            self._paint_sight(painter, plot)
        painter.end()

    def _paint_regions(self, painter: QPainter, plot: QRectF) -> None:
        assert self._kinds is not None
        ratio = self.devicePixelRatioF()
        wide, high = round(plot.width() * ratio), round(plot.height() * ratio)
        key = (wide, high, ratio)
        if self._image is None or key != self._image_key:
            lowest = (self._lowest + self._limit) / (2.0 * self._limit)
            shown = on_pixels(self._kinds, max(0.0, lowest), wide, high)
            self._image, self._image_key = picture(shown, ratio), key
            # as the widget's own pixels, whatever the screen's scale
            step = max(1, round(ratio))
            self._plain, self._words_at = shown[::step, ::step], None
        if self._words_at is None:
            self._words_at = self._word_places(plot)
        painter.drawImage(plot.topLeft(), self._image)
        for index, box in self._words_at.items():
            ground = QColor(PAPER)
            ground.setAlphaF(0.86)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ground)
            painter.drawRoundedRect(box, 3, 3)
            painter.setPen(QColor(INK))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, KINDS[index].word)

    def _word_places(self, plot: QRectF) -> dict[int, QRectF]:
        """Where each region's word has room: off the lanes' letters and the strike's own word."""
        free, scale = self._plain.copy(), plot.width() / self._plain.shape[1]
        for taken in self.marked_boxes():
            box = taken.translated(-plot.topLeft())
            rows = slice(max(0, int(box.top() / scale)), max(0, int(box.bottom() / scale) + 1))
            columns = slice(max(0, int(box.left() / scale)), max(0, int(box.right() / scale) + 1))
            free[rows, columns] = -1
        sizes = [self._word_size(kind.word) for kind in KINDS]
        room = {
            index: (round((size.width() + 4) / scale), round((size.height() + 3) / scale))
            for index, size in enumerate(sizes)
        }
        found = {}
        for index, (x, y) in label_places(free, room).items():
            found[index] = QRectF(QPointF(), sizes[index])
            found[index].moveCenter(plot.topLeft() + QPointF(x, y) * scale)
        return found

    def _word_size(self, word: str) -> QSizeF:
        metrics = self.fontMetrics()
        return QSizeF(metrics.horizontalAdvance(word) + 8, metrics.height() + 1)

    def marked_boxes(self) -> list[QRectF]:
        """What the marks cover: letters of lanes, and the strike that forgives most."""
        reach = self._mark_reach() + 5.0
        found = [_square(self.place_of(mark.tip_height, mark.pace), reach) for mark in self._marks]
        if self._best is not None:
            at = self.place_of(*self._best)
            found += [_square(at, BEST_REACH), self._beside(at, tr("forgives most"), BEST_REACH)]
        return found

    def word_boxes(self) -> dict[int, QRectF]:
        """Where the words of the regions were painted, by the index of their kind."""
        return dict(self._words_at or {})

    def _mark_reach(self) -> float:
        return self.fontMetrics().height() * 0.56

    def _paint_axes(self, painter: QPainter, plot: QRectF) -> None:
        metrics = self.fontMetrics()
        # Outside the map there is the window's own ground, light or dark.
        painter.setPen(self.palette().windowText().color())
        line = metrics.height()
        for pace in range(int(PACE_LOWEST), int(PACE_HIGHEST) + 1):
            y = self.place_of(0.0, pace).y()
            painter.drawLine(QPointF(plot.left() - 4, y), QPointF(plot.left(), y))
            box = QRectF(plot.left() - 34, y - line / 2, 28, line)
            flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(box, flags, str(pace))
        most = self._limit * self._radius_mm
        for mm in (*(-5 * k for k in range(int(most // 5), 0, -1)), *range(0, int(most) + 1, 5)):
            x = self.place_of(mm / self._radius_mm, PACE_LOWEST).x()
            painter.drawLine(QPointF(x, plot.bottom()), QPointF(x, plot.bottom() + 4))
            text = "0" if mm == 0 else f"{mm:+d}".replace("-", "−")
            box = QRectF(x - 24, plot.bottom() + 5, 48, line)
            painter.drawText(box, Qt.AlignmentFlag.AlignHCenter, text)
        below = QRectF(plot.left(), plot.bottom() + 5 + line, plot.width(), line + 2)
        for flag, text in (
            (Qt.AlignmentFlag.AlignLeft, tr("screw")),
            (Qt.AlignmentFlag.AlignHCenter, tr("tip, mm from centre")),
            (Qt.AlignmentFlag.AlignRight, tr("top")),
        ):
            painter.drawText(below, flag, text)
        painter.save()
        painter.translate(plot.left() - 36, plot.center().y())
        painter.rotate(-90)
        box = QRectF(-60, -line, 120, line)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, tr("pace"))
        painter.restore()

    def _paint_best(self, painter: QPainter) -> None:
        """A diamond with the word "best"."""
        if self._best is None:
            return
        at = self.place_of(*self._best)
        painter.setPen(QPen(QColor(INK), 1.6))
        painter.setBrush(QColor("#f4cf2d"))
        corners = ((0, -1), (1, 0), (0, 1), (-1, 0))
        painter.drawPolygon([at + QPointF(x * BEST_REACH, y * BEST_REACH) for x, y in corners])
        box = self._beside(at, tr("forgives most"), BEST_REACH)
        painter.setPen(QPen(QColor(SOFT_INK), 0.8))
        painter.setBrush(QColor(PAPER))
        painter.drawRoundedRect(box, 3, 3)
        painter.setPen(QColor(INK))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, tr("forgives most"))

    def _beside(self, at: QPointF, text: str, reach: float) -> QRectF:
        """A box for a text beside a place, inside the map."""
        plot, box = self._plot(), QRectF(QPointF(), self._word_size(text))
        box.moveCenter(at)
        right = at.x() + reach + 3 + box.width() <= plot.right()
        if right:
            box.moveLeft(at.x() + reach + 3)
        else:
            box.moveRight(at.x() - reach - 3)
        if box.top() < plot.top():
            box.moveTop(plot.top() + 1)
        if box.bottom() > plot.bottom():
            box.moveBottom(plot.bottom() - 1)
        return box

    def _paint_mark(self, painter: QPainter, mark: LaneMark) -> None:
        """The lane's letter in a ring; the selected lane's ring is doubled."""
        at = self.place_of(mark.tip_height, mark.pace)
        colour = QColor(lane_pattern(mark.index).colour)
        reach = self._mark_reach()
        painter.setBrush(QColor(PAPER))
        if mark.selected:
            painter.setPen(QPen(QColor(INK), 1.4))
            painter.drawEllipse(at, reach + 4.0, reach + 4.0)
        painter.setPen(QPen(colour, 2.4))
        painter.drawEllipse(at, reach, reach)
        font = QFont(self.font())
        font.setBold(True)
        painter.save()
        painter.setFont(font)
        painter.drawText(
            QRectF(at.x() - 20, at.y() - 20, 40, 40), Qt.AlignmentFlag.AlignCenter, mark.label
        )
        painter.restore()

    def _paint_sight(self, painter: QPainter, plot: QRectF) -> None:
        assert self._sight is not None
        at = self.place_of(*self._sight)
        pen = QPen(QColor(INK), 1.0)
        pen.setDashPattern([4.0, 3.0])
        painter.setPen(pen)
        painter.drawLine(QPointF(plot.left(), at.y()), QPointF(plot.right(), at.y()))
        painter.drawLine(QPointF(at.x(), plot.top()), QPointF(at.x(), plot.bottom()))

    def _plot(self) -> QRectF:
        """The map's field on the widget; marks at its edges still fit."""
        line = self.fontMetrics().height()
        left = 42.0 + line
        reach = line * 0.56 + 6.0
        return QRectF(
            left, reach, max(10.0, self.width() - left - reach),
            max(10.0, self.height() - reach - 2 * line - 12.0),
        )  # fmt: skip


def _square(at: QPointF, reach: float) -> QRectF:
    return QRectF(at.x() - reach, at.y() - reach, 2 * reach, 2 * reach)
