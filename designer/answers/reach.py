"""The reach map of one gap: what every tip height and pace does, and what forgives most."""

from __future__ import annotations

from html import escape

import numpy as np
from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QHideEvent, QPainter, QPaintEvent, QPen, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from designer.answers.reach_chart import LaneMark, ReachChart
from designer.answers.reach_kinds import KINDS
from designer.answers.reach_paint import swatch
from designer.open_routine import OpenRoutine
from designer.open_routine.reach_watch import ShownMap
from designer.texts import mark, tr
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.panel import Panel
from designer.widgets.side_window import SideWindow
from designer.words.figures import first_up, sentence
from designer.words.gaps import verdict as verdict_told
from designer.words.names import gap_name
from designer.words.strikes import tip_and_pace
from engine.results import GapVerdict
from engine.routine.values import STUN

NO_GAP = mark("No gap yet: draw one, or add one under Gaps.")
NO_SHOT = mark("No shot yet: choose an object ball and a pocket.")
POT_OFF = mark("The pot is not on, so no strike counts.")
WAITING = mark("The map is being worked out …")
COARSE = mark("Coarse while balls move.")
HINT_NO_LANE = mark("Point at the map to read a strike.")
HINT = mark("Point at the map to read a strike; click to give it to lane {label}.")


class ReachPanel(Panel):
    """The map of a gap for the shot on show; a click takes a strike for the selected lane."""

    #: The coach asks for the player levels.
    levels_wanted = Signal()

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._shown: ShownMap | None = None
        self._sight: tuple[float, float] | None = None
        self.gap = ChoiceField()
        self.gap.setAccessibleName(tr("Gap of the reach map"))
        self.gap.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.gap.setMinimumContentsLength(12)
        self.gap.currentIndexChanged.connect(self._on_gap)
        self.chart = ReachChart()
        self.chart.pointed.connect(self._on_pointed)
        self.chart.left.connect(self._on_left)
        self.chart.taken.connect(self._on_taken)
        self.key = KindsKey()
        self.words = _lines(3, tr("Strike pointed at"))
        self.verdict = _lines(4, tr("Verdict on the gap"))
        self.take_best = QPushButton(tr("Take what forgives most"))
        self.take_best.setToolTip(tr("Give the selected lane the strike that forgives most"))
        self.take_best.clicked.connect(self._on_take_best)
        self.levels = QPushButton(tr("Player levels…"))
        self.levels.setToolTip(tr("How far players’ strikes stray: what the chances rest on"))
        self.levels.clicked.connect(lambda _checked=False: self.levels_wanted.emit())
        self._lay_out()
        session.answered.connect(self.refresh_soon)
        session.reach.mapped.connect(self.refresh_soon)

    def refresh(self) -> None:
        """Show the map there is, the lanes on it, and the verdict."""
        session, routine = self.session, self.session.routine
        fill_choices(self.gap, [(gap.id, first_up(gap_name(routine, gap))) for gap in routine.gaps])
        self.gap.setEnabled(bool(routine.gaps))
        gap_id = self._gap_id()
        session.reach.look_at(gap_id)
        conditions = session.conditions
        self.chart.show_scale(conditions.tip_limit, conditions.cue_radius_mm)
        shown = session.reach.shown_map(gap_id) if gap_id else None
        verdict = session.reach.verdict_of(gap_id) if gap_id else None
        if shown is None:
            self.chart.show_kinds(None, 0.0, self._why_none(gap_id, verdict))
            self.key.show_kinds(())
        elif self._shown is None or shown.map is not self._shown.map:
            from designer.answers.reach_regions import kinds_of

            kinds = kinds_of(shown.map)
            self.chart.show_kinds(kinds, float(shown.map.tip_heights[0]))
            present = tuple(int(one) for one in np.unique(kinds))
            self.key.show_kinds(present)
        self._shown = shown
        best = self._best(verdict)
        self.chart.show_marks(self._marks(), best)
        self.take_best.setEnabled(best is not None and session.shot is not None)
        self._show_verdict(verdict, shown)
        self._show_words()

    def showEvent(self, event: QShowEvent) -> None:
        """From now on refined maps are wanted."""
        super().showEvent(event)
        self.session.reach.watch(True)

    def hideEvent(self, event: QHideEvent) -> None:
        """Nobody looks at the map any more."""
        self.session.reach.watch(False)
        super().hideEvent(event)

    def choose_gap(self, gap_id: str) -> None:
        """Show the map of that gap."""
        choose(self.gap, gap_id)
        self._on_gap()

    # Parts -----------------------------------------------------------------------------------

    def _gap_id(self) -> str:
        return str(self.gap.currentData() or "")

    def _why_none(self, gap_id: str, verdict: GapVerdict | None) -> str:
        if not gap_id:
            return tr(NO_GAP)
        if self.session.shot is None or not _aimed(self.session):
            return tr(NO_SHOT)
        if verdict is not None and verdict.limit is not None and verdict.limit.kind == "pot-off":
            return tr(POT_OFF)
        return tr(WAITING)

    def _marks(self) -> tuple[LaneMark, ...]:
        session, shot, answer = self.session, self.session.shot, self.session.shot_answer
        found = {lane.label: lane for lane in answer.lanes} if answer is not None else {}
        marks = []
        for index, lane in enumerate(shot.lanes if shot is not None else ()):
            tip = lane.tip_height
            if tip == STUN:
                if lane.label not in found:
                    continue
                tip = found[lane.label].tip_height
            pace = lane.pace
            if lane.speed_m_s is not None:
                pace = session.conditions.pace_at(1000.0 * lane.speed_m_s, tip, lane.side)
            chosen = lane.label == session.shown_lane
            marks.append(LaneMark(lane.label, index, float(tip), pace, chosen))
        return tuple(marks)

    def _best(self, verdict: GapVerdict | None) -> tuple[float, float] | None:
        if verdict is None or verdict.choice is None or not self.session.answer_is_full:
            return None
        return (verdict.choice.tip_height, verdict.choice.pace)

    def _show_verdict(self, verdict: GapVerdict | None, shown: ShownMap | None) -> None:
        coarse = shown is not None and not shown.fine
        told = escape(verdict_told(self.session.wording, verdict)) if verdict is not None else ""
        text = " ".join(part for part in (told, tr(COARSE) if coarse else "") if part)
        if self.verdict.text() != text:
            self.verdict.setText(text)

    def _show_words(self) -> None:
        if self._sight is None or self._shown is None:
            lane = self.session.shown_lane
            text = tr(HINT, label=lane) if lane else tr(HINT_NO_LANE)
            self.words.setText(text if self._shown is not None else "")
            return
        from designer.answers.reach_regions import strike_outcome

        tip, pace = self._sight
        _, told = strike_outcome(self._shown.scene, tip, pace, self.session.wording)
        strike = tip_and_pace(tip, pace, self.session.conditions)
        self.words.setText(sentence(tr("{strike}: {outcome}", strike=strike, outcome=told)))

    # Hands -----------------------------------------------------------------------------------

    def _on_gap(self) -> None:
        if not self.filling:
            self.session.reach.look_at(self._gap_id())
            self.catch_up_now()

    def _on_pointed(self, tip: float, pace: float) -> None:
        self._sight = (tip, pace)
        self._show_words()

    def _on_left(self) -> None:
        self._sight = None
        self._show_words()

    def _on_taken(self, tip: float, pace: float) -> None:
        self.session.shots.set_strike(tip, pace)

    def _on_take_best(self) -> None:
        if self.chart.best is not None:
            self.session.shots.set_strike(*self.chart.best)

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(QLabel(tr("Gap")))
        top.addWidget(self.gap, 1)
        layout = QVBoxLayout(self)
        layout.addLayout(top)
        layout.addWidget(self.chart, 1)
        layout.addWidget(self.key)
        layout.addWidget(self.words)
        hands = QHBoxLayout()
        hands.addWidget(self.take_best, 1)
        hands.addWidget(self.levels)
        layout.addLayout(hands)
        layout.addWidget(self.verdict)


class ReachWindow(SideWindow):
    """The map beside the table: strikes are read off it and given to lanes while it is open."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(tr("Reach map"), parent)
        self.panel = ReachPanel(session)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.panel)
        self.resize(460, 620)


class KindsKey(QWidget):
    """The key below the map: a hatched field and its word for every kind on show."""

    FIELD = QSize(26, 15)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kinds: tuple[int, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(tr("Key of the map"))

    def show_kinds(self, kinds: tuple[int, ...]) -> None:
        """Explain these kinds."""
        if kinds != self._kinds:
            self._kinds = kinds
            self.setAccessibleDescription(", ".join(tr(KINDS[index].word) for index in kinds))
            self.updateGeometry()
            self.update()

    def sizeHint(self) -> QSize:
        """Room for all kinds in three rows of three, so that nothing jumps."""
        return QSize(300, 3 * self._line())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Fields and words, row by row."""
        painter = QPainter(self)
        x, y, line = 0.0, 0.0, self._line()
        metrics, ratio = self.fontMetrics(), self.devicePixelRatioF()
        for index in self._kinds:
            word = tr(KINDS[index].word)
            wide = self.FIELD.width() + 6 + metrics.horizontalAdvance(word) + 14
            if x > 0.0 and x + wide - 14 > self.width():
                x, y = 0.0, y + line
            field = QRectF(
                x, y + (line - self.FIELD.height()) / 2, self.FIELD.width(), self.FIELD.height()
            )
            image = swatch(index, self.FIELD.width(), self.FIELD.height(), ratio)
            painter.drawImage(field.topLeft(), image)
            painter.setPen(QPen(self.palette().windowText().color(), 1.0))
            painter.drawRect(field)
            box = QRectF(field.right() + 6, y, wide, line)
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, word)
            x += wide
        painter.end()

    def _line(self) -> int:
        return self.fontMetrics().height() + 3


def _aimed(session: OpenRoutine) -> bool:
    shot = session.shot
    return shot is not None and (shot.aim_deg is not None or bool(shot.object_ball and shot.pocket))


def _lines(count: int, name: str) -> QLabel:
    label = QLabel()
    label.setAccessibleName(name)
    label.setWordWrap(True)
    label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
    label.setMinimumHeight(count * label.fontMetrics().lineSpacing() + 2)
    label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.MinimumExpanding)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
