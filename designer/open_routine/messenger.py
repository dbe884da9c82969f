"""News from a thread aside for a part of a window, which may be gone when it comes."""

from __future__ import annotations

from collections.abc import Callable
from weakref import WeakMethod

from PySide6.QtCore import QObject, Qt, Signal


class Messenger(QObject):
    """Brings news to a method of a window's part, always later and in the window's own thread.

    It has no parent and is kept by the work that tells: emitting a signal of the part itself while
    its window is being taken apart ends the program. News for a part that is gone is dropped.
    """

    _told = Signal(object)

    def __init__(self, hear: Callable[..., None]) -> None:
        """`hear` is a method of a `QObject`; what is told become its arguments."""
        super().__init__()
        self._told.connect(_Heard(hear).told, Qt.ConnectionType.QueuedConnection)

    def tell(self, *news: object) -> None:
        """Tell it, from any thread."""
        self._told.emit(news)


class _Heard(QObject):
    """Lives as long as the part does, whose child it is."""

    def __init__(self, hear: Callable[..., None]) -> None:
        super().__init__(hear.__self__)  # type: ignore[attr-defined]
        self._hear = WeakMethod(hear)

    def told(self, news: tuple[object, ...]) -> None:
        """Hand the news on."""
        hear = self._hear()
        if hear is not None:
            hear(*news)
