"""What shows the open routine: it follows every change, but not more often than the eye can."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, SignalInstance
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from designer.open_routine import OpenRoutine

if TYPE_CHECKING:
    _Part = QWidget
else:
    _Part = object


class Follower(_Part):
    """Stands before a kind of widget: `refresh` shows the session; while hidden it waits."""

    #: Brought up to date this long after a change, and while something is moved by hand, ms: the
    #: eye is on the table then.
    LAG_MS, HAND_LAG_MS = 60, 400
    session: OpenRoutine
    #: Set while `refresh` fills in fields, so that none of them takes it for typing.
    filling = False

    def follow(
        self,
        session: OpenRoutine,
        soon: Iterable[SignalInstance],
        now: Iterable[SignalInstance] = (),
    ) -> None:
        """Follow the session by these signals, after a short lag or at once."""
        self.session = session
        self._stale = True
        self._lag = QTimer(self)
        self._lag.setSingleShot(True)
        self._lag.setInterval(self.LAG_MS)
        self._lag.timeout.connect(self.catch_up)
        for signal in soon:
            signal.connect(self.refresh_soon)
        for signal in now:
            signal.connect(self.catch_up_now)

    def refresh(self) -> None:
        """Show the session as it is now."""
        raise NotImplementedError

    def refresh_soon(self, *_: object) -> None:
        """Refresh after a short lag, once for all changes until then."""
        self._stale = True
        if self.isVisible() and not self._lag.isActive():
            self._lag.start(self.HAND_LAG_MS if self.session.in_hand else self.LAG_MS)

    def catch_up_now(self, *_: object) -> None:
        """Refresh at once if it is to be seen."""
        self._stale = True
        if self.isVisible():
            self.catch_up()

    def catch_up(self) -> None:
        """Refresh now."""
        self._lag.stop()
        self._stale = False
        self.filling = True
        try:
            self.refresh()
        finally:
            self.filling = False

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what happened while hidden."""
        if self._stale:
            self.catch_up()
        super().showEvent(event)
