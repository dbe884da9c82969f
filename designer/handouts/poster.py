"""A poster for the wall: one shot on a page, its question legible from three metres on A3.

The set-up with lettered ends, the question and the strokes to choose from; it tells no answer.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak

from designer.drawing import QUESTION_LAYERS, Drawing, Look, build_drawing
from designer.handouts.figure import table_figure
from designer.handouts.heads import sheet_head
from designer.handouts.insets import inset_story
from designer.handouts.pages import Handout
from designer.handouts.player import question_of
from designer.handouts.sheet import Sheet
from designer.handouts.shot_story import tip_face
from designer.handouts.stacking import stacked_height
from designer.handouts.strokes import by_number, inside_style
from designer.handouts.styles import Grid, Words, bold, paragraph, styles, table_style, words
from designer.handouts.unplayable import ASK_YOUR_COACH, cannot_be_played
from designer.texts import tr
from designer.words.figures import pace
from engine.results import ShotAnswer
from engine.routine.values import Shot

#: Sizes of the question's text to try, points: capitals of the largest are 12 mm high, a 250th of
#: three metres; and the least share of the page for the drawing.
_POINTS = (48.0, 42.0, 36.0, 30.0, 26.0, 22.0, 18.0)
_LEAST_DRAWING = 0.4
#: Tip face and words of a stroke, and letters on the drawing: points on A4, larger on larger paper.
_FACE, _STROKE, _LETTERS = 26.0 * mm, 24.0, 22.0
_A4_WIDE = 210.0 * mm


def poster_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """A page for each shot."""
    story = sheet_head(sheet, document, tr("Poster"))
    pages = [_page(sheet, document, shot, answer) for _, shot, answer in sheet.shots()]
    pages = pages or [_page(sheet, document, Shot(""), None)]
    for page, following in pairwise([*pages, []]):
        story += [*page, PageBreak()] if following else page
    return story


def _page(sheet: Sheet, document: Handout, shot: Shot, answer: ShotAnswer | None) -> list[Flowable]:
    body, lying = document.paper.body, document.paper.width < document.paper.height
    told: list[Flowable] = []
    room = body.height - 8.0 * mm
    larger = min(document.paper.width, document.paper.height) / _A4_WIDE
    below = [*_strokes(sheet, shot, answer, body.width, larger)]
    if shot.id and cannot_be_played(answer):
        below.append(paragraph(bold(tr(ASK_YOUR_COACH)), "lead"))
    for size in _POINTS:
        told = [_large(words(question_of(shot, answer)), size)]
        left = room - stacked_height([*told, *below], body.width)
        if left >= _LEAST_DRAWING * room:
            break

    def make(look: Look) -> Drawing:
        return build_drawing(
            sheet.routine, sheet.answer, QUESTION_LAYERS, sheet.unit, look=look, shot=shot.id
        )

    height = max(left, _LEAST_DRAWING * room)
    look = Look(turned=lying, points=_LETTERS * larger)
    drawn = table_figure(sheet.routine, make, body.width, height, look)
    return [*told, drawn, *below, *inset_story(sheet, drawn.drawing.crowded, body.width, lying)]


def _large(markup: str, size: float) -> Flowable:
    style = ParagraphStyle("poster", styles()["strong"], fontSize=size, leading=1.2 * size,
                           spaceAfter=4.0 * mm)  # fmt: skip
    return Words(markup, style)


def _strokes(
    sheet: Sheet, shot: Shot, answer: ShotAnswer | None, width: float, larger: float
) -> list[Flowable]:
    """The strokes to choose from, in a row."""
    lanes = by_number(sheet, shot, answer)
    if len(lanes) < 2:
        return []
    across = min(len(lanes), max(1, int(width / ((_FACE + 36.0 * mm) * larger))))
    across = ceil(len(lanes) / ceil(len(lanes) / across))  # rows of one length
    cells: list = []
    wide = _FACE * larger
    for number, lane in lanes.items():
        face = tip_face(sheet.conditions, (lane.tip_height, lane.side), wide)
        told = _large(f"{bold(str(number))}<br/>{words(pace(lane.pace))}", _STROKE * larger)
        cells.append(Grid([[face, told]], [wide + 6.0, None], style=inside_style(), hAlign="LEFT"))
    cells += [""] * (-len(cells) % across)
    rows = [cells[at : at + across] for at in range(0, len(cells), across)]
    style = table_style(ruled=False, head=False)
    return [Grid(rows, [width / across] * across, style=style, hAlign="LEFT")]
