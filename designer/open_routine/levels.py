"""The player levels chances are told for: the coach's own, kept for all routines."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from designer.open_routine.answering import Answering
from designer.texts import tr
from engine.errors import BaizewrightError
from engine.players import PLAYERS, Player

if TYPE_CHECKING:
    from engine.storage import WriteRules

#: As many as a players file holds.
MOST = 12


class Levels(QObject):
    """Levels from the weakest to the strongest; `changed` tells that there are others.

    They belong to the coach, not to the routine, so they are no step of the document. Changes
    that cannot be are refused with a message, and nothing changes.
    """

    changed = Signal()

    def __init__(self, session: Answering) -> None:
        super().__init__(session)
        self._session = session
        self.players: tuple[Player, ...] = PLAYERS

    @property
    def middle(self) -> Player:
        """The level whose most forgiving strike is looked for."""
        return self.players[len(self.players) // 2]

    def put(self, players: Iterable[Player]) -> bool:
        """Tell chances for these levels from now on; False when they cannot be."""
        players = tuple(players)
        if players == self.players:
            # The usual ones at the start: the first window need not load the readers of files.
            return True
        from engine.storage import dump_players, parse_players

        try:
            sound = parse_players(dump_players(players), tr("levels"))
        except BaizewrightError as error:
            self._session.messages.warn(tr("The player levels stay as they were."), str(error))
            return False
        if sound != self.players:
            self.players = sound
            self._session.predictions.players = sound
            self.changed.emit()
        return True

    def set_value(self, index: int, field: str, value: Any) -> bool:
        """Another name or another standard error for one level."""
        try:
            made = replace(self.players[index], **{field: value})
        except BaizewrightError as error:
            self._session.messages.warn(tr("The player levels stay as they were."), str(error))
            return False
        return self.put([*self.players[:index], made, *self.players[index + 1 :]])

    def add(self) -> bool:
        """One more level like the last, to be edited."""
        names = {player.name for player in self.players}
        number = next(n for n in range(2, 99) if tr("level {number}", number=n) not in names)
        name = tr("level {number}", number=number)
        return self.put([*self.players, replace(self.players[-1], name=name)])

    def remove(self, index: int) -> bool:
        """Drop one level; the last one stays."""
        if len(self.players) == 1:
            self._session.messages.warn(
                tr("This level stays."), tr("Chances are told for at least one player.")
            )
            return False
        return self.put(self.players[:index] + self.players[index + 1 :])

    def reset(self) -> None:
        """The three invented levels again."""
        self.put(PLAYERS)

    def load(self, path: Path) -> bool:
        """Take the levels of a players file; what is wrong with it is told."""
        from engine.storage import load_players

        try:
            return self.put(load_players(path))
        except BaizewrightError as error:
            self._session.messages.warn(tr("The file was not taken."), str(error))
            return False

    def save(self, path: Path, rules: WriteRules | None = None) -> bool:
        """Write the levels as a players file."""
        from engine.storage import WriteRules, save_players

        try:
            save_players(self.players, path, rules or WriteRules())
        except BaizewrightError as error:
            self._session.messages.warn(tr("The file was not written."), str(error))
            return False
        self._session.messages.note(tr("{name} written.", name=path.name))
        return True
