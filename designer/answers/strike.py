"""How the selected lane is struck: tip height on a ball face and in mm, and pace."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QValidator
from PySide6.QtWidgets import (
    QCheckBox,
    QDoubleSpinBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from designer.answers.tip_face import TipFace
from designer.open_routine import OpenRoutine
from designer.texts import tr
from designer.widgets.fields import NumberField, SlideField
from designer.words.figures import speed
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.errors import BaizewrightError
from engine.routine.values import STUN

#: The slider counts in tenths of a pace.
TENTHS = 10


class StrikeEditor(QWidget):
    """Ball face, tip fields, stun switch and pace of the selected lane."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.face = TipFace()
        self.face.moved.connect(session.shots.set_tip)
        self.face.let_go.connect(session.shots.rest)
        self.tip_mm = _spin(tr(" mm"), 1, 0.5, tr("Tip height in millimetres above centre"))
        self.tip_mm.setToolTip(tr("Above (+) or below (−) the centre of the ball"))
        self.tip_mm.valueChanged.connect(self._on_mm)
        self.stun = QCheckBox(tr("Arrive unspun"))
        self.stun.setToolTip(tr("The tip height is worked out so that the cue ball arrives unspun"))
        self.stun.clicked.connect(self._on_stun)
        self.pace = _spin("", 1, 0.5, tr("Pace, 1 to 10"))
        self.pace.setRange(PACE_LOWEST, PACE_HIGHEST)
        self.pace.valueChanged.connect(self._on_pace)
        self.slider = SlideField(Qt.Orientation.Horizontal)
        self.slider.setRange(int(PACE_LOWEST) * TENTHS, int(PACE_HIGHEST) * TENTHS)
        self.slider.setPageStep(TENTHS)
        self.slider.setSingleStep(TENTHS // 2)
        self.slider.setAccessibleName(tr("Pace"))
        self.slider.valueChanged.connect(lambda value: session.shots.set_pace(value / TENTHS))
        self.slider.sliderReleased.connect(session.shots.rest)
        self.lengths = QLabel()
        self.lengths.setObjectName("soft")
        self.lengths.setAccessibleName(tr("Pace in table lengths"))
        self.lengths.setToolTip(
            tr("How far the cue ball alone runs up and down the table, struck like this")
        )
        for box in (self.tip_mm, self.pace):
            box.editingFinished.connect(session.shots.rest)
        self._lay_out()

    def refresh(self) -> None:
        """Show the selected lane's strike."""
        lane, conditions = self._session.lane, self._session.conditions
        self.setEnabled(lane is not None)
        if lane is None:
            return
        found = self._session.lane_answer
        stun = lane.tip_height == STUN
        height = 0.0 if stun else float(lane.tip_height)
        if stun and found is not None:
            height = found.tip_height
        radius, limit = conditions.cue_radius_mm, conditions.tip_limit
        self.face.show_tip(height, limit, radius, found=stun)
        pace = lane.pace
        if lane.speed_m_s is None:
            speed_mm_s = float(conditions.speed_mm_s(pace, height, lane.side))
        else:
            speed_mm_s = 1000.0 * lane.speed_m_s
            pace = conditions.pace_at(speed_mm_s, height, lane.side)
        boxes = (self.tip_mm, self.stun, self.pace, self.slider)
        blockers = [QSignalBlocker(box) for box in boxes]
        self.tip_mm.setRange(-limit * radius, limit * radius)
        _show(self.tip_mm, height * radius)
        self.stun.setChecked(stun)
        _show(self.pace, pace)
        if not self.slider.isSliderDown():
            self.slider.setValue(round(pace * TENTHS))
        told = speed(speed_mm_s / 1000.0), self._in_lengths(speed_mm_s, height)
        self.lengths.setText(" · ".join(one for one in told if one))
        for blocker in blockers:
            blocker.unblock()

    def _in_lengths(self, speed_mm_s: float, tip_height: float) -> str:
        """A strike in lengths of the table; nothing while the engine is being loaded."""
        session = self._session
        if not session.predictions.is_ready:
            return ""
        from engine.shot.lengths import table_lengths

        try:
            lengths = table_lengths(session.table, session.conditions, speed_mm_s, tip_height)
        except BaizewrightError:
            return ""
        return tr("runs {lengths:.1f} table lengths", lengths=lengths)

    def _lay_out(self) -> None:
        side = QGridLayout()
        side.setVerticalSpacing(4)
        for row, (name, field) in enumerate(((tr("Tip"), self.tip_mm), (tr("Pace"), self.pace))):
            label = QLabel(name)
            label.setBuddy(field)
            side.addWidget(label, row, 0)
            side.addWidget(field, row, 1)
        side.addWidget(self.stun, 2, 0, 1, 2)
        side.setColumnStretch(1, 1)
        top = QHBoxLayout()
        top.addWidget(self.face, 0, Qt.AlignmentFlag.AlignTop)
        top.addLayout(side, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(2)
        whole.addLayout(top)
        whole.addWidget(self.slider)
        whole.addWidget(self.lengths)

    def _on_mm(self, value: float) -> None:
        limit = self._session.conditions.tip_limit
        height = value / self._session.radius_of("cue")
        # The box rounds to a tenth of a millimetre: its end is the very limit.
        at_end = abs(value) > limit * self._session.radius_of("cue") - 0.05
        self._session.shots.set_tip(_signed(limit, height) if at_end else height)

    def _on_stun(self, on: bool) -> None:
        self._session.shots.set_tip(STUN if on else self.face.tip_height)
        self._session.shots.rest()

    def _on_pace(self, value: float) -> None:
        self._session.shots.set_pace(value)


def _signed(size: float, like: float) -> float:
    return size if like >= 0.0 else -size


class SignedBox(NumberField):
    """A number that always shows its sign."""

    def textFromValue(self, value: float) -> str:
        """The number with + or −."""
        text = f"{abs(value):.{self.decimals()}f}"
        nothing = float(text) == 0.0
        return text if nothing else ("+" if value > 0 else "−") + text

    def valueFromText(self, text: str) -> float:
        """The number typed, with either kind of minus."""
        return super().valueFromText(text.replace("−", "-").replace("+", ""))

    def validate(self, text: str, at: int) -> tuple[QValidator.State, str, int]:
        """Take + and the long minus as well."""
        state, _, _ = super().validate(text.replace("−", "-").replace("+", ""), at)
        return state, text, at


def _spin(suffix: str, decimals: int, step: float, name: str) -> QDoubleSpinBox:
    box = SignedBox() if suffix else NumberField()
    box.setSuffix(suffix)
    box.setDecimals(decimals)
    box.setSingleStep(step)
    box.setAccessibleName(name)
    box.setButtonSymbols(QDoubleSpinBox.ButtonSymbols.NoButtons)
    # Typing "4.5" must not pass through 4 on its way: that would be two answers.
    box.setKeyboardTracking(False)
    return box


def _show(box: QDoubleSpinBox, value: float) -> None:
    if abs(box.value() - value) > 0.5 * 10.0 ** -box.decimals():
        box.setValue(value)
