"""The lesson: step by step on a whole screen, the question first, each answer when asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QCloseEvent, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from designer.drawing.layers import QUESTION_LAYERS
from designer.drawing.look import lane_pattern
from designer.lesson.asked import Asked, names_ends
from designer.lesson.cards import IN_COLUMN, Cards
from designer.lesson.coach_window import CoachWindow
from designer.lesson.crop import crop, whole
from designer.lesson.letters import fit, fit_line, letters, words
from designer.lesson.question import Question, question_of
from designer.lesson.screens import LessonScreens, fill, put_beside
from designer.lesson.telling import faces, key_line, told, trails_now
from designer.open_routine import Message, OpenRoutine, Settings
from designer.table_view import ReadOnlyTable
from designer.table_view.trails import Trail, trail_of
from designer.texts import tr
from designer.words.names import shortened
from engine.routine.shuffling import shuffled_lanes
from engine.routine.values import Shot

#: Speed of the slow way of playing, over the true one.
SLOW = 0.25
#: Heights of capitals over the screen's: on the table, of the verdict, of title and keys.
ON_TABLE, VERDICT, SMALL = 0.026, 0.029, 0.016
#: Margins and the width of the cards' column over the screen's height.
EDGE, AIR, CARDS = 0.03, 0.014, 0.40
_STEPS = {
    Qt.Key.Key_Right: 1, Qt.Key.Key_PageDown: 1, Qt.Key.Key_N: 1,
    Qt.Key.Key_Left: -1, Qt.Key.Key_PageUp: -1, Qt.Key.Key_P: -1,
}  # fmt: skip
_EVENTS = {Qt.Key.Key_Period: 1, Qt.Key.Key_Comma: -1}


class Lesson(QWidget):
    """Every shot of the routine as a question; `left` when the lesson is over.

    Nothing of the answer is on the screen, in its texts or in its descriptions before a lane is
    asked for. The routine cannot be changed from here. Room for the answer is kept from the start.
    """

    left = Signal()

    def __init__(
        self, session: OpenRoutine, settings: Settings, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(session.routine.title or tr("Lesson"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._session, self._player = session, session.player
        self._before = (self._player.speed, self._player.stops_at_contact)
        self._player.close()
        self._player.set_speed(1.0)
        self._player.set_stops_at_contact(False)
        self._steps: dict[str, Asked] = {}
        self._trails: dict[int, Trail] = {}
        self._whole = False
        self._ends_lettered: bool | None = None
        self._message = ""
        self.title, self.step = words(tr("Title"), wrap=False), words(tr("Step"), wrap=False)
        self.question = Question(self)
        self.table = ReadOnlyTable(session, QUESTION_LAYERS)
        self.cards = Cards(self)
        self.verdict = words(tr("What came of it"))
        self.keys = words(tr("Keys"), wrap=False)
        self.keys.setTextFormat(Qt.TextFormat.RichText)
        for part in (self.title, self.step, self.table, self.verdict, self.keys):
            part.setParent(self)
        self.cards.asked.connect(self.play)
        main = parent.screen() if parent is not None else self.screen()
        self.screens = LessonScreens(settings, main)
        self.coach = CoachWindow(session, self.screens, self.keyPressEvent, parent)
        self._listen()
        self._lay_out()

    def _listen(self) -> None:
        session = self._session
        self.screens.changed.connect(self.place)
        session.answered.connect(self._lay_out)
        session.view_changed.connect(self._lay_out)
        session.changed.connect(self._on_changed)
        session.pointed.connect(self._refresh)
        self._player.moved.connect(self._on_moved)
        self._player.changed.connect(self._refresh)
        session.messages.told.connect(self._on_message)

    # What is asked ---------------------------------------------------------------------------

    @property
    def number(self) -> int:
        """Number of the step on show, 1 for the first; 0 when there is none."""
        ids = [shot.id for shot in self._session.routine.shots]
        return ids.index(self._session.shown_shot) + 1 if self._session.shown_shot in ids else 0

    @property
    def asked(self) -> Asked:
        """What has been done about the step on show."""
        session, shot = self._session, self._session.shot
        if shot is None:
            return Asked(())
        order, known = shuffled_lanes(session.routine, shot), self._steps.get(shot.id)
        if known is None or known.order != order:
            known = self._steps[shot.id] = Asked(order)
        return known

    def play(self, card: int) -> None:
        """Play the lane of a card (from 0) from the strike on."""
        asked, session, player = self.asked, self._session, self._player
        if not 0 <= card < len(asked.order):
            return
        self._message = ""
        if session.shot_answer is None:
            # The engine is still being loaded; the player says so, and no card counts as seen.
            player.open()
            return
        asked.begin(card)
        player.close()
        session.point_at_lane(asked.order[card])
        if not player.open():
            asked.finish()
        elif player.replay is not None:
            self._trails[card] = trail_of(player.replay, str(card + 1), lane_pattern(card))
            player.play()
        self._refresh()

    def play_next(self) -> None:
        """Play the next card in order; after the last of them tell the answer."""
        asked, player = self.asked, self._player
        waiting = set(range(len(asked.order))) - asked.finished - {asked.current}
        if not waiting and not asked.is_done:
            player.pause()
            if player.replay is not None:
                player.go_to(player.replay.duration_s)
            asked.finish()
            self._refresh()
        else:
            self.play(asked.next)

    def play_again(self) -> None:
        """The lane on show once more."""
        if self.asked.current is not None:
            self.play(self.asked.current)

    def go(self, count: int) -> None:
        """To the next step (or with -1 the one before), its question first."""
        shots = self._session.routine.shots
        wanted = self.number - 1 + count
        if not 0 <= wanted < len(shots):
            return
        self._ask_anew()
        self._session.show_shot(shots[wanted].id)
        self._ask_anew()
        self._lay_out()

    def _ask_anew(self) -> None:
        self._player.close()
        self.asked.ask_anew()
        self._trails.clear()
        self._message, self._ends_lettered = "", None

    # Keys ------------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """All that the line at the bottom names; Ctrl with a digit plays that card."""
        key, asked = Qt.Key(event.key()), self.asked
        digit = event.text() if event.text().isdecimal() else ""
        if not digit:
            asked.forget_typing()
        if key in _STEPS:
            self.go(_STEPS[key])
        elif key in _EVENTS:
            if asked.current is not None:
                self._player.step(_EVENTS[key])
        elif Qt.Key.Key_0 <= key <= Qt.Key.Key_9 and (
            event.modifiers() & Qt.KeyboardModifier.ControlModifier
        ):
            self.play(int(key) - int(Qt.Key.Key_1))
        elif digit and not asked.is_done:
            asked.note(digit)
            self._refresh()
        elif key in self._deeds:
            self._deeds[key]()
        else:
            super().keyPressEvent(event)

    @property
    def _deeds(self) -> dict[Qt.Key, Callable[[], object]]:
        onward = dict.fromkeys(
            (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Down), self.play_next
        )
        return onward | {
            Qt.Key.Key_Escape: self.close,
            Qt.Key.Key_Backspace: self._take_back,
            Qt.Key.Key_R: self.play_again,
            Qt.Key.Key_H: self._hold,
            Qt.Key.Key_S: self._toggle_slow,
            Qt.Key.Key_W: self._toggle_whole,
            Qt.Key.Key_L: self._toggle_letters,
            Qt.Key.Key_C: self._toggle_coach,
        }

    def _take_back(self) -> None:
        self.asked.guess = None
        self._refresh()

    def _hold(self) -> None:
        if self._player.is_open:
            self._player.toggle()

    def _toggle_slow(self) -> None:
        self._player.set_speed(1.0 if self._player.speed < 1.0 else SLOW)

    def _toggle_whole(self) -> None:
        self._whole = not self._whole
        self._refresh()
        self._show_part()

    def _toggle_letters(self) -> None:
        self._ends_lettered = not self._letters_at_ends
        self._refresh()
        self._show_part()

    def _toggle_coach(self) -> None:
        if self.coach.isVisible():
            self.coach.hide()
        else:
            self.screens.look_for_coach()
            self.place()

    # Screens ---------------------------------------------------------------------------------

    def begin(self) -> None:
        """Fill the pupils' screen; on another one the coach has a window of his own."""
        self.place()
        self.activateWindow()
        self.setFocus()

    def place(self) -> None:
        """Put both windows where they belong now; the coach's never on the pupils' screen."""
        if self.screens.coach is None:
            self.coach.hide()
        fill(self.screens.pupils, self)
        if self.screens.coach is not None:
            self.coach.show_screens()
            put_beside(self.screens.coach, self.coach)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Leave the routine as it was found."""
        self.screens.close()
        self.coach.close()
        self.coach.deleteLater()
        self._player.close()
        self._player.set_speed(self._before[0])
        self._player.set_stops_at_contact(self._before[1])
        self.left.emit()
        super().closeEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Everything as large as the screen allows."""
        self._lay_out()
        super().resizeEvent(event)

    # Layout ----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        """Share the room out: the same for a step whatever is shown of its answer."""
        high, shot = max(self.height(), 300), self._session.shot
        edge, air = round(high * EDGE), round(high * AIR)
        wide = self.width() - 2 * edge
        for label in (self.title, self.step, self.keys):
            label.setFont(letters(self.font(), high * SMALL))
        self.verdict.setFont(letters(self.font(), high * VERDICT, bold=True))
        line = self.title.fontMetrics().lineSpacing()
        asked_high = self.question.height_for(*self._texts(shot), wide, high) if shot else 0
        verdict_high = round(self.verdict.fontMetrics().lineSpacing() * 1.3)
        half = wide // 2
        self.title.setGeometry(edge, air, half, line)
        self.step.setGeometry(edge + half, air, wide - half, line)
        self.step.setAlignment(Qt.AlignmentFlag.AlignRight)
        top = 2 * air + line
        self.question.setGeometry(edge, top, wide, asked_high)
        keys_top = high - air - line
        verdict_top = keys_top - air // 2 - verdict_high
        self.verdict.setGeometry(edge, verdict_top, wide, verdict_high)
        self.keys.setGeometry(edge, keys_top, wide, line)
        middle = QRect(edge, top + asked_high + air, wide, 0)
        middle.setBottom(verdict_top - air)
        many = len(self.asked.order) > IN_COLUMN
        cards_wide = round(high * CARDS * (1.5 if many else 1.0))
        self.table.setGeometry(middle.adjusted(0, 0, -(cards_wide + edge), 0))
        self.cards.setGeometry(middle.adjusted(middle.width() - cards_wide, 0, 0, 0))
        self._refresh()
        self.cards.place(high)
        self._show_part()

    def _show_part(self) -> None:
        """The part of the table the question is about, or all of it."""
        session, shot, turned = self._session, self._session.shot, self._session.view.turned
        font = letters(self.font(), self.height() * ON_TABLE, bold=True)
        wide, high = max(self.table.width(), 1), max(self.table.height(), 1)
        size = (high, wide) if turned else (wide, high)
        ends_px = font.pixelSize() if self._letters_at_ends else 0.0
        part = whole(session.routine, size, ends_px)
        if shot is not None and not self._whole:
            found = session.shot_answer
            part = crop(session.routine, shot, found, size, self.height(), ends_px)
        self.table.show_part(part, font)

    # What is shown ---------------------------------------------------------------------------

    @property
    def _letters_at_ends(self) -> bool:
        shot = self._session.shot
        if self._ends_lettered is None:
            return shot is not None and names_ends(shot)
        return self._ends_lettered

    def _on_moved(self) -> None:
        """A lane is seen when its replay has come to its end, by itself or step by step."""
        if self._player.is_at_end:
            self.asked.finish()
            self._refresh()

    def _on_changed(self) -> None:
        """The routine was changed in its own window: what was seen is of another one."""
        self._ask_anew()
        self._lay_out()

    def _on_message(self, message: Message) -> None:
        self._message = message.what
        self._refresh()

    def _refresh(self) -> None:
        session, shot, asked = self._session, self._session.shot, self.asked
        count = len(session.routine.shots)
        self.title.setText(shortened(session.routine.title or tr("Routine")))
        self.step.setText(tr("step {number} of {count}", number=self.number, count=count))
        if shot is not None:
            text, answer = self._texts(shot)
            shown = answer if asked.is_done else ""
            self.question.ask(text, shown, self.question.width(), self.height())
        self.table.show_layers(replace(QUESTION_LAYERS, rim_letters=self._letters_at_ends))
        self.cards.show_faces(faces(session, asked))
        self.table.show_trails(*trails_now(session, asked, self._trails))
        by_letter = self._letters_at_ends
        self.verdict.setText(self._message or told(session, asked, by_letter=by_letter))
        fit(self.verdict, self.height() * VERDICT, self.height() * SMALL,
            self.verdict.width(), self.verdict.height())  # fmt: skip
        slow = self._player.speed < 1.0
        self.keys.setText(key_line(len(asked.order), slow=slow, whole=self._whole))
        for line in (self.title, self.keys):
            fit_line(line, self.height() * SMALL, line.width())
        self.coach.show_step(asked.order, asked.guess, self.step.text())

    def _texts(self, shot: Shot) -> tuple[str, str]:
        """What is asked, and what the coach answers; never the note, which is the coach's."""
        return question_of(self._session, shot), shot.answer
