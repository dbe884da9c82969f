"""One question of the lesson: its cards in shuffled order, the guess, what has been played."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from engine.routine.values import Shot


def names_ends(shot: Shot) -> bool:
    """Whether the question speaks of the lanes by letter: then their ends are lettered.

    >>> from engine.routine.values import LaneAsk
    >>> lanes = (LaneAsk("A"), LaneAsk("B"))
    >>> [names_ends(Shot("1", lanes=lanes, question=q)) for q in ("A: soft?", "A or B?")]
    [False, True]
    """
    words = set(re.findall(r"\w+", shot.question))
    return len(words & {lane.label for lane in shot.lanes}) > 1


@dataclass(slots=True)
class Asked:
    """What has been done about one question. Cards count from 0, shown as 1, 2, 3.

    `current` is the card played last. A card is `finished` once its lane has been seen to its end
    or the next one was asked for.
    """

    order: tuple[str, ...]
    guess: int | None = None
    current: int | None = None
    finished: set[int] = field(default_factory=set)
    _typed: str = ""

    @property
    def is_done(self) -> bool:
        """Whether every lane has been seen: then the answer may be told.

        Without cards it may be told once it was asked for.
        """
        return bool(self.finished) and len(self.finished) >= len(self.order)

    @property
    def next(self) -> int:
        """The card that comes next: the first not yet played, from the first again when done."""
        waiting = (i for i in range(len(self.order)) if i not in self.finished)
        return next((i for i in waiting if i != self.current or self.is_done), 0)

    def note(self, digit: str) -> None:
        """Note the guess by a digit; the same again takes it back.

        With ten cards or more a second digit goes with the first: 1, then 2 is card 12.
        """
        both = self._typed + digit
        number = int(both) if 0 < int(both) <= len(self.order) else int(digit)
        self._typed = str(number) if len(self.order) > 9 else ""
        if not 0 < number <= len(self.order):
            return
        same = self.guess == number - 1
        self.guess = None if same else number - 1

    def forget_typing(self) -> None:
        """The next digit begins a new number."""
        self._typed = ""

    def begin(self, card: int) -> None:
        """A card is played now; the one before counts as seen."""
        self.finish()
        self.current = card

    def finish(self) -> None:
        """The lane of the current card has been seen, or the answer without any asked for."""
        if self.current is not None or not self.order:
            self.finished.add(self.current or 0)

    def ask_anew(self) -> None:
        """As at first, but for the guess."""
        self.current = None
        self.finished.clear()
