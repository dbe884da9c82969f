"""What all panels have in common: they follow the session, but not more often than the eye can."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from designer.open_routine import OpenRoutine

#: Panels are brought up to date this long after a change, so that a drag stays smooth, ms.
LAG_MS = 60


class Panel(QWidget):
    """A panel shows the session in `refresh`; while hidden it waits until it is shown."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        #: Set while `refresh` fills in fields, so that none of them takes it for typing.
        self.filling = False
        self._stale = True
        self._lag = QTimer(self)
        self._lag.setSingleShot(True)
        self._lag.setInterval(LAG_MS)
        self._lag.timeout.connect(self.catch_up)
        session.changed.connect(self.refresh_soon)
        session.pointed.connect(self.catch_up_now)
        session.view_changed.connect(self.catch_up_now)

    def refresh(self) -> None:
        """Show the session as it is now."""
        raise NotImplementedError

    def refresh_soon(self, *_: object) -> None:
        """Refresh after a short lag, once for all changes until then."""
        self._stale = True
        if self.isVisible() and not self._lag.isActive():
            self._lag.start()

    def catch_up_now(self, *_: object) -> None:
        """Refresh at once if the panel is to be seen."""
        self._stale = True
        if self.isVisible():
            self.catch_up()

    def catch_up(self) -> None:
        """Refresh if anything changed since the last time."""
        self._lag.stop()
        if not self._stale:
            return
        self._stale = False
        self.filling = True
        try:
            self.refresh()
        finally:
            self.filling = False

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what happened while hidden."""
        self.catch_up()
        super().showEvent(event)
