"""How far compiling has come, told on the error stream."""

from __future__ import annotations

import sys

WORDS = "  compiling the shot engine: {share:.0%}, {seconds:.0f} s"
#: The shares told where no one watches a terminal.
STEPS = (0.0, 0.25, 0.5, 0.75, 1.0)


class Line:
    """Tells the share done and the seconds: over itself on a terminal, else in a few lines."""

    def __init__(self) -> None:
        self.stream = sys.stderr
        self.told = 0

    def __call__(self, share: float, seconds: float) -> None:
        """Tell it where it is due; a program without a terminal may have nowhere to tell it."""
        words = WORDS.format(share=share, seconds=seconds)
        if self.stream is None:
            return
        if self.stream.isatty():
            self._write(f"\r{words}" + ("\n" if share >= 1.0 else ""))
        elif self.told < len(STEPS) and share >= STEPS[self.told]:
            self.told = sum(share >= step for step in STEPS)
            self._write(f"{words}\n")

    def _write(self, text: str) -> None:
        self.stream.write(text)
        self.stream.flush()
