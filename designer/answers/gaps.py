"""Gaps to pass and claims to keep: added from lists, each with what the engine says of it."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QMenu,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from designer.open_routine import OpenRoutine
from designer.open_routine.claims_on_offer import claims_on_offer
from designer.texts import tr
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.lists import bare_list, fill_list, key_of, remove_by_key
from designer.widgets.panel import Panel
from designer.widgets.text_fields import TextField
from designer.words.claims import claim, found
from designer.words.figures import first_up
from designer.words.gaps import reachable
from designer.words.names import ball_name, cushion_name, gap_name
from designer.words.wording import Wording
from engine.results import RoutineAnswer
from engine.routine.values import Claim
from engine.tables.model import CUSHIONS
from engine.units import length_text

#: Marks a cushion among the choices for a gap's other edge.
_CUSHION = "cushion:"


class GapsPanel(Panel):
    """Two edges make a gap; what holds now can be made a claim of the routine."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._selected = ""
        self.first, self.second = ChoiceField(), ChoiceField()
        self.first.setAccessibleName(tr("One edge: a ball"))
        self.second.setAccessibleName(tr("Other edge: a ball or a cushion"))
        self.add = QPushButton(tr("Add gap"))
        self.add.clicked.connect(self._on_add)
        self.list = bare_list((tr("Gap"), tr("Width"), tr("Verdict")), wide=0)
        self.list.setAccessibleName(tr("Gaps"))
        self.list.itemSelectionChanged.connect(self._on_selected)
        self.title = TextField()
        self.title.setPlaceholderText(tr("its edges"))
        self.title.setAccessibleName(tr("Name of the gap"))
        self.title.committed.connect(lambda text: session.gaps.rename(self._selected, text))
        self.remove = QPushButton(tr("Remove"))
        self.remove.clicked.connect(lambda: session.gaps.remove(self._selected))
        self.claims = QListWidget()
        self.claims.setAccessibleName(tr("Claims"))
        self.claims.setWordWrap(True)
        self.claims.setAlternatingRowColors(True)
        self.claims.setSizeAdjustPolicy(QListWidget.SizeAdjustPolicy.AdjustToContents)
        self.add_claim = QPushButton(tr("Claim what holds now"))
        self.offer = QMenu(self.add_claim)
        self.offer.aboutToShow.connect(self.fill_offer)
        self.add_claim.setMenu(self.offer)
        self.remove_claim = QPushButton(tr("Remove"))
        self.remove_claim.clicked.connect(self._on_remove_claim)
        remove_by_key(self.list, self.remove.click)
        remove_by_key(self.claims, self._on_remove_claim)
        self._lay_out()
        session.answered.connect(self.refresh_soon)

    def refresh(self) -> None:
        """Show gaps with their verdicts for the shot on show, and claims."""
        routine = self.session.routine
        balls = [(b.id, ball_name(routine, b.id)) for b in routine.balls if not b.is_cue]
        cushions = [(_CUSHION + name, cushion_name(name)) for name in CUSHIONS]
        fill_choices(self.first, balls or [("", tr("no ball yet"))])
        edges = [*balls, *cushions]
        fill_choices(self.second, edges)
        if self.second.currentData() == self.first.currentData():
            choose(self.second, edges[min(1, len(edges) - 1)][0])
        self.add.setEnabled(bool(balls))
        gap_ids = [gap.id for gap in routine.gaps]
        if self._selected not in gap_ids:
            self._selected = gap_ids[0] if gap_ids else ""
        rows = [
            (gap.id, (gap_name(routine, gap), *self._verdict(gap.id)), None) for gap in routine.gaps
        ]
        fill_list(self.list, rows, self._selected)
        self.remove.setEnabled(bool(self._selected))
        self.title.setEnabled(bool(self._selected))
        self.title.show_text(routine.gap(self._selected).title if self._selected else "")
        self._show_claims()

    def _show_claims(self) -> None:
        """Each claim with whether it holds; pointed at, what was found."""
        told = claims_told(self.session.wording, self.session.answer)
        while self.claims.count() > len(told):
            self.claims.takeItem(self.claims.count() - 1)
        for at, (said, holds, why) in enumerate(told):
            item = self.claims.item(at)
            if item is None:
                item = QListWidgetItem()
                self.claims.addItem(item)
            item.setText(f"{holds} {said}")
            item.setToolTip(why)
        self.remove_claim.setEnabled(bool(told))

    def point_at(self, gap_id: str = "", claim: int | None = None) -> None:
        """Select a gap, or a claim by its place (0 is first)."""
        if gap_id:
            self._selected = gap_id
        self.catch_up_now()
        if claim is not None:
            self.claims.setCurrentRow(claim)

    def fill_offer(self) -> None:
        """List what holds of the shot on show, to be claimed."""
        self.offer.clear()
        session = self.session
        offers: list[Claim] = []
        if session.answer is not None and session.answer_is_full:
            offers = claims_on_offer(session.routine, session.answer, session.shown_shot)
        if not offers:
            self.offer.addAction(tr("Nothing more to claim yet")).setEnabled(False)
        for one in offers:
            entry = self.offer.addAction(claim(session.wording, one))
            entry.triggered.connect(lambda _=False, c=one: session.gaps.add_claim(c))

    def _verdict(self, gap_id: str) -> tuple[str, str]:
        answer, shot = self.session.answer, self.session.shown_shot
        verdicts = answer.verdicts if answer is not None else ()
        for one in verdicts:
            if one.gap == gap_id and one.shot == shot:
                width = length_text(one.width_mm, self.session.view.unit)
                return width, reachable(one)
        if not shot:
            return "", tr("no shot yet")
        return "", "" if self.session.answer_is_full else tr("waiting")

    def _on_add(self) -> None:
        first, second = self.first.currentData(), self.second.currentData()
        if second.startswith(_CUSHION):
            gap_id = self.session.gaps.add_beside_cushion(first, second.removeprefix(_CUSHION))
        elif first == second:
            self.session.messages.warn(
                tr("A gap lies between two different balls."),
                tr("Choose another ball or a cushion."),
            )
            return
        else:
            gap_id = self.session.gaps.add_between_balls(first, second)
        self._selected = gap_id or self._selected
        self.catch_up_now()

    def _on_selected(self) -> None:
        if not self.filling:
            self._selected = key_of(self.list)
            self.catch_up_now()

    def _on_remove_claim(self) -> None:
        if self.claims.selectedItems():
            self.session.gaps.remove_claim(self.claims.currentRow())
        else:
            self.session.messages.warn(
                tr("No claim is selected."), tr("Click the claim to be removed.")
            )

    def _lay_out(self) -> None:
        edges = QGridLayout()
        edges.addWidget(QLabel(tr("Between")), 0, 0)
        edges.addWidget(self.first, 0, 1)
        edges.addWidget(QLabel(tr("and")), 1, 0)
        edges.addWidget(self.second, 1, 1)
        edges.addWidget(self.add, 1, 2)
        edges.setColumnStretch(1, 1)
        named = QHBoxLayout()
        named.addWidget(QLabel(tr("Name")))
        named.addWidget(self.title, 1)
        named.addWidget(self.remove)
        buttons = QHBoxLayout()
        buttons.addWidget(self.add_claim, 1)
        buttons.addWidget(self.remove_claim)
        heading = QLabel(tr("Claims of the routine"))
        heading.setObjectName("heading")
        layout = QVBoxLayout(self)
        layout.addLayout(edges)
        layout.addWidget(self.list, 1)
        layout.addLayout(named)
        layout.addWidget(heading)
        layout.addWidget(self.claims, 1)
        layout.addLayout(buttons)
        layout.addStretch(0)


def claims_told(wording: Wording, answer: RoutineAnswer | None) -> list[tuple[str, str, str]]:
    """Each claim of the routine: what it says, whether it holds, and what was found."""
    results = {one.index: one for one in (answer.claims if answer is not None else ())}
    told = []
    for index, said in enumerate(wording.routine.claims):
        one = results.get(index)
        holds = tr("waiting:") if one is None else "✓" if one.holds else tr("✕ FAILS:")
        why = "" if one is None else first_up(found(wording, one))
        told.append((claim(wording, said), holds, why))
    return told
