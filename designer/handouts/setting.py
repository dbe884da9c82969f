"""The part of a sheet that sets the table: measured drawing, readings, notes and cautions."""

from __future__ import annotations

from reportlab.platypus import Flowable, Table

from designer.drawing import PLACEMENT_LAYERS, Drawing, Look, build_drawing
from designer.drawing.lettering import printed_letters
from designer.handouts.figure import Figure
from designer.handouts.papers import Box
from designer.handouts.sheet import Sheet
from designer.handouts.styles import RULE, bold, paragraph, table_style, words
from engine.answers.values import BallPlacement
from engine.units import length_text

CAUTIONS = (
    "Mark places with chalk or with removable marks, and only with the club's permission.",
    "Put nothing adhesive on the cloth.",
)
#: Height of a row that names a spot, points.
_SPOT_ROW = 12.0

TRY_IT = "The lanes are predictions: try them on the table before you teach them."


def setting_figure(sheet: Sheet, box: Box) -> Figure:
    """The measured drawing, as large as the box allows."""

    def make(look: Look) -> Drawing:
        return build_drawing(sheet.routine, sheet.answer, PLACEMENT_LAYERS, sheet.unit, look=look)

    return Figure(make, box.width, box.height)


def setting_words(sheet: Sheet, width: float, scale: float) -> list[Flowable]:
    """Readings of every ball, how to read them, and the cautions."""
    unit = "inches to the nearest 1/16" if sheet.unit == "inch" else "whole millimetres"
    story: list[Flowable] = [
        paragraph("Setting the table", "heading"),
        placement_table(sheet, width),
        paragraph(
            f"In {unit}, from the cushion face to the ball’s centre; <b>edge</b> is to the ball’s "
            "near edge. Left and right as seen from baulk, bottom is the baulk end. "
            f"Drawn at 1:{scale:.1f}.",
            "small",
        ),
        paragraph("Care of the cloth", "heading"),
    ]
    return story + [paragraph(line, "small") for line in CAUTIONS]


def placement_table(sheet: Sheet, width: float) -> Flowable:
    """Two rows a ball: from the long cushion, from the end cushion; to the centre, to the edge."""
    if not sheet.answer.placements:
        return paragraph("No balls placed yet.", "small")
    rows = [[paragraph(f"<b>{name}</b>", "small") for name in ("Ball", "from", "centre", "edge")]]
    letters = printed_letters(sheet.routine)
    spans: list[tuple] = []
    heights: list[float | None] = [None]
    for placement in sheet.answer.placements:
        start = len(rows)
        rows += _rows(sheet, placement, letters)
        spans.append(("SPAN", (0, start), (0, len(rows) - 1)))
        spans.append(("LINEBELOW", (0, len(rows) - 1), (-1, len(rows) - 1), 0.4, RULE))
        spans.append(("NOSPLIT", (0, start), (-1, len(rows) - 1)))
        if placement.spot:
            spans.append(("SPAN", (1, start), (-1, start)))
        # A row that spans columns would be measured as if it stood in the first of them.
        heights += [
            _SPOT_ROW if placement.spot and row == start else None
            for row in range(start, len(rows))
        ]
    columns = [width * share for share in (0.145, 0.225, 0.335, 0.295)]
    style = table_style(*spans, ruled=False)
    return Table(rows, columns, heights, repeatRows=1, style=style, hAlign="LEFT")


def _rows(sheet: Sheet, placement: BallPlacement, letters: dict[str, str]) -> list[list]:
    name = bold(letters.get(placement.ball) or placement.letter or placement.ball)
    rows: list[list] = []
    if placement.spot:
        spot = placement.spot.removesuffix(" spot")
        rows.append([paragraph(f"<b>on the {words(spot)} spot</b>", "small"), "", ""])
    for reading in (placement.across, placement.along):
        centre, edge = _figure(reading.centre_mm, sheet), _figure(reading.edge_mm, sheet)
        cells = (words(reading.cushion), f"<b>{centre}</b>", edge)
        rows.append([paragraph(cell, "small") for cell in cells])
    return [[paragraph(name, "small") if not index else "", *row] for index, row in enumerate(rows)]


def _figure(length_mm: float, sheet: Sheet) -> str:
    return length_text(length_mm, sheet.unit).removesuffix(" mm")


def ids_key(sheet: Sheet) -> list[Flowable]:
    """Which printed letter is which ball of the file, where the two names differ."""
    letters = printed_letters(sheet.routine)
    told = [
        f"{letters[ball.id]} is {ball.id}"
        for ball in sheet.routine.balls
        if ball.id not in (ball.kind, letters[ball.id]) and letters[ball.id]
    ]
    return (
        [paragraph(words("In the routine file " + ", ".join(told) + "."), "small")] if told else []
    )
