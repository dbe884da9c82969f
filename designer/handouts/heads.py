"""The head of a routine's sheet: what it is, for which table and cloth, of which revision."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from designer.fonts.metrics import lacking, text_width
from designer.handouts.pages import LINE_POINTS, TITLE_POINTS, Handout, Head, PageHead
from designer.handouts.papers import MARGIN
from designer.handouts.sheet import Sheet
from designer.handouts.styles import bold, paragraph, words
from designer.texts import tr
from designer.words.tables import cloth_word
from engine.routine.identity import revision_of


def sheet_head(sheet: Sheet, document: Handout, kind: str) -> list[Flowable]:
    """The head of the first page and those after it; a title too long for it stands below it."""
    table = "  ·  ".join((tr(sheet.table.title), cloth_word(sheet.table, sheet.conditions)))
    unit = tr("inches to 1/16") if sheet.unit == "inch" else tr("millimetres")
    state = tr("revision {revision}, {day}", revision=revision_of(sheet.routine), day=document.day)
    side_line = "  ·  ".join((unit, state))
    line = "  ·  ".join(part for part in (kind, sheet.maker_line) if part)
    head = Head(sheet.title, line, sheet.title, sheet.key, table, side_line)
    story: list[Flowable] = [PageHead(document, head)]
    room = document.paper.width - 2 * MARGIN - text_width(table, LINE_POINTS, True) - 3.0 * mm
    if text_width(sheet.title, TITLE_POINTS, True) > room:
        story.append(paragraph(bold(sheet.title), "lead"))
    if lacking(_written(sheet)):
        told = tr(
            "Some characters are not in the fonts of this sheet (Latin, Greek and Cyrillic are): "
            "they are printed as {sign}.",
            sign="\N{REPLACEMENT CHARACTER}",
        )
        story.append(paragraph(words(told), "small"))
    return story


def _written(sheet: Sheet) -> str:
    """All that people have written for the routine, as far as its reader is told it."""
    routine = sheet.routine
    told = [routine.title, routine.coach, routine.club]
    told += [shot.question for shot in routine.shots]
    told += [gap.title for gap in routine.gaps] + [mark.note for mark in routine.cloth_marks]
    if sheet.audience == "coach":
        told += [routine.notes]
        told += [text for shot in routine.shots for text in (shot.title, shot.answer, shot.note)]
        told += [lane.title for shot in routine.shots for lane in shot.lanes]
    return "".join(told)
