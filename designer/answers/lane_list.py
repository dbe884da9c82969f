"""The lanes of a shot, one row each: letter, where the tip goes, strike, verdict and room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListWidget,
    QListWidgetItem,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from designer.drawing.look import lane_pattern
from designer.texts import tr
from designer.widgets.tones import BAD, GOOD, SOFT, on_screen, toned
from designer.words.in_short import InShort

_ROW = Qt.ItemDataRole.UserRole
#: Height of a row in heights of a letter, and the width of a badge in those of a row.
ROW_SHARE, BADGE_SHARE = 2.55, 0.66
SIGNS = {True: "✓", False: "✕", None: ""}
COLOURS = {True: GOOD, False: BAD, None: SOFT}


@dataclass(frozen=True, slots=True)
class LaneRow:
    """What a row shows. `tip_height` and `limit` over the radius, up is positive."""

    label: str
    index: int
    shown: bool
    strike: str
    tip: str
    tip_height: float
    limit: float
    verdict: InShort

    @property
    def words(self) -> str:
        """The row read aloud."""
        found = " ".join(one for one in (self.verdict.told, self.verdict.beside) if one)
        told = tr("{lane}: {strike}, {tip}", lane=self.label, strike=self.strike, tip=self.tip)
        return f"{told}; {found}" if found else told


class LaneList(QListWidget):
    """`pointed(label)` when a row is chosen, `switched(label)` to draw a lane or leave it out."""

    pointed = Signal(str)
    switched = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setItemDelegate(_Painter(self))
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Maximum)
        self.setAccessibleName(tr("Lanes of the shot"))
        self.setToolTip(tr("A click on the letter (or Space) leaves a lane out of the drawing"))
        self.itemSelectionChanged.connect(lambda: self.pointed.emit(self.chosen))

    @property
    def chosen(self) -> str:
        """Letter of the chosen lane, "" for none."""
        items = self.selectedItems()
        return items[0].data(_ROW).label if items else ""

    def rows(self) -> list[LaneRow]:
        """What is shown."""
        return [self.item(at).data(_ROW) for at in range(self.count())]

    def fill(self, rows: Sequence[LaneRow], chosen: str) -> None:
        """Show these rows, one of them chosen; signals stay silent."""
        blocked = self.blockSignals(True)
        while self.count() > len(rows):
            self.takeItem(self.count() - 1)
        for at, row in enumerate(rows):
            item = self.item(at)
            if item is None:
                item = QListWidgetItem()
                self.addItem(item)
            if item.data(_ROW) != row:
                item.setData(_ROW, row)
                item.setData(Qt.ItemDataRole.AccessibleTextRole, row.words)
                # What a row says, whole: parts of it may have been shortened.
                item.setToolTip(f"{row.words}\n{self.toolTip()}")
            if row.label == chosen and not item.isSelected():
                self.setCurrentItem(item)
        if chosen not in (row.label for row in rows):
            self.clearSelection()
        self.blockSignals(blocked)
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As high as its rows, but never more than six of them."""
        rows = min(max(self.count(), 1), 6)
        return QSize(200, rows * row_height(self) + 2 * self.frameWidth())

    def minimumSizeHint(self) -> QSize:
        """Two rows."""
        return QSize(120, min(max(self.count(), 1), 2) * row_height(self) + 2 * self.frameWidth())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click on a letter draws its lane or leaves it out."""
        item = self.itemAt(event.position().toPoint())
        if item is not None and event.position().x() < row_height(self) * 0.85:
            self.switched.emit(item.data(_ROW).label)
            return
        super().mousePressEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space does what a click on the letter does."""
        if event.key() == Qt.Key.Key_Space and self.chosen:
            self.switched.emit(self.chosen)
            return
        super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Other letters, other heights."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()


def row_height(widget: QWidget) -> int:
    """Height of a row, px."""
    return round(widget.fontMetrics().height() * ROW_SHARE)


class _Painter(QStyledItemDelegate):
    """Paints a row."""

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Two lines of letters with air."""
        return QSize(120, row_height(self.parent()))  # type: ignore[arg-type]

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Letter, ball face, strike over tip, verdict over room."""
        row: LaneRow = index.data(_ROW)
        box, palette = option.rect, option.palette
        state = option.state
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if state & QStyle.StateFlag.State_Selected:
            ground = palette.highlight().color()
            ground.setAlphaF(0.16)
            painter.fillRect(box, ground)
            painter.fillRect(QRect(box.left(), box.top(), 3, box.height()), palette.highlight())
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(palette.highlight().color(), 1.5))
            painter.drawRect(box.adjusted(1, 1, -1, -1))
        ink = palette.windowText().color()
        high = box.height()
        badge = QPointF(box.left() + high * 0.45, box.center().y() + 0.5)
        face = QPointF(badge.x() + high * 0.78, badge.y())
        self._badge(painter, row, badge, high * BADGE_SHARE / 2, palette.base().color(), option)
        self._face(painter, row, face, high * 0.27, ink)
        left = round(face.x() + high * 0.42)
        self._words(painter, row, QRect(left, box.top(), box.right() - 6 - left, high), option, ink)
        painter.restore()

    def _badge(
        self,
        painter: QPainter,
        row: LaneRow,
        middle: QPointF,
        radius: float,
        ground: QColor,
        option: QStyleOptionViewItem,
    ) -> None:
        colour = on_screen(lane_pattern(row.index).colour)
        pen = QPen(colour, 2.0)
        if not row.shown:
            pen.setDashPattern([2.0, 2.0])
        painter.setPen(pen)
        painter.setBrush(ground)
        painter.drawEllipse(middle, radius, radius)
        font = QFont(option.font)
        font.setBold(True)
        painter.setFont(font)
        ink = QColor(option.palette.windowText().color())
        if not row.shown:
            ink.setAlphaF(0.7)
        painter.setPen(ink)
        half = round(radius)
        box = QRect(round(middle.x()) - half, round(middle.y()) - half, 2 * half, 2 * half)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, row.label)

    def _face(
        self, painter: QPainter, row: LaneRow, middle: QPointF, radius: float, ink: QColor
    ) -> None:
        painter.setPen(QPen(ink, 1.2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(middle, radius, radius)
        faint = QColor(ink)
        faint.setAlphaF(0.35)
        painter.setPen(QPen(faint, 1.0))
        up = QPointF(0.0, radius)
        painter.drawLine(middle - up, middle + up)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        painter.drawEllipse(middle - up * row.tip_height, radius * 0.24, radius * 0.24)

    def _words(
        self, painter: QPainter, row: LaneRow, box: QRect, option: QStyleOptionViewItem, ink: QColor
    ) -> None:
        """Two lines; the verdict keeps its width, the strike gives way."""
        bold = QFont(option.font)
        bold.setBold(True)
        small = QFont(option.font)
        small.setPointSizeF(small.pointSizeF() * 0.84)
        soft = QColor(toned(SOFT))
        verdict = f"{SIGNS[row.verdict.good]} {row.verdict.told}".strip()
        colour = QColor(toned(COLOURS[row.verdict.good]))
        half = box.height() // 2
        upper = QRect(box.left(), box.top() + 2, box.width(), half - 1)
        lower = QRect(box.left(), box.top() + half, box.width(), half - 3)
        for line, font, left, ink_left, right, ink_right in (
            (upper, bold, row.strike, ink, verdict, colour),
            (lower, small, row.tip, soft, row.verdict.beside, soft),
        ):
            painter.setFont(font)
            metrics = QFontMetricsF(font)
            flags = Qt.AlignmentFlag.AlignVCenter
            wide = min(metrics.horizontalAdvance(right), line.width() * 0.66)
            right = metrics.elidedText(right, Qt.TextElideMode.ElideRight, wide + 1.0)
            painter.setPen(ink_right)
            painter.drawText(line, flags | Qt.AlignmentFlag.AlignRight, right)
            room = line.width() - wide - (8.0 if right else 0.0)
            painter.setPen(ink_left)
            left = metrics.elidedText(left, Qt.TextElideMode.ElideRight, room)
            painter.drawText(line, flags | Qt.AlignmentFlag.AlignLeft, left)
