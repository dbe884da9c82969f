"""The search for garbage, in the thread of the windows alone.

Python begins it in whichever thread has just made an object. Begun in a worker's thread, it takes
apart windows that refer to themselves while the window system still serves their timers.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

#: Looked this often whether there is enough to search through, ms.
_EVERY_MS = 500


class GarbageSearch(QObject):
    """Takes the search over from Python for as long as it lives."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        if gc.isenabled():
            gc.disable()
            self.destroyed.connect(gc.enable)
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.look)
        self._timer.start(_EVERY_MS)

    def look(self) -> None:
        """Search as far as Python would by now."""
        due = [at for at, count in enumerate(gc.get_count()) if count > gc.get_threshold()[at] > 0]
        if due:
            gc.collect(due[-1])
