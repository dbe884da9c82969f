"""What the windows beside the table have in common: they follow the session and block nothing."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QProgressBar, QPushButton, QWidget

from designer.open_routine import OpenRoutine
from designer.open_routine.task import Progress, Task
from designer.texts import tr
from designer.widgets.text_fields import commit_typing

#: They are brought up to date this long after a change, ms.
LAG_MS = 120


class SideWindow(QDialog):
    """A window beside the table; `refresh` shows the session as it is."""

    def __init__(self, session: OpenRoutine, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.filling = False
        self.setWindowTitle(title)
        self.setModal(False)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._lag = QTimer(self)
        self._lag.setSingleShot(True)
        self._lag.setInterval(LAG_MS)
        self._lag.timeout.connect(self.catch_up)
        for signal in (session.changed, session.answered, session.pointed, session.view_changed):
            signal.connect(self.refresh_soon)

    def refresh(self) -> None:
        """Show the session as it is now."""
        raise NotImplementedError

    def refresh_soon(self, *_: object) -> None:
        """Refresh after a short lag, once for all changes until then."""
        if not self._lag.isActive():
            self._lag.start()

    def catch_up(self) -> None:
        """Refresh now."""
        self._lag.stop()
        self.filling = True
        try:
            self.refresh()
        finally:
            self.filling = False

    def may_leave(self) -> bool:
        """Whether the window may go: nothing is lost by it, or the coach lets it go."""
        commit_typing(self)
        return True

    def close_down(self) -> None:
        """Stop what is under way, for good."""

    def reject(self) -> None:
        """Close, by whatever way, unless something would be lost."""
        if self.may_leave():
            self.close_down()
            super().reject()

    def showEvent(self, event: QShowEvent) -> None:
        """Show what there is."""
        # Enter hands a field over; it must not press whatever button comes first.
        for button in self.findChildren(QPushButton):
            button.setAutoDefault(button.isDefault())
        self.catch_up()
        super().showEvent(event)


class WorkBar(QWidget):
    """A button that begins long work, its progress, and a button that calls it off.

    While it is under way Escape does not close the window over it: `kept` brings the words that
    say so. Work that goes on by itself at another time is not `kept_from_escape`.
    """

    begun = Signal()
    kept = Signal(str)

    def __init__(
        self, text: str, name: str, parent: QWidget | None = None, *, kept_from_escape: bool = True
    ) -> None:
        super().__init__(parent)
        self.task = Task(self)
        self._kept = kept_from_escape
        self._escape: QShortcut | None = None
        self.begin = QPushButton(text)
        self.begin.setAutoDefault(False)
        self.cancel = QPushButton(tr("Cancel"))
        self.cancel.setAutoDefault(False)
        self.cancel.setEnabled(False)
        self.bar = QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setAccessibleName(tr("Progress: {name}", name=name))
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
            self.begin.setEnabled(False)
            self.cancel.setEnabled(True)
            self.bar.setValue(0)
            self._hold_escape()

    def close_down(self) -> None:
        """Stop for good."""
        self.task.close()

    def _hold_escape(self) -> None:
        """Take the key before the window does, wherever the bar is in it."""
        if not self._kept:
            return
        if self._escape is None:
            self._escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self.window())
            self._escape.activated.connect(self._on_escape)
        self._escape.setEnabled(True)

    def _on_escape(self) -> None:
        if self.cancel.isHidden():
            self.kept.emit(tr("Still at work: a moment, please."))
        else:
            self.kept.emit(tr("Still at work: Cancel stops it, Escape does not."))

    def _on_cancel(self) -> None:
        self.cancel.setEnabled(False)
        self.task.call_off()

    def _on_end(self, _found: object) -> None:
        if self._escape is not None:
            self._escape.setEnabled(False)
        self.begin.setEnabled(True)
        self.cancel.setEnabled(False)
        self.bar.setValue(0 if self.task.called_off else 100)


class WorkingWindow(SideWindow):
    """A window beside the table with one long piece of work in it, ended when it is closed."""

    work: WorkBar

    def close_down(self) -> None:
        """Stop the work with the window."""
        self.work.close_down()
