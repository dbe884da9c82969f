"""One long piece of work on a thread of its own: with progress, and it can be called off."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor

from PySide6.QtCore import QObject, Signal

from designer.open_routine.messenger import Messenger
from designer.open_routine.unforeseen import unforeseen
from designer.texts import tr
from engine.errors import BaizewrightError

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
        self._pool: ThreadPoolExecutor | None = None
        self._stop = False
        self.running = False
        self.called_off = False
        # Always later, even where quick work has ended before `start` could ask to hear of it:
        # whoever starts work may count on its running, and finish what it shows of that.
        self._end, self._way = Messenger(self._on_done), Messenger(self._on_way)

    def start(self, work: Callable[[Progress], object]) -> bool:
        """Begin; False while other work is under way."""
        if self.running:
            return False
        self.running, self._stop, self.called_off = True, False, False
        if self._pool is None:
            self._pool = ThreadPoolExecutor(1, thread_name_prefix="task")

        end, way = self._end, self._way

        def ended(done: Future) -> None:
            if not done.cancelled():
                error = done.exception()
                end.tell(None if error else done.result(), error)

        def tell(share: float) -> bool:
            way.tell(share)
            return not self._stop

        self._pool.submit(work, tell).add_done_callback(ended)
        return True

    def call_off(self) -> None:
        """Ask the work to stop soon."""
        self._stop = self.called_off = True

    def close(self) -> None:
        """Stop; nobody hears of the work any more."""
        self._stop = True
        if self._pool is not None:
            self._pool.shutdown(wait=False, cancel_futures=True)
            self._pool = None

    def _on_way(self, share: float) -> None:
        self.progressed.emit(share)

    def _on_done(self, found: object, error: Exception | None) -> None:
        self.running = False
        if error is None:
            self.finished.emit(found)
        elif isinstance(error, BaizewrightError):
            self.failed.emit(str(error))
        else:
            unforeseen(error)
            self.failed.emit(
                tr(
                    "The engine failed ({fault}: {error}).",
                    fault=type(error).__name__,
                    error=error,
                )
            )
