"""Reach while the coach works: quick looks all through a drag, a refined map at rest.

Both are worked out on threads of their own, so that no frame waits for them. Only the newest
routine counts: what was asked for in between is dropped.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from designer.open_routine.answering import Answering
from designer.open_routine.predictions import REST_MS
from designer.open_routine.unforeseen import unforeseen
from designer.open_routine.worker import Worker
from designer.texts import tr
from engine.errors import BaizewrightError
from engine.results import GapVerdict, RoutineAnswer
from engine.routine.values import Routine

if TYPE_CHECKING:
    from engine.playing import LaidOutShot
    from engine.reach import ReachMap
    from engine.reach.quick import QuickLook

QUICK, FINE = "quick", "fine"
#: Quick looks begin no closer together than this: a thread that looks all the time holds up the
#: frames of a drag, and nobody sees a verdict come sooner.
BETWEEN_LOOKS_MS = 45


@dataclass(frozen=True, slots=True)
class ShownMap:
    """A map to show, the scene it was made of, and whether it is the refined one."""

    map: ReachMap
    scene: LaidOutShot
    fine: bool


@dataclass(frozen=True, slots=True)
class _Looks:
    shot: str
    by_gap: dict[str, QuickLook]
    scenes: dict[str, LaidOutShot]


class ReachWatch(QObject):
    """Keeps maps and quick verdicts of the shot on show; `mapped` tells that there are others.

    Refined maps are made of one gap only, the one last asked for by `look_at`, and only while
    `watched` is on (the map is to be seen).
    """

    mapped = Signal()

    def __init__(self, session: Answering) -> None:
        super().__init__(session)
        self._session = session
        self._worker = Worker(self, self._on_done, 2, aside=session.predictions.aside)
        self._closed = False
        self._gap = ""
        self.watched = False
        self._looks: _Looks | None = None
        self._fine: tuple[Routine, str, str, ShownMap | None] | None = None
        self._waiting: dict[str, bool] = {QUICK: False, FINE: False}
        self._shown: tuple[RoutineAnswer, _Looks, RoutineAnswer] | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(lambda: self._begin(FINE))
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(BETWEEN_LOOKS_MS)
        self._pause.timeout.connect(self._after_pause)

    # What there is ---------------------------------------------------------------------------

    def answer_to_draw(self) -> RoutineAnswer | None:
        """The session's answer; until its verdicts are there, with those of the quick look.

        The same object while nothing changed.
        """
        answer, looks = self._session.answer, self._looks
        if answer is None or self._session.answer_is_full or looks is None:
            return answer
        if looks.shot != self._session.shown_shot or answer.verdicts:
            return answer
        if self._shown is None or self._shown[0] is not answer or self._shown[1] is not looks:
            verdicts = tuple(look.verdict for look in looks.by_gap.values())
            self._shown = (answer, looks, replace(answer, verdicts=verdicts))
        return self._shown[2]

    def verdict_of(self, gap_id: str) -> GapVerdict | None:
        """The verdict on a gap of the shot on show: the full one, else the quick look's."""
        answer = self.answer_to_draw()
        verdicts = answer.verdicts if answer is not None else ()
        shot = self._session.shown_shot
        return next((one for one in verdicts if one.gap == gap_id and one.shot == shot), None)

    def shown_map(self, gap_id: str) -> ShownMap | None:
        """The best map there is of a gap of the shot on show, None while there is none."""
        session = self._session
        if self._fine is not None and self._fine[3] is not None:
            routine, shot, gap, shown = self._fine
            if routine is session.played and (shot, gap) == (session.shown_shot, gap_id):
                return shown
        looks = self._looks
        if looks is None or looks.shot != session.shown_shot:
            return None
        look = looks.by_gap.get(gap_id)
        if look is None or look.map is None:
            return None
        return ShownMap(look.map, looks.scenes[gap_id], False)

    # What is asked for -----------------------------------------------------------------------

    def look_at(self, gap_id: str) -> None:
        """Have the refined map of a gap made, now or when the edits rest."""
        if gap_id != self._gap:
            self._gap = gap_id
            self._want_fine()

    def watch(self, on: bool) -> None:
        """Say whether the refined map is to be seen; nothing is refined for nobody."""
        self.watched = on
        if on:
            self._want_fine()

    def follow(self) -> None:
        """Keep up with the session: its routine, or the shot on show, is another one."""
        if not self._session.predictions.is_ready:
            return
        if self._session.routine.gaps and self._session.shot is not None:
            self._begin(QUICK)
        elif self._looks is not None:
            self._looks = None
            self.mapped.emit()
        self._want_fine()

    def close(self) -> None:
        """Stop working; what is under way ends by itself."""
        self._closed = True
        self._rest.stop()
        self._pause.stop()
        self._worker.close()

    # Working ---------------------------------------------------------------------------------

    def _want_fine(self) -> None:
        if self.watched and self._gap and self._session.predictions.is_ready:
            self._rest.start()

    def _has_fine(self) -> bool:
        session, fine = self._session, self._fine
        return (
            fine is not None
            and fine[0] is session.played
            and fine[1:3] == (session.shown_shot, self._gap)
        )

    def _begin(self, kind: str) -> None:
        if self._closed:
            # News of what was done before may still be under way.
            return
        if self._worker.busy(kind) or (kind == QUICK and self._pause.isActive()):
            self._waiting[kind] = True
            return
        self._waiting[kind] = False
        routine, shot, gap = self._session.played, self._session.shown_shot, self._gap
        if kind == FINE and (self._has_fine() or not _has(routine, shot, gap)):
            return
        if kind == FINE:
            self._worker.start(lambda: _refined(routine, shot, gap), kind)
            return
        if self._worker.aside:
            self._pause.start()
        self._worker.start(lambda: _quick(routine, shot), kind)

    def _after_pause(self) -> None:
        if self._waiting[QUICK]:
            self._begin(QUICK)

    def _on_done(self, kind: str, found: object, error: Exception | None) -> None:
        if error is not None and not isinstance(error, BaizewrightError):
            unforeseen(error)
            self._session.messages.warn(tr("The reach map failed."), type(error).__name__)
        if isinstance(found, _Looks):
            self._looks = found
        elif isinstance(found, tuple):
            self._fine = found
        if self._waiting[kind]:
            if kind == FINE:
                self._want_fine()
            else:
                self._begin(kind)
        self.mapped.emit()


def _has(routine: Routine, shot: str, gap: str) -> bool:
    return any(one.id == shot for one in routine.shots) and any(
        one.id == gap for one in routine.gaps
    )


def _quick(routine: Routine, shot: str) -> _Looks:
    from engine.reach.quick import quick_looks

    looks = {look.verdict.gap: look for look in quick_looks(routine, shot)}
    scenes = {gap: look.scene for gap, look in looks.items() if look.map is not None}
    return _Looks(shot, looks, scenes)


def _refined(routine: Routine, shot: str, gap: str) -> object:
    from engine.playing import gaps_in_order, laid_out_of
    from engine.reach import reach_map

    try:
        scene = laid_out_of(routine, shot, gaps_in_order(routine, gap))
        shown: ShownMap | None = ShownMap(reach_map(scene), scene, True)
    except BaizewrightError:
        shown = None
    return (routine, shot, gap, shown)
