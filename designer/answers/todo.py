"""The list of what is wrong: every entry leads to the balls, the shot or the gap it is about."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QLabel, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from designer.open_routine import OpenRoutine
from designer.open_routine.todo import Todo, todo_of
from designer.texts import mark, tr
from designer.widgets.panel import Panel

#: The count follows when changes have rested for this long, ms.
TALLY_MS = 150
NOTHING = mark("Nothing to fix: no overlaps, every pot is on, every claim holds.")


class TodoPanel(Panel):
    """Click an entry, or press Return on it, to go there; `went` tells the window where."""

    went = Signal(object)
    #: How much there is to fix, and whether more may be found yet.
    counted = Signal(int, bool)

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.state = QLabel()
        self.state.setWordWrap(True)
        self.state.setAccessibleName(tr("State of the routine"))
        self.list = QListWidget()
        self.list.setWordWrap(True)
        self.list.setAlternatingRowColors(True)
        self.list.setAccessibleName(tr("What to fix"))
        self.list.itemClicked.connect(self._on_chosen)
        self.list.itemActivated.connect(self._on_chosen)
        layout = QVBoxLayout(self)
        layout.addWidget(self.state)
        layout.addWidget(self.list, 1)
        session.answered.connect(self.refresh_soon)
        self.found: tuple[Todo, ...] = ()
        # The count is shown elsewhere, so it is kept while the list is hidden.
        self._tally = QTimer(self)
        self._tally.setSingleShot(True)
        self._tally.setInterval(TALLY_MS)
        self._tally.timeout.connect(self._count)
        for signal in (session.answered, session.changed):
            signal.connect(lambda *_: self._tally.start())

    def _count(self) -> None:
        """Look what there is to fix, as far as it is known; true while more may be found."""
        session = self.session
        self.found = todo_of(session.wording, session.answer)
        self.waiting = not session.answer_is_full and bool(session.routine.shots)
        self.counted.emit(len(self.found), self.waiting)

    def refresh(self) -> None:
        """List what there is to fix."""
        self._count()
        words = tr("{count} to fix:", count=len(self.found)) if self.found else tr(NOTHING)
        if self.waiting:
            words = tr(
                "{count} so far; shots and claims are being checked …", count=len(self.found)
            )
        self.state.setText(words)
        row = self.list.currentRow()
        self.list.clear()
        for todo in self.found:
            item = QListWidgetItem(todo.words)
            item.setData(Qt.ItemDataRole.UserRole, todo)
            self.list.addItem(item)
        if 0 <= row < self.list.count():
            self.list.setCurrentRow(row)

    def _on_chosen(self, item: QListWidgetItem) -> None:
        self.go_to(item.data(Qt.ItemDataRole.UserRole))

    def go_to(self, todo: Todo) -> None:
        """Show the shot, select the balls and the lane, and have the window show the rest."""
        session = self.session
        ids = {ball.id for ball in session.routine.balls}
        if todo.shot and any(shot.id == todo.shot for shot in session.routine.shots):
            session.show_shot(todo.shot)
        if todo.lane:
            session.point_at_lane(todo.lane)
        balls = [ball for ball in todo.balls if ball in ids]
        if balls:
            session.choose_balls(balls)
        self.went.emit(todo)
