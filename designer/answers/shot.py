"""The shot on show: what is potted where, its lanes with their verdicts, the chosen one's strike,
and a line for every gap."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from designer.answers.gap_lines import GapLines
from designer.answers.lane_list import COLOURS, SIGNS, LaneList, LaneRow
from designer.answers.strike import StrikeEditor
from designer.open_routine import OpenRoutine
from designer.texts import mark, tr
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.icons import IconButton
from designer.widgets.lists import remove_by_key
from designer.widgets.panel import Panel
from designer.widgets.tones import SOFT, toned
from designer.words.facts import fact
from designer.words.figures import first_up, pace, speed
from designer.words.in_short import InShort, lane_verdict, pot_verdict, tip_in_short
from designer.words.lanes import by_room, clearance, ending
from designer.words.names import ball_name, pocket_name
from designer.words.strikes import lane_strike, strike_word
from engine.playing import strike_name
from engine.results import Lane, ShotAnswer
from engine.routine.values import STUN, LaneAsk

NO_SHOT = mark("No shot yet: choose a ball and its pocket, or double-click both on the table.")
NOT_READY = mark("Predictions are being prepared …")


class ShotPanel(Panel):
    """Whatever the pointer does to a shot on the table, its fields do by keyboard."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.number = QLabel()
        self.number.setObjectName("soft")
        self.before = IconButton("chevron-left", tr("Shot before"), lambda: session.show_step(-1))
        self.after = IconButton("chevron-right", tr("Next shot"), lambda: session.show_step(1))
        self.add_shot = IconButton("plus", tr("New shot"), session.shots.add)
        self.more = IconButton("ellipsis", tr("More for this shot"))
        self.menu = QMenu(self.more)
        self.earlier = self.menu.addAction(tr("Move earlier"), lambda: session.shots.move(-1))
        self.later = self.menu.addAction(tr("Move later"), lambda: session.shots.move(1))
        self.remove_shot = self.menu.addAction(tr("Remove this shot"), session.shots.remove)
        self.more.setMenu(self.menu)
        self.more.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.object_ball, self.pocket = _title_field(tr("Object ball")), _title_field(tr("Pocket"))
        self.object_ball.activated.connect(
            lambda i: session.shots.set_object_ball(self.object_ball.itemData(i))
        )
        self.pocket.activated.connect(lambda i: session.shots.set_pocket(self.pocket.itemData(i)))
        self.pot = _words(tr("Pot"))
        self.lanes = LaneList()
        self.lanes.pointed.connect(self._on_pointed)
        self.lanes.switched.connect(self._on_switched)
        remove_by_key(self.lanes, session.shots.remove_lane)
        self.add_lane = QPushButton(tr("Add lane"))
        self.add_lane.clicked.connect(lambda: session.shots.add_lane())
        self.standard = QPushButton(tr("Top, stun, screw"))
        self.standard.setToolTip(tr("Full top, stun and full screw at the pace now selected"))
        self.standard.clicked.connect(session.shots.put_standard_lanes)
        self.remove_lane = IconButton("x", tr("Remove the lane"), session.shots.remove_lane)
        self.strike = StrikeEditor(session)
        self.whole = QToolButton()
        self.whole.setCheckable(True)
        self.whole.setAutoRaise(True)
        self.whole.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.whole.setArrowType(Qt.ArrowType.RightArrow)
        self.whole.toggled.connect(self.catch_up_now)
        self.detail = _words(tr("Selected lane"))
        self.gaps = GapLines(session)
        self._lay_out()
        session.answered.connect(self.refresh_soon)
        session.reach.mapped.connect(self.refresh_soon)

    def refresh(self) -> None:
        """Show the shot on show and the lane selected in it."""
        session, routine = self.session, self.session.routine
        shot = session.shot
        at = routine.shots.index(shot) if shot is not None else -1
        count = len(routine.shots)
        told = tr("Shot {number} of {count}", number=at + 1, count=count) if count else tr("Shot")
        self.number.setText(told)
        self.number.setToolTip(shot.title if shot is not None else "")
        self.before.setEnabled(at > 0)
        self.after.setEnabled(at + 1 < count)
        self.earlier.setEnabled(at > 0)
        self.later.setEnabled(at + 1 < count)
        self.more.setEnabled(shot is not None)
        balls = [
            (ball.id, first_up(ball_name(routine, ball.id)))
            for ball in routine.balls
            if not ball.is_cue
        ]
        fill_choices(self.object_ball, [("", tr("which ball?")), *balls])
        choose(self.object_ball, shot.object_ball if shot else "")
        pockets = [(one.id, pocket_name(session.table, one.id)) for one in session.table.pockets]
        fill_choices(self.pocket, [("", tr("which pocket?")), *pockets])
        choose(self.pocket, shot.pocket if shot else "")
        self._show_pot()
        lanes = shot.lanes if shot is not None else ()
        self.lanes.fill([self._row(at, lane) for at, lane in enumerate(lanes)], session.shown_lane)
        self.lanes.setVisible(bool(lanes))
        self.remove_lane.setEnabled(session.lane is not None)
        self.strike.setVisible(bool(lanes))
        self.strike.refresh()
        self._show_detail(session.lane_answer)
        self.gaps.refresh()

    def _show_pot(self) -> None:
        session, answer = self.session, self.session.shot_answer
        if not session.predictions.is_ready:
            _set(self.pot, f"<b>{escape(tr(NOT_READY))}</b>")
        elif answer is None:
            _set(self.pot, escape(tr(NO_SHOT)))
        elif answer.pot is None:
            _set(self.pot, escape(self._what_lacks(answer)))
        else:
            found = pot_verdict(session.wording, answer.pot)
            head = escape(f"{SIGNS[found.good]} {found.told}")
            beside = f' <span style="color:{SOFT}">· {escape(found.beside)}</span>'
            colour = COLOURS[found.good]
            _set(self.pot, f'<b style="color:{colour}">{head}</b>{beside if found.beside else ""}')

    def _what_lacks(self, answer: ShotAnswer) -> str:
        """What is to be chosen next, or why there is nothing to pot."""
        shot = self.session.shot
        if shot is not None and shot.aim_deg is None:
            if shot.object_ball and not shot.pocket:
                return tr("Now choose the pocket: double-click it, or take it from the list.")
            if shot.pocket and not shot.object_ball:
                return tr("Now choose the ball: double-click it, or take it from the list.")
            if not shot.object_ball:
                return tr(NO_SHOT)
        why = " ".join(fact(self.session.wording, one) for one in answer.refusals)
        return first_up(why) or tr(NO_SHOT)

    def _row(self, index: int, lane: LaneAsk) -> LaneRow:
        session, conditions = self.session, self.session.conditions
        answer = session.shot_answer
        found = None
        if answer is not None:
            found = next((one for one in answer.lanes if one.label == lane.label), None)
        stun = lane.tip_height == STUN
        height = 0.0 if stun else float(lane.tip_height)
        name = strike_name(height, conditions.tip_limit, stun)
        strike, verdict = lane.title or strike_word(name), InShort(None, "")
        if found is not None and answer is not None:
            height, strike = found.tip_height, lane_strike(found)
            verdict = lane_verdict(session.wording, found, answer.passes)
        waits = stun and found is None
        tip = tr("found") if waits else tip_in_short(height * conditions.cue_radius_mm)
        hard = pace(lane.pace) if lane.speed_m_s is None else speed(lane.speed_m_s)
        return LaneRow(
            lane.label,
            index,
            session.lane_is_shown(lane.label),
            strike,
            tr("{tip} · {pace}", tip=tip, pace=hard),
            height,
            conditions.tip_limit,
            verdict,
        )

    def _show_detail(self, found: Lane | None) -> None:
        """All that is known of the selected lane, while it is asked for."""
        self.whole.setVisible(found is not None)
        wanted = self.whole.isChecked() and found is not None
        self.whole.setArrowType(Qt.ArrowType.DownArrow if wanted else Qt.ArrowType.RightArrow)
        self.detail.setVisible(wanted)
        if found is None:
            return
        self.whole.setText(tr("Where lane {lane} goes", lane=found.label))
        wording = self.session.wording
        lines = [clearance(wording, one) for one in by_room(found)]
        lines += [*ending(wording, found), *(fact(wording, one) for one in found.cautions)]
        _set(self.detail, "<br>".join(escape(first_up(line)) for line in lines))

    def _on_pointed(self, label: str) -> None:
        if label and not self.filling:
            self.session.point_at_lane(label)

    def _on_switched(self, label: str) -> None:
        self.session.show_lane(label, not self.session.lane_is_shown(label))

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(2)
        head.addWidget(self.number, 1)
        for button in (self.before, self.after, self.add_shot, self.more):
            head.addWidget(button)
        title = QHBoxLayout()
        title.setSpacing(2)
        title.addWidget(self.object_ball, 4)
        title.addWidget(self.pocket, 7)
        lanes = QHBoxLayout()
        lanes.setSpacing(4)
        lanes.addWidget(self.add_lane)
        lanes.addWidget(self.standard, 1)
        lanes.addWidget(self.remove_lane)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 6, 8, 6)
        layout.setSpacing(6)
        layout.addLayout(head)
        layout.addLayout(title)
        layout.addWidget(self.pot)
        layout.addWidget(self.lanes)
        layout.addLayout(lanes)
        layout.addWidget(self.strike)
        layout.addWidget(self.whole)
        layout.addWidget(self.detail)
        layout.addWidget(self.gaps)
        layout.addStretch(1)


def _title_field(name: str) -> ChoiceField:
    """Part of the shot's title, to be chosen: as wide as there is room, its letters bold."""
    field = ChoiceField()
    field.setObjectName("title")
    field.setAccessibleName(name)
    field.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    field.setMinimumContentsLength(4)
    field.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
    return field


def _words(name: str) -> QLabel:
    label = QLabel()
    label.setAccessibleName(name)
    label.setTextFormat(Qt.TextFormat.RichText)
    label.setWordWrap(True)
    label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label


def _set(label: QLabel, text: str) -> None:
    text = toned(text)
    if label.text() != text:
        label.setText(text)
