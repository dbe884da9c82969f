"""What is found wrong with one file: the first faults to be told, the rest counted."""

from __future__ import annotations

from collections.abc import Callable

from engine.errors import MOST_TOLD, Fault, RoutineFileError
from engine.storage.paths import Places


class Findings:
    """The faults of one file in the order they are found.

    However many there are, each costs the same: only those that will be told are put into words
    and their places remembered.
    """

    def __init__(self, name: str) -> None:
        self.name = name
        self.places = Places()
        self._faults: list[Fault] = []
        self._more = 0

    def add(self, path: str, message: str | Callable[[], str]) -> None:
        """Note one fault; a message that takes work can be handed in as a function."""
        if len(self._faults) >= MOST_TOLD:
            self._more += 1
            return
        self.places.add(path)
        self._faults.append(Fault(path, message if isinstance(message, str) else message()))

    @property
    def count(self) -> int:
        """How many there are so far."""
        return len(self._faults) + self._more

    @property
    def all_told(self) -> bool:
        """Whether every fault so far will be told, so that it is worth looking for more."""
        return not self._more

    def hold(self) -> None:
        """Raise `RoutineFileError` if anything was found."""
        if self._faults:
            raise RoutineFileError(self.name, self._faults, self._more)
