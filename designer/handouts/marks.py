"""The marks on the cloth, listed for whoever sets the table: form, place, and what each is for."""

from __future__ import annotations

from reportlab.platypus import Flowable

from designer.handouts.sheet import Sheet
from designer.handouts.styles import RULE, Grid, bold, paragraph, table_style, words
from designer.texts import mark, tr
from designer.words.names import MARK_NAMES, cushion_side
from engine.placement import MarkPlacement, mark_placements
from engine.units import length_text

CAUTION = mark("Chalk or removable marks, only with the club’s permission; nothing adhesive.")
_SHARES = {"mm": (0.08, 0.16, 0.19, 0.17, 0.4), "inch": (0.08, 0.16, 0.18, 0.26, 0.32)}


def marks_story(sheet: Sheet, width: float) -> list[Flowable]:
    """Heading, caution and table; nothing when the routine marks nothing."""
    placed = mark_placements(sheet.routine)
    if not placed:
        return []
    heads = ("", tr("Mark"), tr("from"), tr("place"), tr("for"))
    rows: list[list] = [[paragraph(bold(head) if head else "", "small") for head in heads]]
    spans: list[tuple] = []
    for one in placed:
        start = len(rows)
        rows += _rows(sheet, one)
        if one.end == 1:
            ends = sum(other.mark == one.mark for other in placed)
            last = start + 2 * ends - 1
            spans += [("SPAN", (column, start), (column, last)) for column in (0, 4)]
            spans += [("LINEBELOW", (0, last), (-1, last), 0.4, RULE)]
            spans += [("NOSPLIT", (0, start), (-1, last))]
        spans.append(("SPAN", (1, start), (1, start + 1)))
    style = table_style(*spans, ruled=False)
    columns = [width * share for share in _SHARES[sheet.unit]]
    return [
        paragraph(words(tr("Marks on the cloth")), "heading"),
        paragraph(words(tr(CAUTION)), "small"),
        Grid(rows, columns, repeatRows=1, style=style, hAlign="LEFT"),
    ]


def _rows(sheet: Sheet, one: MarkPlacement) -> list[list]:
    """One row a reading; number, form and note in the first."""
    form = tr(MARK_NAMES[one.kind])
    if one.kind == "line":
        form = tr("line from") if one.end == 1 else tr("to")
    rows = []
    for index, reading in enumerate((one.across, one.along)):
        first = not index
        length = length_text(reading.centre_mm, sheet.unit).removesuffix(" mm")
        cells = (
            bold(str(one.number)) if first and one.end == 1 else "",
            words(form) if first else "",
            words(cushion_side(reading.cushion)),
            bold(length),
            words(one.note) if first and one.end == 1 else "",
        )
        rows.append([paragraph(cell, "small") if cell else "" for cell in cells])
    return rows
