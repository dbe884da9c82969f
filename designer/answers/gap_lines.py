"""The gaps of the shot on show, a line each: tick or cross, what goes through, how hard it is."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from designer.answers.lane_list import COLOURS, SIGNS
from designer.open_routine import OpenRoutine
from designer.texts import tr
from designer.widgets.tones import SOFT, toned
from designer.words.figures import first_up
from designer.words.in_short import InShort, gap_line

#: What the links ask for.
MAP, REPORT = "map", "report"


class GapLines(QWidget):
    """`more(gap, what)` when the coach wants the reach map or the report of a gap."""

    more = Signal(str, str)

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.lines: dict[str, QLabel] = {}
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(6)

    def refresh(self) -> None:
        """One card for each gap, in the routine's order."""
        session = self._session
        gaps, wording, answer = session.routine.gaps, session.wording, session.answer
        shot, drawn = session.shot_answer, session.reach.answer_to_draw()
        if shot is None or answer is None:
            gaps = ()
        if list(self.lines) != [gap.id for gap in gaps]:
            for card in self.lines.values():
                self._layout.removeWidget(card)
                card.deleteLater()
            self.lines = {gap.id: self._card(gap.id) for gap in gaps}
        verdicts = {
            one.gap: one
            for one in (drawn.verdicts if drawn is not None else ())
            if one.shot == session.shown_shot
        }
        for gap in gaps:
            assert shot is not None
            found = gap_line(wording, gap, verdicts.get(gap.id), shot.passes)
            self._show(self.lines[gap.id], first_up(wording.gap(gap.id)), found)

    def _card(self, gap_id: str) -> QLabel:
        card = QLabel()
        card.setObjectName("card")
        card.setFrameShape(QFrame.Shape.StyledPanel)
        card.setTextFormat(Qt.TextFormat.RichText)
        card.setWordWrap(True)
        card.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse
            | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        card.linkActivated.connect(lambda what: self.more.emit(gap_id, what))
        self._layout.addWidget(card)
        return card

    def _show(self, card: QLabel, name: str, found: InShort) -> None:
        sign, colour = SIGNS[found.good], COLOURS[found.good]
        head = f'<b style="color:{colour}">{sign}</b> <b>{escape(name)}</b>'
        links = (
            f'<a href="{MAP}">{escape(tr("Map"))}</a>\u00a0 '
            f'<a href="{REPORT}">{escape(tr("More"))}</a>'
        )
        beside = f'<br><span style="color:{SOFT}">{escape(found.beside)}</span>'
        text = toned(
            f"<table width='100%' cellspacing='0'><tr><td>{head}</td>"
            f"<td align='right'>{links}</td></tr></table>"
            f"{escape(first_up(found.told))}{beside if found.beside else ''}"
        )
        if card.text() != text:
            card.setText(text)
            card.setAccessibleName(f"{name}: {found.told}")
