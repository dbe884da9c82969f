"""Close-ups beside a shot's answers: the contact on the object ball, the tip on the cue ball."""

from __future__ import annotations

from collections.abc import Callable

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from designer.drawing import Drawing, Look, contact_drawing, tip_drawing
from designer.handouts.figure import Figure
from designer.handouts.gap_story import verdicts_of
from designer.handouts.papers import GUTTER
from designer.handouts.sheet import Sheet
from designer.handouts.styles import Grid, bold, paragraph, table_style
from designer.texts import tr
from engine.results import ShotAnswer

#: Height of the close-ups, points, and share of the width for the contact's two views.
_HEIGHT = 34.0 * mm
_CONTACT_SHARE = 0.52
#: Text to begin fitting with: these drawings are about as large as what they show.
_LOOK = Look().at_scale(1.0)


def closeup_story(sheet: Sheet, answer: ShotAnswer, width: float) -> list[Flowable]:
    """The close-ups side by side; nothing for a shot with neither pot nor lanes."""
    makers: list[tuple[str, float, Callable[[Look], Drawing]]] = []
    pot = answer.pot
    if pot is not None:
        makers.append(
            (tr("Contact"), _CONTACT_SHARE, lambda look: contact_drawing(sheet.routine, pot, look))
        )
    if answer.lanes:
        verdicts = verdicts_of(sheet, answer)
        title = tr("Tip on the cue ball, mm")
        if any(verdict.reachable and verdict.windows for verdict in verdicts):
            title = tr("Tip on the cue ball, mm; bars: gaps")
        makers.append((title, 1.0 - _CONTACT_SHARE, lambda look: tip_drawing(
            sheet.routine, answer.lanes, verdicts, look)))  # fmt: skip
    if not makers:
        return []
    columns = [width * share for _, share, _ in makers]
    figures = [
        Figure(make, column - GUTTER / 2, _HEIGHT, _LOOK)
        for (_, _, make), column in zip(makers, columns, strict=True)
    ]
    titles = [paragraph(bold(title), "small") for title, _, _ in makers]
    style = table_style(head=False, ruled=False)
    return [Grid([titles, figures], columns, style=style, hAlign="LEFT")]
