"""The part of a sheet that sets the table: measured drawing, readings in order, and cautions."""

from __future__ import annotations

from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable

from designer.drawing import PLACEMENT_LAYERS, Drawing, Look, build_drawing
from designer.drawing.look import BALL_INKS, INK
from designer.drawing.measurements import MOST_READ
from designer.fonts.metrics import text_width
from designer.handouts.figure import Figure, table_figure
from designer.handouts.insets import inset_story
from designer.handouts.marks import marks_story
from designer.handouts.pages import Handout
from designer.handouts.papers import GUTTER
from designer.handouts.sheet import Sheet
from designer.handouts.stacking import Stack, beside, stacked_height, what_fits
from designer.handouts.styles import RULE, Grid, bold, paragraph, table_style, words
from designer.texts import listed, mark, tr
from designer.words.figures import at_most
from designer.words.names import cushion_side, spot_name
from engine.placement import CheckDistance, checking_distances, set_up_order, touching_balls
from engine.results import BallPlacement, CushionReading
from engine.units import length_text

CAUTIONS = (
    mark("Mark places with chalk or with removable marks, and only with the club’s permission."),
    mark("Put nothing adhesive on the cloth."),
)
TRY_IT = mark("The lanes are predictions: try them on the table before you teach them.")

#: Share of the width for the measured drawing: of an upright table, of a lying one.
_DRAWING_SHARE = {False: 0.55, True: 0.66}
#: Least height of the drawing over the column's where insets stand below it.
_LEAST_DRAWING = 0.5
#: Widths of the table's columns over its own, without and with tolerances.
_SHARES = {False: (0.07, 0.055, 0.135, 0.36, 0.38), True: (0.07, 0.055, 0.125, 0.31, 0.32, 0.12)}
_DOT = 6.0


def setting_figure(sheet: Sheet, width: float, height: float, landscape: bool) -> Figure:
    """The measured drawing, as large as a column has room for (points)."""

    def make(look: Look) -> Drawing:
        return build_drawing(sheet.routine, sheet.answer, PLACEMENT_LAYERS, sheet.unit, look=look)

    return table_figure(sheet.routine, make, width, height, Look(turned=landscape))


def setting_page(
    sheet: Sheet, document: Handout, head: list[Flowable], more: list[Flowable], last: str = ""
) -> list[Flowable]:
    """The measured drawing with the balls in order beside it, and `more` below."""
    paper = document.paper
    width, landscape = paper.body.width, paper.landscape
    below = [*more, *setting_words(sheet, 10.0)]
    below += [paragraph(words(last), "small")] * bool(last)
    used = stacked_height([*head, *below], width) + 12.0
    height = max(paper.body.height - used, 0.6 * paper.body.height)
    share = width * _DRAWING_SHARE[landscape]
    drawn = setting_figure(sheet, share, height, landscape)
    insets = inset_story(sheet, drawn.drawing.crowded, share, landscape)
    left: Flowable = drawn
    if insets and not landscape:
        room = max(height - stacked_height(insets, share) - GUTTER, _LEAST_DRAWING * height)
        if drawn.height > room:
            drawn = setting_figure(sheet, share, room, landscape)
            insets = inset_story(sheet, drawn.drawing.crowded, share, landscape)
        fits, insets = what_fits([drawn, *insets], share, height)
        left = Stack(fits, max(part.wrap(share, height)[0] for part in fits))
    wide = width - left.wrap(width, height)[0] - GUTTER
    told = [*placement_story(sheet, wide), *marks_story(sheet, wide), *insets]
    end = [*more, *setting_words(sheet, drawn.scale), *below[-1:] * bool(last)]
    return [*beside(left, told, width, height), *end]


def setting_words(sheet: Sheet, scale: float) -> list[Flowable]:
    """How to read the readings, and the cautions."""
    told = [
        tr(
            "Readings are in {unit} from the cushion face to the ball’s middle; left and right as "
            "seen from baulk, bottom is the baulk end.",
            unit=tr("inches") if sheet.unit == "inch" else tr("millimetres"),
        )
    ]
    if _has_edges(sheet):
        told.append(tr("<b>edge</b>: to the ball’s near edge."))
    if checking_distances(sheet.routine):
        told.append(
            tr(
                "<b>check</b>: a second distance, from middle to middle and between the edges, to "
                "a ball that stands already or to a spot."
            )
        )
    if sheet.tolerances:
        told.append(
            tr(
                "<b>±</b>: set farther off than this, a ball may change what the routine claims "
                "(≥: nothing changes as far as was tried)."
            )
        )
    told.append(tr("Drawn at 1:{scale:.1f}, balls larger if need be: their middles are true.",
                   scale=scale))  # fmt: skip
    return [paragraph(" ".join([*told, *(words(tr(line)) for line in CAUTIONS)]), "small")]


class BallSign(Flowable):
    """A ball's colour as a small disc; its letter stands beside it."""

    def __init__(self, kind: str) -> None:
        super().__init__()
        self.kind, self.width, self.height = kind, _DOT, _DOT

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, whatever room is offered."""
        return self.width, self.height + 1.0

    def draw(self) -> None:
        """Draw it."""
        page = self.canv
        page.setFillColor(HexColor(BALL_INKS.get(self.kind, BALL_INKS["plain"]).fill))
        page.setStrokeColor(HexColor(INK))
        page.setLineWidth(0.6)
        page.circle(_DOT / 2.0, _DOT / 2.0, _DOT / 2.0 - 0.3, fill=1)


def placement_story(sheet: Sheet, width: float) -> list[Flowable]:
    """The balls in set-up order: where each is set, and a distance to check it by."""
    heading = paragraph(words(tr("Set up, in this order")), "heading")
    if not sheet.answer.placements:
        return [heading, paragraph(words(tr("No balls placed yet.")), "small")]
    rows: list[list] = []
    spans: list[tuple] = []
    checks = {check.ball: check for check in checking_distances(sheet.routine)}
    touching = touching_balls(sheet.routine)
    for number, placement in enumerate(in_order(sheet), start=1):
        start = len(rows)
        rows.append(_row(sheet, placement, number))
        near, check = touching.get(placement.ball, ()), checks.get(placement.ball)
        if placement.spot:
            spans.append(("SPAN", (3, start), (4, start)))
        if near:
            others = listed([sheet.letters[other] for other in near])
            rows.append(_line(sheet, bold(tr("touching {balls}", balls=others))))
        elif check is not None:
            rows.append(_line(sheet, words(_check_words(sheet, check))))
        end = len(rows) - 1
        if end > start:
            spans += [("SPAN", (2, end), (4, end)), ("NOSPLIT", (0, start), (-1, end))]
        spans.append(("LINEBELOW", (0, end), (-1, end), 0.4, RULE))
    columns = [width * share for share in _SHARES[bool(sheet.tolerances)]]
    names = [letter_of(sheet, placement) for placement in sheet.answer.placements]
    # on small paper a share of the width may be too narrow for "Cue"
    lack = max(text_width(name, 8.0, True) for name in names) + 4.5 - columns[2]
    lack = min(lack, columns[3] * 0.4)
    if lack > 0.0:
        columns[2:5] = columns[2] + lack, columns[3] - lack / 2.0, columns[4] - lack / 2.0
    style = table_style(*spans, ruled=False, head=False)
    return [heading, Grid(rows, columns, style=style, hAlign="LEFT")]


def _line(sheet: Sheet, markup: str) -> list:
    """A row of words under a ball's readings."""
    return ["", "", paragraph(markup, "tight"), "", ""] + [""] * bool(sheet.tolerances)


def _row(sheet: Sheet, placement: BallPlacement, number: int) -> list:
    """Number, colour, name and the two readings of a ball, or its spot."""
    kinds = {ball.id: ball.kind for ball in sheet.routine.balls}
    readings = [_reading(sheet, one) for one in (placement.across, placement.along)]
    if placement.spot:
        spot = bold(tr("on the {spot}", spot=spot_name(placement.spot)))
        where = words(", ".join(_from(sheet, one) for one in (placement.across, placement.along)))
        readings = [f"{spot}<br/><font size='7'>{where}</font>", ""]
    cells = [
        paragraph(str(number), "tight"), BallSign(kinds[placement.ball]),
        paragraph(bold(letter_of(sheet, placement)), "tight"),
        *(paragraph(told, "tight") if told else "" for told in readings),
    ]  # fmt: skip
    if sheet.tolerances:
        cells.append(paragraph(f"± {_within(sheet, placement.ball)}", "tight"))
    return cells


def _reading(sheet: Sheet, reading: CushionReading) -> str:
    """To the middle, large, and to the near edge below it."""
    told = tr(
        "<b>{length}</b> from {cushion}",
        length=figure(reading.centre_mm, sheet), cushion=words(cushion_side(reading.cushion)),
    )  # fmt: skip
    if not _has_edges(sheet):
        return told
    edge = words(tr("edge {length}", length=figure(reading.edge_mm, sheet)))
    return f"{told}<br/><font size='7'>{edge}</font>"


def _has_edges(sheet: Sheet) -> bool:
    """Whether the readings to the near edge are told as well: of many balls they are not."""
    return len(sheet.answer.placements) <= MOST_READ


def _from(sheet: Sheet, reading: CushionReading) -> str:
    length, cushion = figure(reading.centre_mm, sheet), cushion_side(reading.cushion)
    return tr("{length} from {cushion}", length=length, cushion=cushion)


def _check_words(sheet: Sheet, check: CheckDistance) -> str:
    return tr(
        "check to {to}: {centre}, edge {edge}",
        to=check_name(sheet, check),
        centre=figure(check.centre_mm, sheet),
        edge=figure(check.edge_mm, sheet),
    )


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
        paragraph(words(tr("Set up, in this order")), "heading"),
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
