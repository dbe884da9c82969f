"""Plays the lane on show: runs, slows, stops and steps a replay, and tells whoever paints it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, QObject, Qt, QTimer, Signal

from designer.open_routine.answering import Answering
from designer.texts import tr
from engine.errors import BaizewrightError

if TYPE_CHECKING:
    from designer.open_routine.replay import Replay

FRAME_MS = 16
#: Share of the true speed: what the coach may choose from a tenth to twice.
SLOWEST, FASTEST = 0.02, 2.0
#: Instants this near to the time on show are the one on show, s.
HERE_S = 1e-6


class Player(QObject):
    """A replay and the time of it on show; `moved` when that differs, `changed` for the rest.

    Playing stops at the contact when `stops_at_contact`, so that the right angle between the
    90-degree line and the line of centres can be looked at; `play` goes on from there.
    """

    moved = Signal()
    changed = Signal()

    def __init__(self, session: Answering) -> None:
        super().__init__(session)
        self._session = session
        self.replay: Replay | None = None
        self.time_s = 0.0
        self.speed = 1.0
        self.stops_at_contact = False
        self._clock = QElapsedTimer()
        self._ticks = QTimer(self)
        self._ticks.setTimerType(Qt.TimerType.PreciseTimer)
        self._ticks.setInterval(FRAME_MS)
        self._ticks.timeout.connect(self._tick)
        session.changed.connect(self._on_changed)

    @property
    def is_open(self) -> bool:
        """Whether a replay is on show."""
        return self.replay is not None

    @property
    def is_playing(self) -> bool:
        """Whether time runs."""
        return self._ticks.isActive()

    @property
    def is_at_end(self) -> bool:
        """Whether the replay on show is over."""
        return self.replay is not None and self.time_s >= self.replay.duration_s - HERE_S

    def open(self) -> bool:
        """Show the selected lane at the strike; False, with a message, when there is none."""
        session = self._session
        lane, shot = session.lane_answer, session.shot_answer
        if lane is None or shot is None:
            session.messages.warn(
                tr("There is no lane to play yet."), tr("Choose an object ball and a pocket first.")
            )
            return False
        from designer.open_routine.replay import replay_of

        try:
            self.replay = replay_of(session.routine, lane, shot.pot)
        except BaizewrightError as error:
            session.messages.fail(tr("The shot could not be played."), tr("Fix this first:"), error)
            return False
        self.time_s = 0.0
        self.changed.emit()
        self.moved.emit()
        return True

    def close(self) -> None:
        """Back to the set-up."""
        if self.replay is None:
            return
        self._ticks.stop()
        self.replay = None
        self.time_s = 0.0
        self.changed.emit()
        self.moved.emit()

    def play(self) -> None:
        """Let time run, from the start again when the shot is over."""
        if not self._is_of_lane_on_show() and not self.open():
            return
        assert self.replay is not None
        if self.is_at_end:
            self.go_to(0.0)
        self._clock.start()
        self._ticks.start()
        self.changed.emit()

    def pause(self) -> None:
        """Hold the time on show."""
        if self.is_playing:
            self._ticks.stop()
            self.changed.emit()

    def toggle(self) -> None:
        """Play, or hold."""
        if self.is_playing:
            self.pause()
        else:
            self.play()

    def set_speed(self, speed: float) -> None:
        """Play at this share of the true speed."""
        self.speed = min(max(speed, SLOWEST), FASTEST)
        self.changed.emit()

    def set_stops_at_contact(self, on: bool) -> None:
        """Hold at the contact, or run through it."""
        self.stops_at_contact = on
        self.changed.emit()

    def go_to(self, time_s: float) -> None:
        """Show another time, held within the shot."""
        if self.replay is None:
            return
        self.time_s = min(max(time_s, 0.0), self.replay.duration_s)
        self.moved.emit()

    def step(self, count: int) -> None:
        """Go to the next event (or with -1 the one before) and hold there."""
        if not self._is_of_lane_on_show() and not self.open():
            return
        assert self.replay is not None
        self.pause()
        times = [one.t_s for one in self.replay.instants]
        if count > 0:
            self.go_to(next((t for t in times if t > self.time_s + HERE_S), self.replay.duration_s))
        else:
            self.go_to(next((t for t in reversed(times) if t < self.time_s - HERE_S), 0.0))

    def advance(self, seconds: float) -> None:
        """Let so much true time pass: the shot goes on by its share of it."""
        if self.replay is None:
            return
        wanted = self.time_s + seconds * self.speed
        contact = self.replay.contact_s
        if self.stops_at_contact and contact is not None and self.time_s < contact <= wanted:
            self.go_to(contact)
            self.pause()
            return
        self.go_to(wanted)
        if wanted >= self.replay.duration_s:
            self.pause()

    def _is_of_lane_on_show(self) -> bool:
        """Whether the replay is that of the lane now selected."""
        replay, lane = self.replay, self._session.lane_answer
        if replay is None or replay.routine is not self._session.routine:
            return False
        return lane is None or replay.lane is lane or _same_lane(replay, self._session)

    def _tick(self) -> None:
        self.advance(self._clock.restart() / 1000.0)

    def _on_changed(self, _change: object) -> None:
        if self.replay is not None and self.replay.routine is not self._session.routine:
            self.close()


def _same_lane(replay: Replay, session: Answering) -> bool:
    """Whether it is the same lane, answered anew (answers of a routine do not differ)."""
    lane = session.lane_answer
    pot = session.shot_answer.pot if session.shot_answer is not None else None
    if lane is None or pot is None or replay.pot is None:
        return False
    return lane.label == replay.lane.label and pot.object_ball == replay.pot.object_ball
