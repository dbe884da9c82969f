"""The shot on show: object ball, pocket, its lanes, and how the selected lane is struck."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QToolButton,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from designer.answers.strike import StrikeEditor
from designer.open_routine import OpenRoutine
from designer.texts import mark, tr
from designer.widgets.badges import LANE_ICON_SIZE, lane_icon
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.lists import bare_list, fill_list, key_of, remove_by_key
from designer.widgets.panel import Panel
from designer.words.figures import first_up, pace_figure, speed
from designer.words.names import ball_name, pocket_name
from designer.words.strikes import lane_strike, strike_word
from engine.playing import strike_name
from engine.routine.values import STUN, LaneAsk, Shot
from engine.units import rounded


class ShotPanel(Panel):
    """Choose what is potted where, and which strikes to predict."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.shots = ChoiceField()
        self.shots.setAccessibleName(tr("Shot"))
        self.shots.activated.connect(lambda i: session.show_shot(self.shots.itemData(i)))
        self.object_ball = ChoiceField()
        self.object_ball.setAccessibleName(tr("Object ball"))
        self.object_ball.activated.connect(
            lambda i: session.shots.set_object_ball(self.object_ball.itemData(i))
        )
        self.pocket = ChoiceField()
        self.pocket.setAccessibleName(tr("Pocket"))
        self.pocket.activated.connect(lambda i: session.shots.set_pocket(self.pocket.itemData(i)))
        self.lanes = bare_list((tr("Lane"), tr("Strike"), tr("Tip"), tr("Pace")), wide=1)
        self.lanes.setIconSize(LANE_ICON_SIZE)
        self.lanes.setAccessibleName(tr("Lanes of the shot"))
        self.lanes.itemSelectionChanged.connect(self._on_selected)
        self.lanes.itemChanged.connect(self._on_ticked)
        self.strike = StrikeEditor(session)
        self.add_shot = QPushButton(tr("New"))
        self.add_shot.clicked.connect(lambda: session.shots.add())
        self.remove_shot = QPushButton(tr("Remove"))
        self.remove_shot.clicked.connect(session.shots.remove)
        self.earlier, self.later = (
            _order_button("▲", tr("Move this shot earlier in the order of steps")),
            _order_button("▼", tr("Move this shot later in the order of steps")),
        )
        self.earlier.clicked.connect(lambda: session.shots.move(-1))
        self.later.clicked.connect(lambda: session.shots.move(1))
        self.add_lane = QPushButton(tr("Add lane"))
        self.add_lane.clicked.connect(lambda: session.shots.add_lane())
        self.remove_lane = QPushButton(tr("Remove"))
        self.remove_lane.clicked.connect(session.shots.remove_lane)
        self.standard = QPushButton(tr("Standard three"))
        self.standard.setToolTip(tr("Full top, stun and full screw at the pace now selected"))
        self.standard.clicked.connect(session.shots.put_standard_lanes)
        remove_by_key(self.lanes, session.shots.remove_lane)
        self._lay_out()
        session.answered.connect(self.refresh_soon)

    def refresh(self) -> None:
        """Show the shot on show and the lane selected in it."""
        session, routine = self.session, self.session.routine
        shot = session.shot
        shots = [
            (one.id, tr("{number}. {shot}", number=number, shot=one.title or self._pot(one)))
            for number, one in enumerate(routine.shots, start=1)
        ]
        fill_choices(self.shots, shots or [("", tr("none yet"))])
        choose(self.shots, session.shown_shot)
        self.remove_shot.setEnabled(shot is not None)
        at = routine.shots.index(shot) if shot is not None else 0
        self.earlier.setEnabled(at > 0)
        self.later.setEnabled(at + 1 < len(routine.shots))
        balls = [
            (ball.id, ball_name(routine, ball.id)) for ball in routine.balls if not ball.is_cue
        ]
        fill_choices(self.object_ball, [("", tr("choose a ball")), *balls])
        choose(self.object_ball, shot.object_ball if shot else "")
        pockets = [(p.id, pocket_name(session.table, p.id)) for p in session.table.pockets]
        fill_choices(self.pocket, [("", tr("choose a pocket")), *pockets])
        choose(self.pocket, shot.pocket if shot else "")
        lanes = shot.lanes if shot is not None else ()
        rows = [
            (lane.label, self._lane_texts(lane), lane_icon(index, lane.label))
            for index, lane in enumerate(lanes)
        ]
        fill_list(self.lanes, rows, session.shown_lane)
        self._tick_lanes()
        self.remove_lane.setEnabled(session.lane is not None)
        self.strike.refresh()

    def _pot(self, shot: Shot) -> str:
        """What a shot without a title is about."""
        session = self.session
        if not (shot.object_ball and shot.pocket):
            return tr("nothing chosen yet") if shot.aim_deg is None else tr("plain shot")
        ball = first_up(ball_name(session.routine, shot.object_ball))
        pocket = pocket_name(session.table, shot.pocket)
        return tr("{ball} to {pocket}", ball=ball, pocket=pocket)

    def _lane_texts(self, lane: LaneAsk) -> tuple[str, str, str, str]:
        conditions, found = self.session.conditions, self.session.shot_answer
        answered = found.lanes if found is not None else ()
        lane_answer = next((one for one in answered if one.label == lane.label), None)
        height = lane.tip_height
        if lane_answer is not None:
            strike, height = lane_strike(lane_answer), lane_answer.tip_height
        else:
            stun = height == STUN
            name = strike_name(0.0 if stun else float(height), conditions.tip_limit, stun)
            strike = lane.title or strike_word(name)
        tip = (
            tr("found") if height == STUN else _short_tip(float(height) * conditions.cue_radius_mm)
        )
        pace = pace_figure(lane.pace) if lane.speed_m_s is None else speed(lane.speed_m_s)
        return ("", strike, tip, pace)

    def _tick_lanes(self) -> None:
        """A tick for each lane that is drawn on the table."""
        blocked = self.lanes.blockSignals(True)
        for index in range(self.lanes.topLevelItemCount()):
            item = self.lanes.topLevelItem(index)
            assert item is not None
            label = str(item.data(0, Qt.ItemDataRole.UserRole))
            shown = self.session.lane_is_shown(label)
            item.setCheckState(0, Qt.CheckState.Checked if shown else Qt.CheckState.Unchecked)
            item.setToolTip(0, tr("Show lane {lane} on the table", lane=label))
        self.lanes.blockSignals(blocked)

    def _on_ticked(self, item: QTreeWidgetItem, column: int) -> None:
        if column == 0 and not self.filling:
            label = str(item.data(0, Qt.ItemDataRole.UserRole))
            self.session.show_lane(label, item.checkState(0) == Qt.CheckState.Checked)

    def _on_selected(self) -> None:
        label = key_of(self.lanes)
        if label and not self.filling:
            self.session.point_at_lane(label)

    def _lay_out(self) -> None:
        grid = QGridLayout()
        fields = (
            (tr("Shot"), self.shots),
            (tr("Object ball"), self.object_ball),
            (tr("Pocket"), self.pocket),
        )
        # The second row holds what is done with the shot as a whole.
        for row, (name, field) in zip((0, 2, 3), fields, strict=True):
            label = QLabel(name)
            label.setBuddy(field)
            grid.addWidget(label, row, 0)
            grid.addWidget(field, row, 1)
        whole = QHBoxLayout()
        whole.addWidget(self.add_shot, 1)
        whole.addWidget(self.remove_shot, 1)
        whole.addWidget(self.earlier)
        whole.addWidget(self.later)
        grid.addLayout(whole, 1, 1)
        grid.setColumnStretch(1, 1)
        buttons = QHBoxLayout()
        for button in (self.add_lane, self.remove_lane, self.standard):
            buttons.addWidget(button)
        layout = QVBoxLayout(self)
        layout.addLayout(grid)
        layout.addWidget(self.lanes, 1)
        layout.addLayout(buttons)
        layout.addWidget(self.strike)
        layout.addStretch(0)


def _order_button(sign: str, words: str) -> QToolButton:
    button = QToolButton()
    button.setText(sign)
    button.setToolTip(words)
    button.setAccessibleName(words)
    return button


def _short_tip(offset_mm: float) -> str:
    """Tip height for a narrow column.

    >>> _short_tip(13.125), _short_tip(-6.6), _short_tip(0.0)
    ('13 mm up', '7 mm down', 'centre')
    """
    offset = rounded(offset_mm)
    if not offset:
        return tr("centre")
    told = mark("{offset} mm up") if offset > 0.0 else mark("{offset} mm down")
    return tr(told, offset=f"{abs(offset):.0f}")
