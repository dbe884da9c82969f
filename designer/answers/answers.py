"""The answers: is the pot on, which lanes clear or touch what, which gaps can be reached."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from designer.answers.answer_html import (
    BAD,
    GOOD,
    SOFT,
    claims_html,
    gap_html,
    pot_told,
    problems_html,
)
from designer.open_routine import OpenRoutine
from designer.texts import mark, tr
from designer.widgets.badges import LANE_ICON_SIZE, lane_icon
from designer.widgets.lists import Row, bare_list, fill_list, key_of
from designer.widgets.panel import Panel
from designer.widgets.tones import toned
from designer.words.facts import fact
from designer.words.lanes import by_room, clearance, cushions_in_short, ending, lane_in_short
from designer.words.strikes import lane_strike

PREDICTION = mark(
    "A prediction, to be tried on the table. How far lanes may stray, in the view, shows the doubt."
)
#: Shares of the room for pot, lanes, and gaps with claims.
LYING_SHARES, UPRIGHT_SHARES = (5, 12, 8), (3, 5, 6)
NOT_READY = mark("Predictions are being prepared …")


class AnswersPanel(Panel):
    """Three parts side by side (or one above the other): pot, lanes, gaps and claims."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName(tr("Answers"))
        self.pot = _words(tr("Pot"))
        self.lanes = bare_list(
            (tr("Lane"), tr("Strike"), tr("Balls on its way"), tr("First cushion")), wide=1
        )
        self.lanes.setIconSize(LANE_ICON_SIZE)
        self.lanes.setAccessibleName(tr("Predicted lanes"))
        self.lanes.itemSelectionChanged.connect(self._on_selected)
        self.detail = _words(tr("Selected lane"))
        self.detail.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.gaps = _words(tr("Gaps and claims"))
        self._parts = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._parts.setContentsMargins(8, 4, 8, 4)
        self._parts.setSpacing(12)
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.lanes, 1)
        column.addWidget(self.detail)
        column.addStretch(0)
        for part in (_scrolled(self.pot), middle, _scrolled(self.gaps)):
            self._parts.addWidget(part)
        session.answered.connect(self.refresh_soon)

    def stack(self, upright: bool) -> None:
        """Lay the three parts one above the other, or side by side."""
        ways = QBoxLayout.Direction
        self._parts.setDirection(ways.TopToBottom if upright else ways.LeftToRight)
        for part, share in enumerate(UPRIGHT_SHARES if upright else LYING_SHARES):
            self._parts.setStretch(part, share)

    def refresh(self) -> None:
        """Show the answer of the shot on show."""
        session = self.session
        self._show_pot()
        self._show_lanes()
        answer = session.answer
        if answer is None:
            _set(self.gaps, "")
            return
        wording = session.wording
        gaps = gap_html(wording, answer, session.shown_shot, session.answer_is_full)
        texts = problems_html(wording, answer) + gaps + claims_html(wording, answer)
        if session.routine.claims and not session.answer_is_full and session.predictions.is_ready:
            texts += _soft(tr("Claims are being checked."))
        _set(self.gaps, texts or _soft(tr("No gaps or claims yet.")))

    def _show_pot(self) -> None:
        session, shot = self.session, self.session.shot_answer
        note = _soft(tr(PREDICTION))
        if not session.predictions.is_ready:
            _set(self.pot, f'<p class="head"><b>{tr(NOT_READY)}</b></p>')
            return
        if shot is None:
            todo = tr("Choose an object ball and a pocket, or double-click them on the table.")
            _set(self.pot, f"<p><b>{tr('No shot yet')}</b></p><p>{todo}</p>")
            return
        head, on, lines = pot_told(session.wording, shot)
        colour = SOFT if on is None else GOOD if on else BAD
        body = "<br>".join(escape(line) for line in lines)
        head = f'<p style="font-size:large;color:{colour}"><b>{escape(head)}</b></p>'
        _set(self.pot, f"{head}<p>{body}</p>{note}")

    def _show_lanes(self) -> None:
        session, shot = self.session, self.session.shot_answer
        rows: list[Row] = []
        asked = {lane.label: i for i, lane in enumerate(session.shot.lanes)} if session.shot else {}
        for lane in shot.lanes if shot is not None else ():
            verdict = lane_in_short(session.wording, lane)
            texts = ("", lane_strike(lane), verdict, cushions_in_short(lane))
            rows.append((lane.label, texts, lane_icon(asked.get(lane.label, 0), lane.label)))
        fill_list(self.lanes, rows, session.shown_lane)
        found = session.lane_answer
        if found is None:
            _set(self.detail, "")
            return
        wording = session.wording
        lines = [clearance(wording, one) for one in by_room(found)]
        lines += [*ending(wording, found), *(fact(wording, one) for one in found.cautions)]
        _set(self.detail, f"<b>{escape(found.label)}</b>: {escape('; '.join(lines))}.")

    def _on_selected(self) -> None:
        label = key_of(self.lanes)
        if label and not self.filling:
            self.session.point_at_lane(label)


def _soft(words: str) -> str:
    return f'<p style="color:{SOFT}">{words}</p>'


def _words(name: str) -> QLabel:
    label = QLabel()
    label.setAccessibleName(name)
    label.setTextFormat(Qt.TextFormat.RichText)
    label.setWordWrap(True)
    label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label


def _scrolled(label: QLabel) -> QScrollArea:
    area = QScrollArea()
    area.setWidget(label)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setMinimumWidth(130)
    return area


def _set(label: QLabel, text: str) -> None:
    text = toned(text)
    if label.text() != text:
        label.setText(text)
