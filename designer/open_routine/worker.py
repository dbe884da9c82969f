"""Work on threads of its own, heard of in the window's thread."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor

from PySide6.QtCore import QObject

from designer.open_routine.messenger import Messenger
from designer.open_routine.unforeseen import unforeseen
from designer.texts import tr
from engine.errors import BaizewrightError

#: Of which key work was, what it found, and the error it ended with.
Hear = Callable[[str, object, Exception | None], None]


class Worker(QObject):
    """Does one piece of work of each key at a time; `hear`, a method of the parent, is told.

    Always later, even of work that has ended at once: whoever starts work may count on its
    running, and finish what is shown of that. With `aside=False` it is all done in `start`, and
    an error nobody foresaw comes out of it.
    """

    def __init__(
        self, parent: QObject, hear: Hear, threads: int = 1, *, aside: bool = True
    ) -> None:
        super().__init__(parent)
        self._hear, self._threads, self.aside = hear, threads, aside
        self._pool: ThreadPoolExecutor | None = None
        self._busy: set[str] = set()
        self._closings = 0
        self._news = Messenger(self._on_done)

    def busy(self, key: str = "") -> bool:
        """Whether work of that key is under way."""
        return key in self._busy

    def start(self, work: Callable[[], object], key: str = "") -> bool:
        """Begin; False while other work of that key is under way."""
        if self.busy(key):
            return False
        self._busy.add(key)
        news, began = self._news, self._closings
        if not self.aside:
            try:
                found, error = work(), None
            except BaizewrightError as fault:
                found, error = None, fault
            self._on_done(began, key, found, error)
            return True

        def ended(done: Future) -> None:
            if not done.cancelled():
                fault = done.exception()
                news.tell(began, key, None if fault else done.result(), fault)

        if self._pool is None:
            self._pool = ThreadPoolExecutor(self._threads, type(self.parent()).__name__)
        self._pool.submit(work).add_done_callback(ended)
        return True

    def close(self) -> None:
        """Stop; what is under way ends by itself, and nobody waits for it or hears of it."""
        self._closings += 1
        self._busy.clear()
        if self._pool is not None:
            self._pool.shutdown(wait=False, cancel_futures=True)
            self._pool = None

    def _on_done(self, began: int, key: str, found: object, error: Exception | None) -> None:
        if began == self._closings:
            self._busy.discard(key)
            self._hear(key, found, error)


def failure_told(error: Exception) -> str:
    """The words for an error that work ended with; one nobody foresaw is noted as well."""
    if isinstance(error, BaizewrightError):
        return str(error)
    unforeseen(error)
    return tr("The engine failed ({fault}: {error}).", fault=type(error).__name__, error=error)
