"""The part of a sheet that sets the table: measured drawing, readings, notes and cautions."""

from __future__ import annotations

from reportlab.platypus import Flowable, FrameBreak, NextPageTemplate

from designer.drawing import PLACEMENT_LAYERS, Drawing, Look, build_drawing
from designer.handouts.figure import Figure
from designer.handouts.marks import marks_table
from designer.handouts.pages import Handout
from designer.handouts.papers import Paper
from designer.handouts.sheet import Sheet
from designer.handouts.stacking import what_fits
from designer.handouts.styles import RULE, Grid, bold, paragraph, table_style, words
from designer.texts import mark, tr
from designer.words.figures import at_most
from designer.words.names import cushion_side, spot_name
from engine.placement import CheckDistance, checking_distances, set_up_order
from engine.results import BallPlacement
from engine.units import length_text

CAUTIONS = (
    mark("Mark places with chalk or with removable marks, and only with the club's permission."),
    mark("Put nothing adhesive on the cloth."),
)
TRY_IT = mark("The lanes are predictions: try them on the table before you teach them.")

#: Widths of the table's columns over its own, by unit and by whether tolerances are shown.
_SHARES = {
    ("mm", False): (0.09, 0.135, 0.35, 0.22, 0.205),
    ("inch", False): (0.09, 0.13, 0.242, 0.28, 0.258),
    ("mm", True): (0.09, 0.13, 0.285, 0.203, 0.18, 0.112),
    ("inch", True): (0.078, 0.11, 0.172, 0.245, 0.223, 0.172),
}

#: Room kept free below the words under the drawing, points.
_SPARE = 2.0
#: Height of a row that names a spot, points.
_SPOT_ROW = 12.0


def setting_figure(sheet: Sheet, paper: Paper) -> Figure:
    """The measured drawing, as large as the column of a setting page allows."""
    box, _ = paper.columns(paper.setting_share)

    def make(look: Look) -> Drawing:
        return build_drawing(sheet.routine, sheet.answer, PLACEMENT_LAYERS, sheet.unit, look=look)

    return Figure(make, box.width, box.height, Look(turned=paper.landscape))


def setting_story(sheet: Sheet, document: Handout, more: list[Flowable]) -> list[Flowable]:
    """A "setting" page: drawing and words on the left, the table of readings on the right.

    `more` follows the words; what does not fit below the drawing follows the table.
    """
    left, right = document.paper.columns(document.paper.setting_share)
    drawn = setting_figure(sheet, document.paper)
    told = [*setting_words(sheet, drawn.scale), *more]
    below, after = what_fits(told, left.width, left.height - drawn.height - _SPARE)
    return [
        drawn, *below, FrameBreak(), NextPageTemplate("more"),
        paragraph(words(tr("Setting the table")), "heading"), placement_table(sheet, right.width),
        *marks_table(sheet, right.width), *after,
    ]  # fmt: skip


def setting_words(sheet: Sheet, scale: float) -> list[Flowable]:
    """How to read the readings, and the cautions."""
    inch = sheet.unit == "inch"
    told = [
        tr(
            "Set the balls in the order of the table. Readings are in {unit}, from the cushion "
            "face to the ball’s centre; <b>edge</b> is to the ball’s near edge. Left and right as "
            "seen from baulk, bottom is the baulk end.",
            unit=tr("inches to the nearest 1/16") if inch else tr("whole millimetres"),
        )
    ]
    if checking_distances(sheet.routine):
        told.append(
            tr(
                "<b>check</b>: a second distance, from centre to centre and between the near "
                "edges, to a ball that stands already or to a spot; dash and dot on the drawing."
            )
        )
    if sheet.tolerances:
        told.append(
            tr(
                "<b>±</b>: set farther off than this, a ball may change what the routine claims "
                "(≥: nothing changes as far as was tried)."
            )
        )
    told.append(tr("Drawn at 1:{scale:.1f}.", scale=scale))
    story: list[Flowable] = [
        paragraph(" ".join(told), "small"),
        paragraph(words(tr("Care of the cloth")), "heading"),
    ]
    return story + [paragraph(words(tr(line)), "small") for line in CAUTIONS]


def placement_table(sheet: Sheet, width: float) -> Flowable:
    """The balls in set-up order: readings to the centre and to the edge, then a check."""
    if not sheet.answer.placements:
        return paragraph(words(tr("No balls placed yet.")), "small")
    names = ["", tr("Ball"), tr("from"), tr("centre"), tr("edge")] + ["±"] * bool(sheet.tolerances)
    rows: list[list] = [[paragraph(bold(name) if name else "", "small") for name in names]]
    spans: list[tuple] = []
    heights: list[float | None] = [None]
    checks = {check.ball: check for check in checking_distances(sheet.routine)}
    for number, placement in enumerate(in_order(sheet), start=1):
        start = len(rows)
        rows += _rows(sheet, placement, checks.get(placement.ball), number)
        end = len(rows) - 1
        spans += [("SPAN", (column, start), (column, end)) for column in (0, 1)]
        if sheet.tolerances:
            spans.append(("SPAN", (5, start), (5, end)))
        spans.append(("LINEBELOW", (0, end), (-1, end), 0.4, RULE))
        spans.append(("NOSPLIT", (0, start), (-1, end)))
        if placement.spot:
            spans.append(("SPAN", (2, start), (4, start)))
        # A row that spans columns would be measured as if it stood in the first of them.
        heights += [
            _SPOT_ROW if placement.spot and row == start else None for row in range(start, end + 1)
        ]
    shares = _SHARES[sheet.unit, bool(sheet.tolerances)]
    columns = [width * share for share in shares]
    style = table_style(*spans, ruled=False)
    return Grid(rows, columns, heights, repeatRows=1, style=style, hAlign="LEFT")


def set_up_list(sheet: Sheet, width: float, across: int) -> list[Flowable]:
    """The shortest way to tell how every ball is set: in set-up order, down so many columns."""
    told = [
        (letter_of(sheet, placement), ", ".join(set_by(sheet, placement)))
        for placement in in_order(sheet)
    ]
    down = -(-len(told) // across)
    told += [("", "")] * (down * across - len(told))
    rows = [
        [paragraph(cell, "small")
         for letter, where in told[row::down] for cell in (bold(letter), words(where))]
        for row in range(down)
    ]  # fmt: skip
    columns = [width / across * share for share in (0.16, 0.84)] * across
    return [
        paragraph(words(tr("Setting the table")), "heading"),
        Grid(rows, columns, style=table_style(head=False), hAlign="LEFT"),
    ]


def set_by(sheet: Sheet, placement: BallPlacement) -> tuple[str, ...]:
    """What a ball is set by: its spot, or its readings to the centre from two cushions."""
    if placement.spot:
        return (spot_name(placement.spot),)
    return tuple(
        f"{cushion_side(reading.cushion)} {figure(reading.centre_mm, sheet)}"
        for reading in (placement.across, placement.along)
    )


def letter_of(sheet: Sheet, placement: BallPlacement) -> str:
    """What a ball is called in a list: its printed letter, else its id."""
    return sheet.letters.get(placement.ball) or placement.letter or placement.ball


def in_order(sheet: Sheet) -> list[BallPlacement]:
    """The balls' places in the order they are set up in."""
    found = {placement.ball: placement for placement in sheet.answer.placements}
    order = [ball for ball in set_up_order(sheet.routine) if ball in found]
    return [found.pop(ball) for ball in order] + list(found.values())


def _rows(
    sheet: Sheet, placement: BallPlacement, check: CheckDistance | None, number: int
) -> list[list]:
    rows: list[list] = []
    if placement.spot:
        told = tr("on the {spot}", spot=spot_name(placement.spot))
        rows.append([paragraph(bold(told), "small"), "", ""])
    for reading in (placement.across, placement.along):
        centre, edge = figure(reading.centre_mm, sheet), figure(reading.edge_mm, sheet)
        cells = (words(cushion_side(reading.cushion)), f"<b>{centre}</b>", edge)
        rows.append([paragraph(cell, "small") for cell in cells])
    if check is not None:
        cells = (
            words(tr("check {to}", to=check_name(sheet, check))),
            figure(check.centre_mm, sheet),
            figure(check.edge_mm, sheet),
        )
        rows.append([paragraph(cell, "small") for cell in cells])
    name = letter_of(sheet, placement)
    for index, row in enumerate(rows):
        first = not index
        row[:0] = [paragraph(str(number), "small"), paragraph(bold(name), "small")] if first else [
            "", ""]  # fmt: skip
        if sheet.tolerances:
            row.append(paragraph(_within(sheet, placement.ball), "small") if first else "")
    return rows


def check_name(sheet: Sheet, check: CheckDistance) -> str:
    """What a second distance is taken to: a ball's letter or a spot.

    >>> from engine.results import RoutineAnswer
    >>> from engine.routine.values import Routine
    >>> sheet = Sheet(Routine(), RoutineAnswer("", (), (), (), (), ()), "mm")
    >>> check_name(sheet, CheckDistance("cue", "spot", "blue", 90, 64, (0, 0), (90, 0)))
    'blue spot'
    """
    if check.kind == "ball":
        return sheet.letters.get(check.to, check.to)
    return spot_name(check.to)


def _within(sheet: Sheet, ball_id: str) -> str:
    found = next((each for each in sheet.tolerances if each.ball == ball_id), None)
    if found is None:
        return "–"
    told = at_most(found.tolerance_mm, sheet.unit).removesuffix(" mm")
    return f"≥ {told}" if found.at_least else told


def figure(length_mm: float, sheet: Sheet) -> str:
    """A length in the sheet's unit, without the unit where that is millimetres."""
    return length_text(length_mm, sheet.unit).removesuffix(" mm")


def ids_key(sheet: Sheet) -> list[Flowable]:
    """Which printed letter is which ball of the file, where the two names differ."""
    told = [
        tr("{letter} is {ball}", letter=sheet.letters[ball.id], ball=ball.id)
        for ball in sheet.routine.balls
        if ball.id not in (ball.kind, sheet.letters[ball.id])
    ]
    names = tr("In the routine file {names}.", names=", ".join(told))
    return [paragraph(words(names), "small")] if told else []
