"""The coach's own window while pupils look at another screen: the answers, the note, the screen."""

from __future__ import annotations

from collections.abc import Callable
from html import escape

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFormLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from designer.lesson.question import question_of
from designer.lesson.screens import LessonScreens, name_of
from designer.open_routine import OpenRoutine
from designer.texts import tr
from designer.widgets.fields import ChoiceField
from designer.widgets.style_sheet import wear
from designer.words.lesson import card_told, lesson_verdict

#: Takes the keys that steer the lesson from here.
Press = Callable[[QKeyEvent], None]


class CoachWindow(QWidget):
    """Follows the lesson; shows what no pupil may see. Keys steer the lesson from here too."""

    def __init__(
        self,
        session: OpenRoutine,
        screens: LessonScreens,
        press: Press,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle(tr("For the coach alone"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._session, self._screens, self._press = session, screens, press
        self.told = QLabel()
        self.told.setWordWrap(True)
        self.told.setMargin(8)
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.told.setTextFormat(Qt.TextFormat.RichText)
        self.told.setAccessibleName(tr("Answers"))
        area = QScrollArea()
        area.setWidget(self.told)
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.choice = ChoiceField()
        self.choice.setAccessibleName(tr("Screen that pupils see"))
        self.choice.activated.connect(self._on_chosen)
        form = QFormLayout()
        form.addRow(tr("Screen that pupils see"), self.choice)
        layout = QVBoxLayout(self)
        layout.addWidget(area, 1)
        layout.addLayout(form)
        wear(self)

    def sizeHint(self) -> QSize:
        """A small window."""
        return QSize(560, 680)

    def show_step(self, order: tuple[str, ...], guess: int | None, step: str) -> None:
        """Show what belongs to a step: its cards' lanes, the answer, the note."""
        session, shot, found = self._session, self._session.shot, self._session.shot_answer
        question = question_of(session, shot) if shot is not None else ""
        parts = [f"<p>{escape(step)}</p><p><b>{escape(question)}</b></p>"]
        lanes = {lane.label: lane for lane in (found.lanes if found is not None else ())}
        for number, label in enumerate(order, start=1):
            lane = lanes.get(label)
            if found is None or lane is None:
                continue
            told = card_told(session.wording, found, lane, number)
            parts.append(f"<p>{escape(told)} ({escape(tr('lane {lane}', lane=label))})</p>")
        if guess is not None:
            parts.append(f"<p>{escape(tr('Guess: card {number}', number=guess + 1))}</p>")
        if found is not None:
            parts.append(f"<p><b>{escape(lesson_verdict(session.wording, found, order))}</b></p>")
        for head, text in (
            (tr("Answer"), shot.answer if shot is not None else ""),
            (tr("Coach’s note"), shot.note if shot is not None else ""),
        ):
            if text:
                parts.append(f"<p><b>{escape(head)}</b><br>{escape(text)}</p>")
        self.told.setText("".join(parts))

    def show_screens(self) -> None:
        """List the screens there are."""
        self.choice.clear()
        for screen in self._screens.there:
            self.choice.addItem(name_of(screen))
        self.choice.setCurrentIndex(self._screens.there.index(self._screens.pupils))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Steer the lesson."""
        self._press(event)

    def _on_chosen(self, index: int) -> None:
        self.setFocus()
        self._screens.choose(self._screens.there[index])
