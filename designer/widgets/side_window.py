"""What the windows beside the table have in common: each fits the screen, asks before it goes."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QCloseEvent, QGuiApplication, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QProgressBar, QPushButton, QWidget

from designer.files.folders_and_files import FolderAsker
from designer.files.library_settings import LibrarySettings
from designer.open_routine import OpenRoutine, Settings
from designer.open_routine.task import Progress, Task
from designer.texts import tr
from designer.widgets.file_links import FileLinks
from designer.widgets.follower import Follower
from designer.widgets.plain_label import PlainLabel
from designer.widgets.style_sheet import wear
from designer.widgets.text_fields import commit_typing

#: What a window's frame takes of the screen, px.
FRAME = QSize(8, 36)


class SideWindow(QDialog):
    """A window beside the table, gone when it is closed; it opens over the middle of its own."""

    def __init__(
        self,
        title: str,
        parent: QWidget | None = None,
        kind: Qt.WindowType = Qt.WindowType.Dialog,
    ) -> None:
        super().__init__(parent, kind)
        self.setWindowTitle(title)
        self.setModal(False)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        #: The window it opens over.
        self.over = parent.window() if parent is not None else None
        self._placed = False

    def may_leave(self) -> bool:
        """Whether the window may go: nothing is lost by it, or the coach lets it go."""
        commit_typing(self)
        return True

    def keep(self) -> None:
        """Keep apart what is not saved, now; nothing to do where all is saved at once."""

    def close_down(self) -> None:
        """Stop what is under way, for good."""

    def let_go(self) -> None:
        """Close without asking."""
        self.close_down()
        super().reject()

    def reject(self) -> None:
        """Close, by whatever way, unless something would be lost."""
        if self.may_leave():
            self.let_go()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask as well when it is not to be seen, where Qt would just let it go."""
        event.setAccepted(self.may_leave())
        if event.isAccepted():
            self.let_go()

    def showEvent(self, event: QShowEvent) -> None:
        """Put the sheet on the first time, when all parts are there, and find a place."""
        # Enter hands a field over; it must not press whatever button comes first.
        for button in self.findChildren(QPushButton):
            button.setAutoDefault(button.isDefault())
        wear(self)
        if not self._placed:
            self._placed = True
            place(self, self.over)
        super().showEvent(event)


class RoutineWindow(Follower, SideWindow):
    """A window that follows the open routine; `refresh` shows the session as it is."""

    LAG_MS = 120

    def __init__(self, session: OpenRoutine, title: str, parent: QWidget | None = None) -> None:
        super().__init__(title, parent)
        self.follow(
            session, (session.changed, session.answered, session.pointed, session.view_changed)
        )


class OwnWindow(SideWindow):
    """A window that may lie beneath the table's; in its `foot` `note` tells what happened last."""

    def __init__(self, settings: Settings, title: str) -> None:
        super().__init__(title, None, Qt.WindowType.Window)
        self.settings, self.keeping = settings, LibrarySettings(settings)
        self.asker = FolderAsker(self)
        self.note = PlainLabel(name=tr("Message"))
        self.links = FileLinks()
        self.links.failed.connect(self.tell)
        self.foot = QHBoxLayout()
        self.foot.addWidget(self.note, 1)
        self.foot.addWidget(self.links)

    def tell(self, words: str, file: Path | None = None) -> None:
        """Say what happened, in place of what was said before, and offer the file made by it."""
        self.note.setText(words)
        self.links.show_file(file)


def place(window: QWidget, over: QWidget | None) -> None:
    """Put a window over the middle of another, or of the screen, all of it on the screen."""
    screen = over.screen() if over is not None else QGuiApplication.primaryScreen()
    room = screen.availableGeometry()
    window.resize(window.size().boundedTo(room.size() - FRAME))
    whole = QRect(room.topLeft(), window.size() + FRAME)
    whole.moveCenter(over.frameGeometry().center() if over is not None else room.center())
    window.move(
        max(min(whole.left(), room.right() + 1 - whole.width()), room.left()),
        max(min(whole.top(), room.bottom() + 1 - whole.height()), room.top()),
    )


class WorkBar(QWidget):
    """A button that begins long work, its progress, and a button that calls it off.

    While it is under way Escape does not close the window over it: `kept` brings the words that
    say so. Work that goes on by itself at another time is not `kept_from_escape`; work that can
    neither be called off nor tell how far it is is not `stoppable`.
    """

    begun = Signal()
    kept = Signal(str)

    def __init__(
        self, text: str, name: str, *, kept_from_escape: bool = True, stoppable: bool = True
    ) -> None:
        super().__init__()
        self.task = Task(self)
        self._kept, self._stoppable = kept_from_escape, stoppable
        self._escape: QShortcut | None = None
        self.begin = QPushButton(text)
        self.begin.setAutoDefault(False)
        self.cancel = QPushButton(tr("Cancel"))
        self.cancel.setAutoDefault(False)
        self.bar = QProgressBar()
        self.bar.setRange(0, 100 if stoppable else 0)
        self.bar.setAccessibleName(tr("Progress: {name}", name=name))
        # An idle bar looks like a field. Their room is kept, so that nothing moves.
        for part in (self.bar, self.cancel):
            policy = part.sizePolicy()
            policy.setRetainSizeWhenHidden(True)
            part.setSizePolicy(policy)
        self._show_work(False)
        self.begin.clicked.connect(self.begun)
        self.cancel.clicked.connect(self._on_cancel)
        self.task.progressed.connect(lambda share: self.bar.setValue(round(100 * share)))
        self.task.finished.connect(self._on_end)
        self.task.failed.connect(self._on_end)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.begin)
        row.addWidget(self.bar, 1)
        row.addWidget(self.cancel)

    def start(self, work: object) -> None:
        """Begin the work (a function of a progress callback)."""
        assert callable(work)

        def run(progress: Progress) -> object:
            return work(progress)

        if self.task.start(run):
            self.bar.setValue(0)
            self._show_work(True)
            self._hold_escape()

    def close_down(self) -> None:
        """Stop; nobody hears of the work any more."""
        self.task.close()
        self._show_work(False)

    def _show_work(self, under_way: bool) -> None:
        self.bar.setVisible(under_way)
        self.cancel.setVisible(under_way and self._stoppable)
        self.cancel.setEnabled(under_way)
        self.begin.setEnabled(not under_way)

    def _hold_escape(self) -> None:
        """Take the key before the window does, wherever the bar is in it."""
        if not self._kept:
            return
        if self._escape is None:
            self._escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self.window())
            self._escape.activated.connect(self._on_escape)
        self._escape.setEnabled(True)

    def _on_escape(self) -> None:
        if self._stoppable:
            self.kept.emit(tr("Still at work: Cancel stops it, Escape does not."))
        else:
            self.kept.emit(tr("Still at work: a moment, please."))

    def _on_cancel(self) -> None:
        self.cancel.setEnabled(False)
        self.task.call_off()

    def _on_end(self, _found: object) -> None:
        if self._escape is not None:
            self._escape.setEnabled(False)
        self.bar.setValue(0 if self.task.called_off else self.bar.maximum())
        self._show_work(False)


class WorkingWindow(RoutineWindow):
    """A window beside the table with one long piece of work in it, ended when it is closed."""

    work: WorkBar

    def close_down(self) -> None:
        """Stop the work with the window."""
        self.work.close_down()
