"""The plan beside a photograph: the balls as they were read, each with its ± drawn round it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from designer.drawing import Layers, Look, build_drawing
from designer.drawing import look as ink
from designer.drawing.dark import in_dark
from designer.drawing.model import Arc, Drawing
from designer.painters.qt import paint, paint_item, world_transform
from designer.texts import tr
from designer.widgets.tones import is_dark, on_screen
from designer.words.names import ball_name
from engine.photo import BallReading
from engine.results import RoutineAnswer
from engine.routine.values import Routine

#: The plan shows what stands where; the photograph shows the rest.
_LAYERS = Layers(
    potting_line=False, ninety_line=False, contact=False, lanes=False, corridors=False,
    letters=False, gaps=False, verdicts=False,
)  # fmt: skip


class PlanView(QWidget):
    """A table standing with baulk at the bottom, or lying when the widget is wide."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMinimumSize(QSize(150, 260))
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(tr("Plan of the balls as they were read"))
        self._routine: Routine | None = None
        self._balls: Sequence[BallReading] = ()
        self._shown: tuple[
            Routine | None, Sequence[BallReading], RoutineAnswer | None, Layers, str
        ] = (None, (), None, _LAYERS, "")
        self._drawings: dict[bool, Drawing] = {}

    def show_routine(
        self,
        routine: Routine,
        balls: Sequence[BallReading] = (),
        answer: RoutineAnswer | None = None,
        layers: Layers = _LAYERS,
        shot: str = "",
    ) -> None:
        """Show these balls, rings round those that were read; with an answer its lanes too."""
        shown = (routine, balls, answer, layers, shot)
        if shown != self._shown:
            self._shown, self._drawings = shown, {}
            self._routine, self._balls = routine, balls
            words = [
                tr(
                    "{ball} ± {far:.0f} mm",
                    ball=ball_name(routine, one.mark.id),
                    far=one.within_mm,
                )
                for one in balls
            ]
            self.setAccessibleDescription(", ".join(words))
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The table with its balls, as large as fits."""
        if self._routine is None:
            return
        turned = self.width() > self.height()
        if turned not in self._drawings:
            look = Look(turned=turned)
            _, _, answer, layers, shot = self._shown
            self._drawings[turned] = build_drawing(
                self._routine, answer, layers, look=look, shot=shot or None
            )
        drawing = in_dark(self._drawings[turned]) if is_dark() else self._drawings[turned]
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.palette().window())
        scale = min(self.width() / drawing.width_mm, self.height() / drawing.height_mm)
        wide, high = drawing.width_mm * scale, drawing.height_mm * scale
        painter.translate((self.width() - wide) / 2, (self.height() - high) / 2)
        painter.setTransform(world_transform(drawing, wide), True)
        paint(drawing, painter)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for one in self._balls:
            for colour, width in ((ink.PAPER, 9.0), (ink.INK, 4.0)):
                tone = on_screen(colour).name()
                ring = Arc("read", one.placed_mm, _ring(one), 0.0, 360.0, width, tone)
                paint_item(ring, painter)
        painter.end()

    def changeEvent(self, event: QEvent) -> None:
        """A change of light or dark shows at once."""
        self.update()
        super().changeEvent(event)


def _ring(one: BallReading) -> float:
    """The ring lies round the ball by its ±, so that small ones can be seen too."""
    return 26.25 + max(one.within_mm, 2.0)
