"""The lesson: step by step on the whole screen, the question first, the answer on a key."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent, QFont, QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from designer.drawing.layers import QUESTION_LAYERS, Layers
from designer.open_routine import OpenRoutine
from designer.table_view import ReadOnlyTable
from designer.texts import tr
from designer.words.facts import facts
from designer.words.figures import first_up, sentence
from designer.words.lanes import lane_in_short
from designer.words.names import ball_name, pocket_name
from designer.words.strikes import lane_strike
from designer.words.wording import Wording
from engine.routine.values import Shot

#: What the answer shows: all that the question keeps back.
ANSWER_LAYERS = Layers()
#: Height of the letters, as a share of the screen's height.
LARGE, SMALL = 0.036, 0.019
#: Share of the height that the question, and the answer, may take.
MOST_ROOM = 0.16
_ONWARD = (Qt.Key.Key_Right, Qt.Key.Key_PageDown, Qt.Key.Key_N)
_BACK = (Qt.Key.Key_Left, Qt.Key.Key_PageUp, Qt.Key.Key_P)
_ANSWER = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Down)


class Lesson(QWidget):
    """Every shot of the routine as a question; `left` when the lesson is over.

    Nothing of the answer is on the screen, in its texts or in its descriptions before
    `show_answer`. The routine cannot be changed from here.
    """

    left = Signal()

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(session.routine.title or tr("Lesson"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._session = session
        self.answered = False
        session.player.close()
        self.step = _words(tr("Step"))
        self.question = _words(tr("Question"))
        self.table = ReadOnlyTable(session, QUESTION_LAYERS)
        self.answer = _words(tr("Answer"))
        self.keys = _words(tr("Keys"))
        layout = QVBoxLayout(self)
        layout.addWidget(self.step)
        layout.addWidget(self.question)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.answer)
        layout.addWidget(self.keys)
        session.answered.connect(self._refresh)
        session.pointed.connect(self._refresh)
        self._refresh()

    @property
    def number(self) -> int:
        """Number of the step on show, 1 for the first; 0 when there is none."""
        ids = [shot.id for shot in self._session.routine.shots]
        return ids.index(self._session.shown_shot) + 1 if self._session.shown_shot in ids else 0

    def show_answer(self) -> None:
        """Show what was kept back, and play the selected lane."""
        self.answered = True
        self.table.show_layers(ANSWER_LAYERS)
        self._refresh()
        self._session.player.go_to(0.0)
        self._session.player.play()

    def go(self, count: int) -> None:
        """To the next step (or with -1 the one before), its question first."""
        shots = self._session.routine.shots
        wanted = self.number - 1 + count
        if not 0 <= wanted < len(shots):
            return
        self._ask()
        self._session.show_shot(shots[wanted].id)
        self._refresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Answer, next step, step before, a lane by its letter, or leave."""
        key = event.key()
        if key == Qt.Key.Key_Escape:
            self.close()
        elif key in _ONWARD:
            self.go(1)
        elif key in _BACK:
            self.go(-1)
        elif key in _ANSWER:
            self._answer_or_play()
        elif self.answered and event.text():
            self._play_lane(event.text().upper())
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click answers as well, for a pointer held in the hand."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._answer_or_play()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Leave the routine as it was found."""
        self._session.player.close()
        self.left.emit()
        super().closeEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Letters as large as the screen allows."""
        self._size_letters()
        super().resizeEvent(event)

    def _size_letters(self) -> None:
        """Large letters, but smaller ones for a long text, so that the table keeps its room."""
        high = max(self.height(), 300)
        for label in (self.step, self.keys):
            _set_letters(label, round(high * SMALL), bold=False)
        for label in (self.question, self.answer):
            bold = label is self.question
            size = round(high * LARGE)
            while size > high * SMALL:
                _set_letters(label, size, bold=bold)
                if label.heightForWidth(self.width() - 24) <= high * MOST_ROOM:
                    break
                size -= 1

    def _answer_or_play(self) -> None:
        if not self.answered:
            self.show_answer()
        else:
            self._session.player.toggle()

    def _play_lane(self, letter: str) -> None:
        shot = self._session.shot
        if shot is not None and any(lane.label == letter for lane in shot.lanes):
            self._session.player.close()
            self._session.point_at_lane(letter)
            self._session.player.play()

    def _ask(self) -> None:
        self.answered = False
        self._session.player.close()
        self.table.show_layers(QUESTION_LAYERS)

    def _refresh(self) -> None:
        session, shot = self._session, self._session.shot
        count = len(session.routine.shots)
        title = session.routine.title or tr("Routine")
        self.step.setText(
            tr("{title} – step {number} of {count}", title=title, number=self.number, count=count)
            if count
            else title
        )
        self.question.setText(self._question(shot) if shot is not None else tr("No shot yet."))
        self.answer.setText(self._answer(shot) if shot is not None and self.answered else "")
        self.keys.setText(
            tr("Space: play or hold   A, B, C: that lane   ← →: other steps   Esc: leave")
            if self.answered
            else tr("Space: the answer   ← →: other steps   Esc: leave")
        )
        self._size_letters()

    def _question(self, shot: Shot) -> str:
        if shot.question:
            return shot.question
        if shot.object_ball and shot.pocket:
            ball = ball_name(self._session.routine, shot.object_ball)
            pocket = pocket_name(self._session.table, shot.pocket)
            return tr(
                "{ball} to the {pocket}: where does the cue ball go?",
                ball=first_up(ball),
                pocket=pocket,
            )
        # Not the shot's title: the coach names it by what is to be found out.
        return tr("Where does the cue ball go?")

    def _answer(self, shot: Shot) -> str:
        """What the coach answers, else what is predicted; never the note, which is the coach's."""
        found = self._session.shot_answer
        if shot.answer or found is None:
            return shot.answer
        wording = Wording(self._session.routine, self._session.view.unit)
        if found.cannot_be_played:
            reason = facts(wording, found.refusals)
            return sentence(tr("This shot cannot be played: {reason}", reason=reason))
        lines = [
            tr(
                "{lane} ({strike}): {verdict}",
                lane=lane.label,
                strike=lane_strike(lane),
                verdict=lane_in_short(wording, lane),
            )
            for lane in found.lanes
        ]
        return "\n".join(lines)


def _set_letters(label: QLabel, size_px: int, *, bold: bool) -> None:
    font = QFont(label.font())
    font.setPixelSize(size_px)
    font.setBold(bold)
    label.setFont(font)


def _words(name: str) -> QLabel:
    label = QLabel()
    label.setAccessibleName(name)
    label.setWordWrap(True)
    label.setAlignment(Qt.AlignmentFlag.AlignCenter)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
    return label
