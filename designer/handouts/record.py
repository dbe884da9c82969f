"""Practice records: an empty table to write into, under the player's initials only."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from designer.handouts.heads import sheet_head
from designer.handouts.pages import Handout
from designer.handouts.sheet import Sheet
from designer.handouts.stacking import stacked_height
from designer.handouts.strokes import stroke_numbers
from designer.handouts.styles import RULE, Grid, bold, paragraph, table_style, words
from designer.handouts.unplayable import ASK_YOUR_COACH, cannot_be_played
from designer.texts import mark, tr

_ROW = 6.5 * mm
#: Rows of a record: as many as fit, between these.
FEWEST, _MOST = 3, 8
_DATE, _STROKE = 17.0 * mm, 14.0 * mm
#: Least width of a stroke's own columns: of more strokes which one it was is written down.
_OWN = 16.5 * mm
_ON_A_PAGE = 20

INITIALS_ONLY = mark(
    "Initials only, no name and no date of birth: of players under 18 keep no more than initials."
)
_MISSES = mark("Missed: P pot, L left, R right, S short, F too far.")


def practice_record(
    width: float, height: float, strokes: Sequence[int] = (1,), most: int = _MOST
) -> list[Flowable]:
    """A table to write practice into, made and missed for each of the strokes, that fits a room.

    It has a few rows even where there is no room for them.
    """
    own = 1 <= len(strokes) <= (width - _DATE) / _OWN
    names = [str(number) for number in strokes] if own else [""]
    heads: list[list] = [[tr("Date")], [""]]
    columns = [_DATE]
    if not own:
        heads[0].append(tr("Stroke"))
        heads[1].append("")
        columns.append(_STROKE)
    first = len(columns)
    for name in names:
        heads[0] += [tr("stroke {number}", number=name) if len(strokes) > 1 and name else "", ""]
        heads[1] += [tr("made"), tr("missed")]
    each = (width - sum(columns)) / len(names)
    columns += [each * 0.47, each * 0.53] * len(names)
    spans = [("SPAN", (at, 0), (at + 1, 0)) for at in range(first, len(columns), 2)]
    style = table_style(
        ("INNERGRID", (0, 0), (-1, -1), 0.4, RULE), ("BOX", (0, 0), (-1, -1), 0.4, RULE), *spans,
        ("LEFTPADDING", (0, 0), (-1, -1), 1.2), ("RIGHTPADDING", (0, 0), (-1, -1), 0.4),
    )  # fmt: skip
    told = [
        [paragraph(bold(cell) if cell else "", "least") for cell in heads[0]],
        [paragraph(words(cell), "least") for cell in heads[1]],
    ]
    above = [
        paragraph(words(tr("Practice of (initials) ______")), "heading"),
    ]
    below = [paragraph(words(f"{tr(_MISSES)} {tr(INITIALS_ONLY)}"), "least")]

    def grid(rows: int) -> Grid:
        empty = [[""] * len(columns) for _ in range(rows)]
        heights = [None, None] + [_ROW] * rows
        return Grid([*told, *empty], columns, heights, style=style, hAlign="LEFT", repeatRows=2)

    used = stacked_height([*above, grid(0), *below], width)
    rows = min(max(int((height - used) / _ROW), FEWEST), most)
    return [*above, grid(rows), *below]


def record_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """A page for the practice of one routine."""
    body = document.paper.body
    shots = sheet.routine.shots
    story = sheet_head(sheet, document, tr("Practice record"))
    for number, shot, answer in sheet.shots():
        told = shot.question or tr("Where does the cue ball go?")
        if len(shots) > 1:
            told = tr("Shot {number}: {claim}", number=number, claim=told)
        story.append(paragraph(words(told), "small"))
        if cannot_be_played(answer):
            story.append(paragraph(bold(tr(ASK_YOUR_COACH)), "small"))
    room = body.height - stacked_height(story[1:], body.width) - 4.0
    strokes: Sequence[int] = () if len(shots) > 1 else (1,)
    if len(shots) == 1:
        ((_, shot, answer),) = sheet.shots()
        strokes = stroke_numbers(sheet, shot, answer)
    return [*story, *practice_record(body.width, room, strokes, most=_ON_A_PAGE * 2)]
