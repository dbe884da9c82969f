"""The strokes to choose from, as cards: where the tip meets the cue ball, the pace, a number."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QWidget

from designer.drawing.gaps import YES
from designer.drawing.look import INK, SOFT_INK
from designer.lesson.letters import letters
from designer.texts import tr
from designer.widgets.struck_ball import paint_ball
from designer.widgets.tones import on_screen
from designer.words.figures import list_of

#: Width of a tip over the cue ball's radius, and the miscue limit drawn as a ring.
TIP = 0.2
#: Cards in a column before there is another.
IN_COLUMN = 6


@dataclass(frozen=True, slots=True)
class Face:
    """What stands on a card. `tip` is (right, up) over the radius, None while not worked out.

    `told` comes when the lane has been seen: its letter and strike. `right`: it does what was
    asked, never set before the answer.
    """

    number: int
    tip: tuple[float, float] | None
    pace: str
    limit: float
    more: str = ""
    told: str = ""
    guessed: bool = False
    playing: bool = False
    right: bool = False

    def in_words(self) -> str:
        """The card as it is read out."""
        marks = [
            tr("the guess") if self.guessed else "",
            tr("on the table now") if self.playing else "",
            tr("does it") if self.right else "",
        ]
        stroke = [self.pace, self.more, self.told, *marks]
        return tr("Card {number}: {words}", number=self.number, words=list_of(stroke))


class Card(QWidget):
    """One stroke to choose; `asked` when it is clicked."""

    asked = Signal(int)

    def __init__(self, face: Face, parent: QWidget) -> None:
        super().__init__(parent)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.face = face
        #: Height of a capital of the number, px: the same for all cards.
        self.capital_px = 20.0
        self.show_face(face)

    def show_face(self, face: Face) -> None:
        """Show another state of the card."""
        self.face = face
        self.setAccessibleName(face.in_words())
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Play this one."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.asked.emit(self.face.number - 1)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Frame, cue ball, number, pace, and what is known by now."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_frame(painter)
        side = min(self.height() * 0.8, self.width() * 0.36)
        gap = (self.height() - side) / 2.0
        ball = QRectF(max(gap, 8.0), gap, side, side)
        _paint_ball(painter, ball, self.face)
        left = ball.right() + self.capital_px * 0.55
        self._paint_words(painter, QRectF(left, 0.0, self.width() - left - 6.0, self.height()))
        painter.end()

    def _paint_frame(self, painter: QPainter) -> None:
        """A bold edge round the guess, a tint on the one being played."""
        face, palette = self.face, self.palette()
        chosen = palette.color(QPalette.ColorRole.Link)
        ground = palette.color(QPalette.ColorRole.Base)
        painter.setPen(QPen(chosen, 5.0) if face.guessed else QPen(on_screen(SOFT_INK), 1.2))
        painter.setBrush(_mixed(ground, chosen, 0.16) if face.playing else ground)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(3.0, 3.0, -3.0, -3.0), 10.0, 10.0)

    def _paint_words(self, painter: QPainter, room: QRectF) -> None:
        """The number, the pace under it, and under that the letter and strike when seen."""
        ink = self.palette().color(QPalette.ColorRole.WindowText)
        face, high = self.face, self.capital_px
        lines = [(str(face.number), high, True), (face.pace, high * 0.74, False)]
        lines += [(text, high * 0.6, False) for text in (face.more, face.told) if text]
        air = high * 0.6
        y = (room.height() - sum(size for _, size, _ in lines) - air * (len(lines) - 1)) / 2.0
        painter.setPen(ink)
        for text, size, bold in lines:
            self._paint_line(painter, text, QRectF(room.left(), y, room.width(), size), bold)
            y += size + air
        sign = f"{tr('guess') if face.guessed else ''}  {YES if face.right else ''}".rstrip()
        painter.setPen(self.palette().color(QPalette.ColorRole.Link))
        painter.setFont(letters(self.font(), high * 0.74, bold=True))
        box = QRectF(room.left(), high * 0.6, room.width() - high * 0.3, high * 1.5)
        painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop, sign)

    def _paint_line(self, painter: QPainter, text: str, room: QRectF, bold: bool) -> None:
        """A line whose capitals fill the room's height, smaller or cut if it is too long."""
        font = letters(self.font(), room.height(), bold=bold)
        painter.setFont(font)
        wide = painter.fontMetrics().horizontalAdvance(text)
        if wide > room.width():
            font.setPixelSize(max(1, math.floor(font.pixelSize() * max(0.7, room.width() / wide))))
            painter.setFont(font)
        cut = Qt.TextElideMode.ElideRight
        told = painter.fontMetrics().elidedText(text, cut, math.ceil(room.width()))
        painter.drawText(room.bottomLeft(), told)


class Cards(QWidget):
    """All cards of a step, equal in size, in one column or more."""

    asked = Signal(int)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.cards: list[Card] = []

    def show_faces(self, faces: Sequence[Face]) -> None:
        """Show these cards."""
        if len(faces) != len(self.cards):
            for card in self.cards:
                card.hide()
                card.deleteLater()
            self.cards = [Card(face, self) for face in faces]
            for card in self.cards:
                card.asked.connect(self.asked)
                card.show()
            self.place()
        for card, face in zip(self.cards, faces, strict=True):
            card.show_face(face)

    def place(self, screen_px: float = 0.0) -> None:
        """Share the room out among the cards; `screen_px` is the height of the whole screen."""
        self._screen_px = screen_px or getattr(self, "_screen_px", self.height() * 1.6)
        if not self.cards:
            return
        columns = math.ceil(len(self.cards) / IN_COLUMN)
        rows = math.ceil(len(self.cards) / columns)
        air = self._screen_px * 0.016
        high = min((self.height() - air * (rows - 1)) / rows, self._screen_px * 0.17)
        wide = (self.width() - air * (columns - 1)) / columns
        for place, card in enumerate(self.cards):
            column, row = divmod(place, rows)
            x, y = column * (wide + air), row * (high + air)
            card.setGeometry(round(x), round(y), math.floor(wide), math.floor(high))
            card.capital_px = min(self._screen_px * 0.034, high * 0.215, wide * 0.14)


def _mixed(one: QColor, other: QColor, share: float) -> QColor:
    pairs = (
        (one.redF(), other.redF()),
        (one.greenF(), other.greenF()),
        (one.blueF(), other.blueF()),
    )
    return QColor.fromRgbF(*(a + (b - a) * share for a, b in pairs))


def _paint_ball(painter: QPainter, ball: QRectF, face: Face) -> None:
    """The cue ball over the cue, and the tip on it."""
    half, middle = ball.width() / 2.0, ball.center()
    paint_ball(painter, ball, face.limit, max(half * 0.03, 1.2))
    if face.tip is not None:
        right, up = face.tip
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(INK))
        painter.drawEllipse(middle + QPointF(right * half, -up * half), half * TIP, half * TIP)
