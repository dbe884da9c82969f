"""Asks the engine, so that the window never waits for it.

The engine's shot kernel takes most of a second to load, so that is done on a thread of its own
after the first paint. From then on the shot on show is answered at once after every edit; what
takes longer (gap verdicts, claims, the other shots) is worked out aside when the edits rest.
"""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal

from designer.open_routine.worker import Worker, failure_told
from engine.balls import Ball
from engine.errors import BaizewrightError
from engine.placement import placements
from engine.players import PLAYERS, Player
from engine.problems import problems_of
from engine.results import RoutineAnswer, ShotAnswer
from engine.routine.values import STUN, LaneAsk, Routine, Shot
from engine.version import VERSION

#: How long the edits must rest before the long answer is begun, ms.
REST_MS = 180
_LOADING, _ANSWERING = "loading", "answering"


class Predictions(QObject):
    """Answers about a routine: `at_once` what a frame needs, and `asked` for in full.

    With `aside=False` everything is done in the calling thread (for pictures and tests).
    """

    ready = Signal()
    failed = Signal(str)
    #: A full answer and the routine it is for.
    found = Signal(object, object)

    def __init__(self, parent: QObject | None = None, *, aside: bool = True) -> None:
        super().__init__(parent)
        self._worker = Worker(self, self._on_done, aside=aside)
        self.is_ready = False
        #: Whether lanes are wanted with how far they may stray, which takes long.
        self.bands = False
        #: Whose chances are told.
        self.players: tuple[Player, ...] = PLAYERS
        self._wanted: Routine | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._begin)

    @property
    def aside(self) -> bool:
        """Whether long work is done on threads."""
        return self._worker.aside

    def prepare(self) -> None:
        """Load the engine; `ready` follows, or `failed` with what went wrong."""
        self._worker.start(_load, _LOADING)

    def at_once(self, routine: Routine, shot_id: str) -> RoutineAnswer | None:
        """What a frame needs: problems, placements, and once `ready` the answer of one shot.

        Verdicts and claims are left to `ask`. None where the table or conditions are not known.
        """
        try:
            found = RoutineAnswer(VERSION, problems_of(routine), (), (), (), placements(routine))
            if not self.is_ready or all(shot.id != shot_id for shot in routine.shots):
                return found
            return replace(found, shots=self._shot_at_once(routine, shot_id))
        except BaizewrightError as error:
            self.failed.emit(str(error))
            return None

    def _shot_at_once(self, routine: Routine, shot_id: str) -> tuple[ShotAnswer, ...]:
        from engine.answers import answer_shot

        try:
            return (answer_shot(routine, shot_id),)
        except BaizewrightError:
            raise
        except Exception as error:
            # A fault of the engine must not keep the coach from moving balls.
            self.failed.emit(failure_told(error))
            return ()

    def ask(self, routine: Routine) -> None:
        """Have the full answer worked out once the edits rest; `found` brings it."""
        self._wanted = routine
        if self.is_ready:
            self._rest.start()

    def ask_now(self, routine: Routine) -> None:
        """Have the full answer worked out without waiting for a rest."""
        self._wanted = routine
        self._rest.stop()
        if self.is_ready:
            self._begin()

    def in_full(self, routine: Routine) -> RoutineAnswer:
        """The full answer, worked out in the calling thread."""
        from engine.answers import answer, with_bands

        found = answer(routine, self.players)
        return with_bands(routine, found) if self.bands else found

    def forget(self) -> None:
        """Drop what was asked for: its routine is no longer the one being edited."""
        self._wanted = None
        self._rest.stop()

    def close(self) -> None:
        """Stop working; whatever is under way is dropped."""
        self.forget()
        self._worker.close()

    def _begin(self) -> None:
        routine, self._wanted = self._wanted, None
        if routine is None:
            return
        if not self._worker.start(lambda: (routine, self.in_full(routine)), _ANSWERING):
            self._wanted = routine

    def _on_done(self, key: str, found: object, error: Exception | None) -> None:
        if error is not None:
            self.failed.emit(failure_told(error))
        elif key == _LOADING:
            self.is_ready = True
            self.ready.emit()
        else:
            assert isinstance(found, tuple)
            self.found.emit(*found)
        if self._wanted is not None and self.is_ready:
            self._rest.start()


def _load() -> None:
    """Load every part of the engine and answer a small routine, so that the first is not slow."""
    from engine.answers import answer

    balls = (Ball("cue", "cue", 600.0, 600.0), Ball("red-1", "red", 900.0, 1800.0))
    lanes = (LaneAsk("A", 0.2), LaneAsk("B", STUN))
    shot = Shot("s", "red-1", "top-right", lanes=lanes)
    answer(Routine(balls=balls, shots=(shot,)))
