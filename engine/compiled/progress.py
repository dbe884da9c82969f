"""How far compiling has come, on the error stream."""

from __future__ import annotations

import sys

WORDS = "  compiling: {share:.0%}, {seconds:.0f} s"
#: The shares told where no one watches a terminal.
STEPS = (0.25, 0.5, 0.75)


class Line:
    """Tells the share done and the seconds: over itself on a terminal, else in a few lines."""

    def __init__(self) -> None:
        self.stream = sys.stderr
        self.watched = self.stream.isatty()
        self.told = 0

    def __call__(self, share: float, seconds: float) -> None:
        """Tell it, where it is due."""
        words = WORDS.format(share=share, seconds=seconds)
        if self.watched:
            end = "\n" if share >= 1.0 else ""
            self.stream.write(f"\r{words}{end}")
        elif self.told < len(STEPS) and share >= STEPS[self.told]:
            self.told = sum(share >= step for step in STEPS)
            self.stream.write(f"{words}\n")
        self.stream.flush()
