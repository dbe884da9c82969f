"""Practice records: an empty table to write into, under the player's initials only."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, NextPageTemplate

from designer.handouts.pages import Handout, Head, PageHead
from designer.handouts.sheet import Sheet
from designer.handouts.styles import RULE, Grid, bold, paragraph, table_style, words
from designer.handouts.unplayable import ASK_YOUR_COACH, cannot_be_played
from designer.texts import mark, tr

ROW_HEIGHT = 8.5 * mm
#: Room for the heading, the line for initials and the notes on a page of its own, points.
_ABOVE = 34.0 * mm

INITIALS_ONLY = mark(
    "Write initials only, no name and no date of birth: of players under 18 keep no more than "
    "initials."
)


def practice_record(width: float, rows: int, shots: int = 1) -> list[Flowable]:
    """A table to write practice into; with several shots there is a column for which one."""
    names = [tr("Date"), tr("Attempts"), tr("Made"), tr("Notes")]
    shares = [0.22, 0.19, 0.15, 0.44]
    if shots > 1:
        names.insert(1, tr("Shot"))
        shares = [0.2, 0.11, 0.17, 0.14, 0.38]
    head = [paragraph(bold(name), "small") for name in names]
    style = table_style(("INNERGRID", (0, 0), (-1, -1), 0.4, RULE))
    heights = [None] + [ROW_HEIGHT] * rows
    empty = [[""] * len(names) for _ in range(rows)]
    columns = [width * share for share in shares]
    return [
        paragraph(words(tr("Practice record")), "heading"),
        paragraph(words(tr("Player’s initials: ____________")), "body"),
        Grid([head, *empty], columns, heights, style=style, hAlign="LEFT", repeatRows=1),
        paragraph(words(tr(INITIALS_ONLY)), "small"),
    ]


def record_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """A page for the practice of one routine."""
    body = document.paper.body
    line = f"{tr('Practice record')}  ·  {sheet.maker_line}"
    head = Head(sheet.title, line, sheet.title, key=sheet.key)
    shots = sheet.routine.shots
    story: list[Flowable] = [PageHead(document, head)]
    for number, shot, answer in sheet.shots():
        told = shot.question or tr("Where does the cue ball go?")
        if len(shots) > 1:
            told = tr("Shot {number}: {claim}", number=number, claim=told)
        story.append(paragraph(words(told), "small"))
        if cannot_be_played(answer):
            story.append(paragraph(bold(tr(ASK_YOUR_COACH)), "small"))
    above = sum(part.wrap(body.width, body.height)[1] + 3.0 for part in story[1:])
    rows = max(4, int((body.height - above - _ABOVE) / ROW_HEIGHT))
    return [*story, *practice_record(body.width, rows, len(shots)), NextPageTemplate("more")]
