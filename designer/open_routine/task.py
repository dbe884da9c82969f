"""One long piece of work on a thread of its own: with progress, and it can be called off."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from designer.open_routine.messenger import Messenger
from designer.open_routine.worker import Worker, failure_told

#: Told the share done; False asks the work to stop.
Progress = Callable[[float], bool]


class Task(QObject):
    """Runs one piece of work at a time; `finished` brings its result, `failed` the words why not.

    Work that was called off still finishes, with what it found until then.
    """

    progressed = Signal(float)
    finished = Signal(object)
    failed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._stop = self.called_off = False
        self._worker, self._way = Worker(self, self._on_done), Messenger(self._on_way)

    @property
    def running(self) -> bool:
        """Whether work is under way."""
        return self._worker.busy()

    def start(self, work: Callable[[Progress], object]) -> bool:
        """Begin; False while other work is under way."""
        if self.running:
            return False
        self._stop = self.called_off = False
        way = self._way

        def tell(share: float) -> bool:
            way.tell(share)
            return not self._stop

        return self._worker.start(lambda: work(tell))

    def call_off(self) -> None:
        """Ask the work to stop soon."""
        self._stop = self.called_off = True

    def close(self) -> None:
        """Stop; nobody hears of the work any more."""
        self._stop = True
        self._worker.close()

    def _on_way(self, share: float) -> None:
        self.progressed.emit(share)

    def _on_done(self, _key: str, found: object, error: Exception | None) -> None:
        if error is None:
            self.finished.emit(found)
        else:
            self.failed.emit(failure_told(error))
