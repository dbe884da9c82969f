"""The controls that play the selected lane: play, slow motion, scrub, events."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QTransform
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from designer.open_routine import OpenRoutine
from designer.open_routine.player import FASTEST, SLOWEST
from designer.painters.ball_face import paint_face
from designer.texts import tr
from designer.widgets.fields import NumberField, SlideField
from designer.words.figures import first_up, speed
from designer.words.names import ball_name, pocket_name

#: The slider counts thousandths of a second.
MS = 1000.0
SPEEDS: tuple[tuple[str, float], ...] = (("1", 1.0), ("½", 0.5), ("¼", 0.25), ("⅒", 0.1))


class PlaybackBar(QWidget):
    """Follows the session's player; hidden while no replay is on show."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session, self._player = session, session.player
        self.setAccessibleName(tr("Playing the shot"))
        player = self._player
        self.face = CueBallFace(session)
        self.play = _button(tr("Play"), tr("Play or hold (Space on the table)"), player.toggle)
        self.back = _button(
            tr("◂ Event"), tr("Back to the event before (comma)"), lambda: player.step(-1)
        )
        self.onward = _button(
            tr("Event ▸"), tr("On to the next event (full stop)"), lambda: player.step(1)
        )
        self.leave = _button(tr("Set-up"), tr("Back to the set-up (Escape)"), player.close)
        self.slider = SlideField(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName(tr("Time of the shot"))
        self.slider.setSingleStep(10)
        self.slider.setPageStep(100)
        self.slider.valueChanged.connect(self._on_slider)
        self.speeds = [self._speed_button(text, speed) for text, speed in SPEEDS]
        self.speed = NumberField()
        self.speed.setRange(100.0 * SLOWEST, 100.0 * FASTEST)
        self.speed.setDecimals(0)
        self.speed.setSuffix(tr(" %"))
        self.speed.setKeyboardTracking(False)
        self.speed.setAccessibleName(tr("Speed in per cent of the true one"))
        self.speed.setToolTip(tr("A speed of your own, in per cent of the true one"))
        self.speed.valueChanged.connect(lambda value: player.set_speed(value / 100.0))
        self.hold = QCheckBox(tr("Hold at contact"))
        self.hold.setToolTip(tr("Stop where the 90-degree line is shown with its right angle"))
        self.hold.toggled.connect(player.set_stops_at_contact)
        self.words = QLabel()
        self.words.setAccessibleName(tr("What happens now"))
        self.words.setWordWrap(True)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.words.setMinimumHeight(4 * self.words.fontMetrics().lineSpacing())
        self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._lay_out()
        player.moved.connect(self.refresh)
        player.changed.connect(self.refresh)
        session.pointed.connect(self._on_pointed)
        self.refresh()

    def refresh(self) -> None:
        """Show the player as it is."""
        player, replay = self._player, self._player.replay
        self.setVisible(replay is not None)
        if replay is None:
            return
        self.play.setText(tr("Hold") if player.is_playing else tr("Play"))
        blocked = self.slider.blockSignals(True)
        self.slider.setMaximum(round(replay.duration_s * MS))
        self.slider.setValue(round(player.time_s * MS))
        self.slider.blockSignals(blocked)
        blocked = self.speed.blockSignals(True)
        self.speed.setValue(100.0 * player.speed)
        self.speed.blockSignals(blocked)
        for button, (_, one) in zip(self.speeds, SPEEDS, strict=True):
            button.setChecked(abs(player.speed - one) < 1e-9)
        blocked = self.hold.blockSignals(True)
        self.hold.setChecked(player.stops_at_contact)
        self.hold.blockSignals(blocked)
        words = self._words()
        self.words.setText(words)
        self.words.setToolTip(words)
        self.face.update()

    def _words(self) -> str:
        """Time, how the cue ball moves, and what happened last."""
        from designer.open_routine.replay import event_words

        replay, session, t_s = self._player.replay, self._session, self._player.time_s
        assert replay is not None
        cue = replay.routine.cue_ball
        parts = [
            tr("Lane {label}", label=replay.lane.label),
            tr("{time:.2f} of {whole:.2f} s", time=t_s, whole=replay.duration_s),
        ]
        if cue is not None and replay.place(cue, t_s) is not None:
            motion, fast = replay.motion(cue.id, t_s), speed(replay.speed_m_s(cue.id, t_s))
            parts.append(tr("cue ball {motion}, {speed}", motion=motion, speed=fast))
        instant = replay.instant_at(t_s)
        if instant is not None:
            told = [
                event_words(
                    event,
                    lambda name: ball_name(session.routine, name),
                    lambda name: pocket_name(session.table, name),
                )
                for event in instant.events
            ]
            parts.append("; ".join(told))
        return first_up(" – ".join(parts))

    def _on_slider(self, value: int) -> None:
        self._player.pause()
        self._player.go_to(value / MS)

    def _on_pointed(self) -> None:
        """Another lane selected while a replay is on show: that one is shown then."""
        replay, lane = self._player.replay, self._session.lane_answer
        if replay is not None and lane is not None and lane.label != replay.lane.label:
            playing = self._player.is_playing
            self._player.pause()
            if self._player.open() and playing:
                self._player.play()

    def _speed_button(self, text: str, speed: float) -> QToolButton:
        button = _button(
            text,
            tr("Play at {share:.0f} % of the true speed", share=100.0 * speed),
            lambda: self._player.set_speed(speed),
        )
        button.setCheckable(True)
        button.setAccessibleName(tr("{share:.0f} % of the true speed", share=100.0 * speed))
        return button

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.face)
        top.addWidget(self.words, 1)
        rows: list[list[QWidget]] = [
            [self.play, self.back, self.onward, self.leave],
            [*self.speeds, self.speed],
        ]
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 4)
        column.setSpacing(4)
        column.addLayout(top)
        column.addWidget(self.slider)
        for parts in rows:
            row = QHBoxLayout()
            row.setSpacing(4)
            for part in parts:
                row.addWidget(part)
            row.addStretch(1)
            column.addLayout(row)
        column.addWidget(self.hold)


class CueBallFace(QWidget):
    """The cue ball from above, large, with its marks: top, screw and stun can be told by eye."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setAccessibleName(tr("The cue ball from above, turning"))
        self.setFixedSize(self.sizeHint())

    def sizeHint(self) -> QSize:
        """As high as the bar's two lines."""
        side = round(self.fontMetrics().lineSpacing() * 3.2)
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The ball as it is at the time on show."""
        player = self._session.player
        replay = player.replay
        cue = replay.routine.cue_ball if replay is not None else None
        if replay is None or cue is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self.palette().color(QPalette.ColorRole.Window))
        # Turned as the table is on the canvas, so that both balls look alike.
        lying = QTransform(0.0, 1.0, 1.0, 0.0, 0.0, 0.0)
        standing = QTransform(1.0, 0.0, 0.0, -1.0, 0.0, 0.0)
        way = lying if self._session.view.turned else standing
        if self._session.view.far:
            way = way * QTransform.fromScale(-1.0, -1.0)
        middle = QPointF(self.width() / 2, self.height() / 2)
        paint_face(
            painter, cue, middle, self.height() / 2 - 3.0, replay.turned(cue.id, player.time_s), way
        )
        painter.end()


def _button(text: str, tip: str, do: object) -> QToolButton:
    button = QToolButton()
    button.setText(text)
    button.setToolTip(tip)
    button.setAccessibleName(text.replace("◂", "").replace("▸", "").strip())
    button.clicked.connect(lambda _checked=False: do())  # type: ignore[operator]
    return button
