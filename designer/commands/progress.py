"""How far a long piece of work has come, on the error stream."""

from __future__ import annotations

import sys
import time

#: Shorter work is done before anyone would read about it.
_LEAST_S = 1.0
_EVERY_S = 0.3


class Told:
    """Writes "3 of 40 routines" now and then; over itself where a person is watching.

    Counted in "%", it writes "34 %".
    """

    def __init__(self, doing: str, counted: str = "routines") -> None:
        self.doing, self.counted = doing, counted
        self.began = self.last = time.monotonic()
        self.watched = sys.stderr.isatty()
        self.written = 0

    def __call__(self, done: int, wanted: int) -> bool:
        """Tell how far the work is; never asks to stop."""
        now = time.monotonic()
        due = now - self.began > _LEAST_S and now - self.last > _EVERY_S
        if not self.watched or wanted < 2:
            return True
        if done < wanted and due:
            self.last = now
            share = f"{done} %" if self.counted == "%" else f"{done} of {wanted} {self.counted}"
            self._write(f"{self.doing}: {share}")
        elif done >= wanted and self.written:
            self._write("")
        return True

    def _write(self, line: str) -> None:
        sys.stderr.write("\r" + line.ljust(self.written) + ("" if line else "\r"))
        sys.stderr.flush()
        self.written = len(line)
