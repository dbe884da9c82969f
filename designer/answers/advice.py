"""Advice: a wish for a gap, and the smallest moves of balls that grant it, to be tried at once."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialogButtonBox,
    QDoubleSpinBox,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from designer.open_routine import OpenRoutine
from designer.open_routine.task import Progress
from designer.texts import mark, tr
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField, NumberField
from designer.widgets.plain_label import PlainLabel
from designer.widgets.side_window import WorkBar, WorkingWindow
from designer.words.advice import headline, lost, outcome
from designer.words.errors import error_told
from designer.words.figures import first_up
from designer.words.names import ball_name, gap_name, shot_name
from designer.words.wording import Wording
from engine.advice.values import Advice, Wish
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.errors import BaizewrightError
from engine.routine.values import Routine

TITLE = mark("Advice on a gap")
ASK = mark(
    "Say what you wish for. The smallest moves of balls that grant it are looked for and proved."
)
NOTHING = mark(
    "No move of one or two balls within 300 mm was found that grants this wish. Ask for less room "
    "or other paces, or let more balls be moved."
)
CALLED_OFF = mark("Cancelled: this is what was found until then.")
MOVED = mark("Balls have been moved since: ask again for advice on the set-up as it is now.")
NO_GAP = mark("The routine has no gap yet: add one on the Gaps tab.")
NONE_FREE = mark("Tick at least one ball that may be moved.")


class AdviceDialog(WorkingWindow):
    """The wish above, up to three proposals below, each to be tried as one step."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, tr(TITLE), parent)
        self.resize(620, 700)
        self._for: Routine | None = None
        self.proposals: tuple[Advice, ...] = ()
        self.cards: list[ProposalCard] = []
        self.gap, self.shot = _choice(tr("Gap")), _choice(tr("Shot"))
        self.pace_from = _number(tr("Lowest pace"), PACE_LOWEST, PACE_HIGHEST, 3.0, "", 1, 0.5)
        self.pace_to = _number(tr("Highest pace"), PACE_LOWEST, PACE_HIGHEST, 6.0, "", 1, 0.5)
        self.room = _number(tr("Room to the nearer edge"), 0.0, 500.0, 15.0, tr(" mm"), 0, 5.0)
        self.apart = _number(tr("Lanes apart"), 0.0, 1000.0, 0.0, tr(" mm"), 0, 10.0)
        self.apart.setSpecialValueText(tr("any"))
        self.pace_from.valueChanged.connect(
            lambda low: self.pace_to.setValue(max(low, self.pace_to.value()))
        )
        self.pace_to.valueChanged.connect(
            lambda high: self.pace_from.setValue(min(high, self.pace_from.value()))
        )
        self.balls = QListWidget()
        self.balls.setAccessibleName(tr("Balls that may be moved"))
        self.balls.setMaximumHeight(130)
        self.note = PlainLabel(tr(ASK), tr("About the advice"))
        self.work = WorkBar(tr("Look for moves"), tr("advice"))
        self.work.begin.setDefault(True)
        self.work.begun.connect(self._on_ask)
        self.work.task.finished.connect(self._on_found)
        self.work.task.failed.connect(self._on_failed)
        self.work.kept.connect(self.note.setText)
        self._lay_out()

    def refresh(self) -> None:
        """Offer the routine's gaps, shots and balls; tell whether the proposals still fit."""
        routine = self.session.routine
        gaps = [(gap.id, first_up(gap_name(routine, gap))) for gap in routine.gaps]
        fill_choices(self.gap, gaps)
        shots = [(shot.id, first_up(shot_name(routine, shot.id))) for shot in routine.shots]
        fill_choices(self.shot, shots)
        self._fill_balls(routine)
        can = bool(gaps) and bool(shots)
        self.work.begin.setEnabled(can and not self.work.task.running)
        fits = self._fits()
        for card in self.cards:
            card.show_state(fits, self._is_on_table(card.advice))
        if self.work.task.running:
            return  # what is said of the work stays
        if not can:
            self.note.setText(tr(NO_GAP))
        elif self.note.text() == tr(NO_GAP):
            self.note.setText(tr(ASK))
        if self._for is not None and self.cards and not fits:
            self.note.setText(tr(MOVED))
        elif self.note.text() == tr(MOVED):
            self.note.setText("")

    def look_at(self, gap_id: str, shot_id: str) -> None:
        """Ask about that gap in that shot."""
        self.catch_up()
        choose(self.gap, gap_id)
        choose(self.shot, shot_id)

    def wish(self) -> Wish:
        """The wish as it is typed; `OutOfRangeError` for one that cannot be."""
        ticked = [
            str(item.data(Qt.ItemDataRole.UserRole))
            for item in map(self.balls.item, range(self.balls.count()))
            if item.checkState() == Qt.CheckState.Checked
        ]
        return Wish(
            str(self.shot.currentData()),
            str(self.gap.currentData()),
            self.pace_from.value(),
            self.pace_to.value(),
            self.room.value(),
            self.apart.value(),
            tuple(ticked),
        )

    # Asking ----------------------------------------------------------------------------------

    def _on_ask(self) -> None:
        routine = self.session.routine
        try:
            wish = self.wish()
        except BaizewrightError as error:
            self.note.setText(error_told(error))
            return
        if not wish.movable:
            self.note.setText(tr(NONE_FREE))
            return
        self._show(routine, ())
        self.note.setText(tr("Looking …"))

        def work(progress: Progress) -> object:
            from engine.advice import advise

            return routine, advise(routine, wish, progress)

        self.work.start(work)

    def _on_found(self, found: tuple[Routine, tuple[Advice, ...]]) -> None:
        self._show(*found)
        if self.work.task.called_off:
            self.note.setText(
                tr(CALLED_OFF) if self.proposals else tr("Cancelled; nothing was found yet.")
            )
        else:
            self.note.setText("" if self.proposals else tr(NOTHING))
        self.catch_up()

    def _on_failed(self, words: str) -> None:
        self.note.setText(tr("There is no advice: {words}", words=words))

    def _show(self, routine: Routine, proposals: tuple[Advice, ...]) -> None:
        self._for, self.proposals = routine, proposals
        for card in self.cards:
            self._results.removeWidget(card)
            card.deleteLater()
        self.cards = []
        for number, advice in enumerate(proposals, start=1):
            card = ProposalCard(self.session, routine, advice, number)
            card.try_it.clicked.connect(lambda _=False, one=advice: self._on_try(one))
            self._results.insertWidget(number - 1, card)
            self.cards.append(card)

    # Trying ----------------------------------------------------------------------------------

    def _places(self, advice: Advice) -> dict[str, tuple[float, float]]:
        """Where every ball lies with a proposal."""
        assert self._for is not None
        places = {ball.id: ball.centre_mm for ball in self._for.balls}
        places.update({move.ball: move.to_mm for move in advice.moves})
        return places

    def _is_on_table(self, advice: Advice) -> bool:
        now = {ball.id: ball.centre_mm for ball in self.session.routine.balls}
        return bool(advice.moves) and self._for is not None and now == self._places(advice)

    def _fits(self) -> bool:
        """Whether the balls lie as when advice was asked, or as one of the proposals has them."""
        if self._for is None:
            return False
        now = {ball.id: ball.centre_mm for ball in self.session.routine.balls}
        before = {ball.id: ball.centre_mm for ball in self._for.balls}
        return now == before or any(self._is_on_table(one) for one in self.proposals)

    def _on_try(self, advice: Advice) -> None:
        if not self._fits():
            return
        now = {ball.id: ball.centre_mm for ball in self.session.routine.balls}
        places = {
            ball_id: place
            for ball_id, place in self._places(advice).items()
            if now[ball_id] != place
        }
        self.session.balls.move_to(places, tr(TITLE))
        self.catch_up()

    # Layout ----------------------------------------------------------------------------------

    def _fill_balls(self, routine: Routine) -> None:
        """One tick a ball; locked ones stay where they are."""
        key = [(ball.id, ball.locked, ball_name(routine, ball.id)) for ball in routine.balls]
        if getattr(self, "_balls_key", None) == key:
            return
        self._balls_key = key
        off = {
            item.data(Qt.ItemDataRole.UserRole)
            for item in map(self.balls.item, range(self.balls.count()))
            if item.checkState() == Qt.CheckState.Unchecked
            and item.flags() & Qt.ItemFlag.ItemIsEnabled
        }
        self.balls.clear()
        for ball_id, locked, name in key:
            item = QListWidgetItem(
                tr("{ball} (locked)", ball=first_up(name)) if locked else first_up(name)
            )
            item.setData(Qt.ItemDataRole.UserRole, ball_id)
            free = not locked
            ticked = free and ball_id not in off
            item.setCheckState(Qt.CheckState.Checked if ticked else Qt.CheckState.Unchecked)
            if locked:
                item.setFlags(Qt.ItemFlag.NoItemFlags)
            self.balls.addItem(item)

    def _lay_out(self) -> None:
        paces = QHBoxLayout()
        paces.addWidget(self.pace_from)
        paces.addWidget(QLabel(tr("to")))
        paces.addWidget(self.pace_to)
        paces.addStretch(1)
        form = QFormLayout()
        form.addRow(tr("Gap to be reachable"), self.gap)
        form.addRow(tr("In shot"), self.shot)
        form.addRow(tr("At a pace from"), paces)
        form.addRow(tr("With room of at least"), self.room)
        form.addRow(tr("Lanes apart at least"), self.apart)
        form.addRow(tr("May be moved"), self.balls)
        inner = QWidget()
        self._results = QVBoxLayout(inner)
        self._results.setContentsMargins(0, 0, 0, 0)
        self._results.addStretch(1)
        area = QScrollArea()
        area.setWidget(inner)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.close)
        layout = QVBoxLayout(self)
        layout.addLayout(form)
        layout.addWidget(self.work)
        layout.addWidget(self.note)
        layout.addWidget(area, 1)
        layout.addWidget(buttons)


class ProposalCard(QFrame):
    """One proposal: what to move, what it gives, what it costs, and a button to try it."""

    def __init__(self, session: OpenRoutine, routine: Routine, advice: Advice, number: int) -> None:
        super().__init__()
        self._session, self._routine, self.advice = session, routine, advice
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.what, self.then, self.cost = QLabel(), QLabel(), QLabel()
        for label in (self.what, self.then, self.cost):
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.what.setObjectName("heading")
        self._number = number
        self.try_it = QPushButton(tr("Try it"))
        self.try_it.setAutoDefault(False)
        self.try_it.setAccessibleName(tr("Try proposal {number}", number=number))
        column = QVBoxLayout(self)
        column.addWidget(self.what)
        column.addWidget(self.then)
        column.addWidget(self.cost)
        column.addWidget(self.try_it, 0, Qt.AlignmentFlag.AlignLeft)
        self.show_state(True, False)

    def show_state(self, fits: bool, on_table: bool) -> None:
        """Say whether the balls lie so now; a proposal that no longer fits cannot be tried."""
        wording, advice = Wording(self._routine, self._session.view.unit), self.advice
        what = headline(wording, advice)
        self.what.setText(tr("{number}. {what}", number=self._number, what=what))
        self.then.setText(outcome(wording, advice))
        words = lost(wording, advice)
        self.cost.setText(words)
        self.cost.setVisible(bool(words))
        self.try_it.setVisible(bool(advice.moves))
        self.try_it.setEnabled(fits and not on_table)
        self.try_it.setText(tr("On the table now") if on_table else tr("Try it"))


def _choice(name: str) -> QComboBox:
    box = ChoiceField()
    box.setAccessibleName(name)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(18)
    return box


def _number(
    name: str, low: float, high: float, value: float, suffix: str, places: int, step: float
) -> QDoubleSpinBox:
    box = NumberField()
    box.setAccessibleName(name)
    box.setDecimals(places)
    box.setRange(low, high)
    box.setSingleStep(step)
    box.setSuffix(suffix)
    box.setValue(value)
    box.setMaximumWidth(140)
    return box
