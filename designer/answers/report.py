"""The report: every gap in every shot, chances, errors forgiven, set-up tolerance, lanes apart."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QLabel,
    QScrollArea,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from designer.open_routine import OpenRoutine
from designer.open_routine.task import Progress
from designer.texts import mark, tr, tr_count
from designer.widgets.lists import Row, bare_list, fill_list, key_of
from designer.widgets.side_window import WorkBar, WorkingWindow
from designer.words.claims import pair, tolerance
from designer.words.facts import fact
from designer.words.figures import chance, first_up
from designer.words.gaps import chances, forgiven, reachable, slivers, verdict
from designer.words.names import shot_name
from designer.words.wording import Wording
from engine.results import BallTolerance, Choice, GapVerdict
from engine.routine.values import Routine

#: Column of the first level's chance.
FIRST_LEVEL = 4
TITLE = mark("Report on the routine")
NO_GAPS = mark("The routine has no gaps yet.")
WAITING = mark("The verdicts are being worked out …")
NO_CLAIMS = mark(
    "Set-up tolerance says how far each ball may lie from its place before a claim of the routine "
    "changes. It needs claims that hold: add them on the Gaps tab."
)
TELL = mark("How far may each ball lie from its place before a claim of the routine changes?")
OLD = mark("The routine has changed since: work it out again.")


class ReportDialog(WorkingWindow):
    """Three lists: gaps with details of the selected one, tolerances of balls, lanes apart."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, tr(TITLE), parent)
        self.resize(1000, 540)
        self._for: Routine | None = None
        self._levels: tuple[str, ...] = ()
        self._found: tuple[BallTolerance, ...] = ()
        self.gaps = bare_list((tr("Gap"), tr("Shot"), tr("Verdict"), tr("What stops it")), wide=0)
        self.gaps.setAccessibleName(tr("Verdicts on gaps"))
        self.gaps.itemSelectionChanged.connect(self._on_selected)
        self.detail = _text(tr("Details of the selected verdict"))
        self.balls = bare_list((tr("Ball"), tr("May lie off by"), tr("What changes first")), wide=2)
        self.balls.setAccessibleName(tr("Set-up tolerance"))
        self.tolerance_note = _text(tr("About set-up tolerance"))
        self.work = WorkBar(tr("Work out"), tr("set-up tolerance"))
        self.work.begun.connect(self._on_work)
        self.work.task.finished.connect(self._on_found)
        self.work.task.failed.connect(self._on_failed)
        self.work.kept.connect(self.tolerance_note.setText)
        self.lanes = bare_list(
            (tr("Lanes"), tr("Apart"), tr("A player’s guess"), tr("Shot")), wide=2
        )
        self.lanes.setAccessibleName(tr("Lanes apart"))
        self.lanes_note = _text(tr("About lanes apart"))
        self._lay_out()

    def refresh(self) -> None:
        """Show what the full answer has, and whether the tolerances still belong to it."""
        self._show_gaps()
        self._show_tolerance()
        self._show_lanes()

    # Gaps ------------------------------------------------------------------------------------

    def _show_gaps(self) -> None:
        session, routine = self.session, self.session.routine
        verdicts, wording = self._verdicts(), session.wording
        self._name_levels(tuple(player.name for player in session.levels.players))
        rows: list[Row] = []
        for key, one in verdicts.items():
            told_for = {} if one.choice is None else {n: c for n, c, _, _ in one.choice.chances}
            shares = [chance(told_for[n]) if n in told_for else "" for n in self._levels]
            name, shot = first_up(wording.gap(one.gap)), first_up(shot_name(routine, one.shot))
            limit = fact(wording, one.limit) if one.limit is not None else ""
            rows.append((key, (name, shot, reachable(one), limit, *shares), None))
        chosen = key_of(self.gaps) or next(iter(verdicts), "")
        fill_list(self.gaps, rows, chosen)
        shown = verdicts.get(chosen)
        if shown is not None:
            text = detail_html(wording, shown)
        else:
            text = tr(WAITING if routine.gaps else NO_GAPS)
        if self.detail.text() != text:
            self.detail.setText(text)

    def _name_levels(self, names: tuple[str, ...]) -> None:
        """A column for the chance of every level, headed by its name."""
        if names != self._levels:
            self._levels = names
            levels = [first_up(tr(name)) for name in names]
            self.gaps.setColumnCount(FIRST_LEVEL + len(levels))
            heads = (tr("Gap"), tr("Shot"), tr("Verdict"), tr("What stops it"))
            self.gaps.setHeaderLabels([*heads, *levels])

    def _verdicts(self) -> dict[str, GapVerdict]:
        answer, routine = self.session.answer, self.session.routine
        if answer is None or not self.session.answer_is_full:
            return {}
        gaps, shots = {g.id for g in routine.gaps}, {s.id for s in routine.shots}
        return {
            f"{one.shot}/{one.gap}": one
            for one in answer.verdicts
            if one.gap in gaps and one.shot in shots
        }

    def _on_selected(self) -> None:
        if not self.filling:
            self.catch_up()

    # Set-up tolerance ------------------------------------------------------------------------

    def _show_tolerance(self) -> None:
        routine = self.session.routine
        present = {ball.id for ball in routine.balls}
        rows: list[Row] = [
            (one.ball, tolerance(self.session.wording, one), None)
            for one in sorted(self._found, key=lambda one: one.tolerance_mm)
            if one.ball in present and (one.claim is None or one.claim < len(routine.claims))
        ]
        fill_list(self.balls, rows, key_of(self.balls))
        note = tr(TELL if routine.claims else NO_CLAIMS)
        if self._for is not None and self._for is not routine:
            note = tr(OLD)
        if not self.work.task.running:  # what is said of the work stays
            self.tolerance_note.setText(note)
        self.work.begin.setEnabled(bool(routine.claims) and not self.work.task.running)

    def _on_work(self) -> None:
        routine = self.session.routine

        def work(progress: Progress) -> object:
            from engine.answers import set_up_tolerance

            return routine, set_up_tolerance(routine, progress)

        self.work.start(work)

    def _on_found(self, found: tuple[Routine, tuple[BallTolerance, ...]]) -> None:
        self._for, self._found = found
        self.catch_up()
        if self._for is not self.session.routine:
            return
        if self.work.task.called_off:
            count = len(self.session.routine.balls) - len(self._found)
            self.tolerance_note.setText(
                tr_count(
                    "Cancelled: {count} ball was not looked at.",
                    "Cancelled: {count} balls were not looked at.",
                    count,
                )
            )
        elif not self._found:
            self.tolerance_note.setText(tr("No claim holds, so none can change."))

    def _on_failed(self, words: str) -> None:
        self.tolerance_note.setText(tr("There is no set-up tolerance: {words}", words=words))

    # Lanes apart -----------------------------------------------------------------------------

    def _show_lanes(self) -> None:
        session, routine = self.session, self.session.routine
        answer = session.answer
        shots = answer.shots if answer is not None and session.predictions.is_ready else ()
        known = {shot.id for shot in routine.shots}
        rows: list[Row] = []
        unsure = 0
        for shot in shots:
            if shot.shot not in known:
                continue
            from engine.answers import lane_pairs

            for two in lane_pairs(shot):
                key = f"{shot.shot}/{two.one}/{two.two}"
                words = pair(session.wording, two)
                rows.append((key, (*words, first_up(shot_name(routine, shot.shot))), None))
                unsure += not two.apart
        fill_list(self.lanes, rows, key_of(self.lanes))
        note = tr("Measured where the player points: the first cushion, or where the lane ends.")
        if unsure:
            close = tr_count(
                "{count} pair of lanes lies too close for a guess to tell them apart.",
                "{count} pairs of lanes lie too close for a guess to tell them apart.",
                unsure,
            )
            note = f"<b>{close}</b> {note}"
        self.lanes_note.setText(note)
        title = tr("Lanes apart (note)") if unsure else tr("Lanes apart")
        self.parts.setTabText(2, title)

    # Layout ----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        detail = QScrollArea()
        detail.setWidget(self.detail)
        detail.setWidgetResizable(True)
        gaps = QWidget()
        column = QVBoxLayout(gaps)
        column.addWidget(self.gaps, 1)
        column.addWidget(detail, 2)
        self.parts = QTabWidget()
        self.parts.addTab(gaps, tr("Gaps"))
        self.parts.addTab(_page(self.tolerance_note, self.work, self.balls), tr("Set-up tolerance"))
        self.parts.addTab(_page(self.lanes_note, self.lanes), tr("Lanes apart"))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.close)
        layout = QVBoxLayout(self)
        layout.addWidget(self.parts, 1)
        layout.addWidget(buttons)


def _page(*parts: QWidget) -> QWidget:
    page = QWidget()
    column = QVBoxLayout(page)
    for part in parts:
        column.addWidget(part)
    column.addStretch(1)
    return page


def _text(name: str) -> QLabel:
    label = QLabel()
    label.setAccessibleName(name)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.RichText)
    label.setMargin(4)
    label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label


def detail_html(wording: Wording, found: GapVerdict) -> str:
    """Everything about one verdict: sentences, chances, what its best strike forgives, slivers."""
    head = tr(
        "{gap}, {shot}, {length} wide",
        gap=first_up(wording.gap(found.gap)),
        shot=shot_name(wording.routine, found.shot),
        length=wording.length(found.width_mm),
    )
    parts = [f"<p><b>{escape(head)}</b></p>", _paragraph(verdict(wording, found))]
    if found.choice is not None:
        parts.append(_choice_html(wording, found.choice))
    return "".join([*parts, _paragraph(slivers(found)) if found.slivers else ""])


def _choice_html(wording: Wording, choice: Choice) -> str:
    rows = "".join(
        f"<tr><td>{escape(name)}</td><td align='right'><b>{share}</b></td>"
        f"<td>{f'({spread})' if spread else ''}</td></tr>"
        for name, share, spread in chances(choice)
    )
    errors = "".join(f"<br>{escape(first_up(line))}" for line in forgiven(wording, choice))
    return (
        _paragraph(tr("Chance, if the players’ errors are as assumed:"))
        + f"<table cellpadding='2'>{rows}</table>"
        + f"<p>{escape(tr('Largest error it forgives, each alone:'))}{errors}</p>"
    )


def _paragraph(words: str) -> str:
    return f"<p>{escape(words)}</p>"
