"""What all panels have in common: they follow the session."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from designer.open_routine import OpenRoutine
from designer.widgets.follower import Follower


class Panel(Follower, QWidget):
    """A panel shows the session in `refresh`; what is pointed at is shown at once."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.follow(session, (session.changed,), (session.pointed, session.view_changed))
