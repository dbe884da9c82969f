"""Full-size placement strips: pieces of paper to lay on the cloth under a cluster of balls.

Everything inside a piece is printed 1:1. Two rulers of 100 mm, or 50 mm on a page too low for that,
along the page and up it, show whether the printer kept the size.
"""

from __future__ import annotations

import math

from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.look import Look
from designer.drawing.model import Arc, Disc, Drawing, Item, Stroke, Text
from designer.drawing.placing import text_box
from designer.drawing.radii import radius_of
from designer.fonts.metrics import pdf_font, text_width
from designer.handouts.clusters import NEAR_MM, Piece, Strip, clusters, shows, strip_of
from designer.handouts.pages import Handout, Head, PageHead
from designer.handouts.papers import Paper
from designer.handouts.setting import CAUTIONS, figure
from designer.handouts.sheet import Sheet
from designer.handouts.styles import paragraph, words
from designer.painters.pdf import POINTS_PER_MM, paint_on_canvas
from designer.texts import listed, tr
from designer.words.names import cushion_name, cushion_side, printed_letters
from engine.errors import OutOfRangeError
from engine.placement import touching_balls

#: Room on the page round a piece, mm: crop marks, rulers, and the words above it.
_LEFT, _RIGHT, _BELOW, _ABOVE = 0.0, 13.0, 10.0, 27.0
_RULERS_MM = (100, 50)
_WINDOW_MM = 8.0
_CROP = (1.0, 4.5)
_LOOK = Look().at_scale(1.0)


def strip_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """A page for each piece of each cluster; nothing for a routine without clusters."""
    paper, routine = document.paper, sheet.routine
    found = [
        strip_of(routine, sheet.table, balls, piece_room_mm(paper), sheet.unit)
        for balls in clusters(routine)
    ]
    story: list[Flowable] = []
    for number, strip in enumerate(found, start=1):
        for index, piece in enumerate(strip.pieces):
            line = tr(
                "Full-size strip, cluster {cluster} of {clusters}  ·  piece {piece} of {pieces}",
                cluster=number,
                clusters=len(found),
                piece=index + 1,
                pieces=len(strip.pieces),
            )
            first = not story
            if not first:
                story.append(PageBreak())
            head = Head(sheet.title, line, sheet.title if first else "", key=sheet.key * first)
            story += [PageHead(document, head)]
            story += _told(sheet, strip, piece, ruler_mm(paper))
            story.append(PieceFigure(sheet, strip, piece, paper))
    return story


def any_cluster(sheets: list[Sheet]) -> None:
    """`OutOfRangeError` when no routine has balls near each other."""
    if not any(clusters(sheet.routine) for sheet in sheets):
        raise OutOfRangeError(
            "number of clusters", 0, "at least 1",
            f"Full-size strips are for balls within {NEAR_MM:.0f} mm of each other; set the "
            "others by their readings.",
        )  # fmt: skip


def piece_room_mm(paper: Paper) -> tuple[float, float]:
    """The largest piece a page has room for: width and height, mm."""
    body = paper.body
    return (
        body.width / POINTS_PER_MM - _LEFT - _RIGHT,
        body.height / POINTS_PER_MM - _ABOVE - _BELOW,
    )


def ruler_mm(paper: Paper) -> int:
    """The length of both rulers, mm: the longer one where a page is high enough for it upright."""
    longer, shorter = _RULERS_MM
    return longer if longer <= piece_room_mm(paper)[1] else shorter


def _told(sheet: Sheet, strip: Strip, piece: Piece, ruler: int) -> list[Flowable]:
    """Where the piece is laid, and what to heed."""
    across, along = cushion_name(strip.across), cushion_name(strip.along)
    where = tr(
        "<b>Lay the corner with the black dot {far} from the face of the {across} and {up} from "
        "the face of the {along}</b>, the arrow pointing up the table.",
        far=words(sheet.wording.length(piece.across_mm)),
        across=words(across),
        up=words(sheet.wording.length(piece.along_mm)),
        along=words(along),
    )
    if len(strip.pieces) > 1:
        where += " " + tr(
            "Row {row} of {rows} from the {along}, column {column} of {columns} from the "
            "{across}; cut along the crop marks. Pieces that meet are laid edge to edge.",
            row=piece.row,
            rows=strip.rows,
            along=words(along),
            column=piece.column,
            columns=strip.columns,
            across=words(across),
        )
    how = tr(
        "Print at actual size (100 %): both rulers must measure {length} mm. Set each ball on its "
        "ring so that, seen from above, the short lines stand out evenly round it; then draw the "
        "paper away.",
        length=ruler,
    )
    if touching_balls(sheet.routine):
        how += " " + tr(
            "Where balls touch, cut out the dashed windows, mark the cloth through them, and take "
            "the paper away first."
        )
    return [
        paragraph(where, "least"),
        paragraph(words(" ".join([how, *map(tr, CAUTIONS)])), "least"),
    ]


class PieceFigure(Flowable):
    """One piece at full size with crop marks and rulers."""

    def __init__(self, sheet: Sheet, strip: Strip, piece: Piece, paper: Paper) -> None:
        super().__init__()
        self.sheet, self.strip, self.piece = sheet, strip, piece
        self.drawing = piece_drawing(sheet, strip, piece)
        self.width, self.ruler = paper.body.width, ruler_mm(paper)
        # the upright ruler is longer than a low piece is high, and must not run into the words
        self.height = (max(self.drawing.height_mm, self.ruler) + _BELOW + _CROP[1]) * mm

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, whatever room is offered."""
        return self.width, self.height

    def draw(self) -> None:
        """The piece inside its edges, then what is cut off."""
        page, drawing = self.canv, self.drawing
        x, y = _LEFT * mm, _BELOW * mm
        wide, high = drawing.width_mm * mm, drawing.height_mm * mm
        with page.tagged("Figure", drawing.description):
            page.saveState()
            inside = page.beginPath()
            inside.rect(x, y, wide, high)
            page.clipPath(inside, stroke=0, fill=0)
            paint_on_canvas(drawing, page, x, y, wide)
            page.restoreState()
        with page.artifact():
            self._crop_marks(x, y, wide, high)
        with page.tagged("P"):
            _ruler(page, x, y - 6.0 * mm, self.ruler, upright=False)
            _ruler(page, x + wide + 9.0 * mm, y, self.ruler, upright=True)

    def _crop_marks(self, x: float, y: float, wide: float, high: float) -> None:
        page = self.canv
        page.setStrokeColor(HexColor(ink.INK))
        page.setLineWidth(0.35)
        near, far = _CROP[0] * mm, _CROP[1] * mm
        for cx, out_x in ((x, -1), (x + wide, 1)):
            for cy, out_y in ((y, -1), (y + high, 1)):
                page.line(cx + out_x * near, cy, cx + out_x * far, cy)
                page.line(cx, cy + out_y * near, cx, cy + out_y * far)


def _ruler(page, x: float, y: float, length: int, upright: bool) -> None:
    """So many mm with a tick at every 10 mm."""
    page.saveState()
    page.translate(x, y)
    if upright:
        page.rotate(90)
    page.setStrokeColor(HexColor(ink.INK))
    page.setFillColor(HexColor(ink.INK))
    page.setLineWidth(0.5)
    page.line(0, 0, length * mm, 0)
    for step in range(0, length + 1, 10):
        page.line(step * mm, 0, step * mm, (3.0 if step % 50 == 0 else 2.0) * mm)
    told = tr("check: {length} mm", length=length)
    page.setFont(pdf_font(False).fontName, 7.5)
    page.drawString((length * mm - text_width(told, 7.5)) / 2.0, -9.0, told)
    page.restoreState()


def piece_drawing(sheet: Sheet, strip: Strip, piece: Piece) -> Drawing:
    """What is printed on a piece, in table millimetres; its bounds are the piece's edges."""
    items: list[Item] = []
    items += _marks(sheet, strip)
    items.append(Disc(roles.MARKS, piece.corner_mm, 3.0, ink.INK))
    letters = printed_letters(sheet.routine)
    against = touching_balls(sheet.routine)
    touched = set(against).union(*against.values())
    for ball in strip.balls:
        radius = radius_of(sheet.routine, ball.id)
        if shows(piece, ball, radius):
            items += _ring(ball.centre_mm, radius)
            if ball.id in touched:
                items.append(_window(ball.centre_mm))
            items += _told_in_ring(sheet, strip, piece, (ball.id, letters.get(ball.id, ""), radius))
    items += _arrow(strip, piece)
    named = listed([sheet.wording.ball(ball.id) for ball in strip.balls])
    told = tr("Rings to set {balls} on, full size.", balls=named)
    return Drawing(
        tuple(items), piece.box_mm, tr("Full-size strip"), told, turned=strip.turned,
    )  # fmt: skip


def _text(strip: Strip, at: tuple[float, float], told: str, size: float) -> Text:
    angle = 90.0 if strip.turned else 0.0
    return Text(roles.MEASURE, at, told, size, ink.INK, bold=size > 4.0, angle_deg=angle)


def _below(strip: Strip, at: tuple[float, float], by: float) -> tuple[float, float]:
    """The point that lies `by` under another on the page."""
    return (at[0] + by, at[1]) if strip.turned else (at[0], at[1] - by)


def _ring(centre: tuple[float, float], radius: float) -> list[Item]:
    """Ring, cross in its middle and short lines round it."""
    x, y = centre
    arms = (((x - 4.0, y), (x + 4.0, y)), ((x, y - 4.0), (x, y + 4.0)))
    turns = [math.radians(22.5 + 45.0 * i) for i in range(8)]
    stubs = tuple(
        ((x + (radius + 1.5) * math.cos(a), y + (radius + 1.5) * math.sin(a)),
         (x + (radius + 6.0) * math.cos(a), y + (radius + 6.0) * math.sin(a)))
        for a in turns
    )  # fmt: skip
    return [
        Arc(roles.BALL, (x, y), radius, 0, 360, 0.3, ink.INK),
        Stroke(roles.MARKS, arms, 0.2, ink.INK, cap="butt"),
        Stroke(roles.MARKS, stubs, 0.3, ink.INK, cap="butt"),
    ]


def _window(centre: tuple[float, float]) -> Item:
    """A square to cut out round a ball's middle: the cloth is marked through it."""
    (x, y), half = centre, _WINDOW_MM / 2.0
    square = (
        (x - half, y - half),
        (x + half, y - half),
        (x + half, y + half),
        (x - half, y + half),
    )
    return Stroke(roles.MARKS, (square,), 0.3, ink.INK, dash=(1.2, 0.8), closed=True)


def _told_in_ring(
    sheet: Sheet, strip: Strip, piece: Piece, named: tuple[str, str, float]
) -> list[Item]:
    """Letter and readings of one ball, as far as they lie on the piece whole.

    In a ring that an edge cuts they move together in the middle of what is left of it.
    """
    ball_id, letter, radius = named
    x, y = sheet.routine.ball(ball_id).centre_mm
    x0, y0, x1, y1 = piece.box_mm
    left = (
        (max(x0, x - radius) + min(x1, x + radius)) / 2.0,
        (max(y0, y - radius) + min(y1, y + radius)) / 2.0,
    )
    lines = [(letter or ball_id, 6.0, -13.0)]
    placement = next((p for p in sheet.answer.placements if p.ball == ball_id), None)
    if placement is not None:
        lines += [
            (f"{cushion_side(reading.cushion)} {figure(reading.centre_mm, sheet)}", 3.0, level)
            for reading, level in ((placement.across, 9.5), (placement.along, 15.0))
        ]
    whole = [_text(strip, _below(strip, (x, y), by), told, size) for told, size, by in lines]
    if all(_on_piece(text, piece) for text in whole):
        return list(whole)
    closer = [
        _text(strip, _below(strip, left, by), told, size)
        for (told, size, _), by in zip(lines, (-5.5, 0.5, 4.5), strict=False)
    ]
    return [text for text in closer if _on_piece(text, piece)]


def _on_piece(text: Text, piece: Piece) -> bool:
    """Whether a text lies on a piece whole."""
    low_x, low_y, high_x, high_y = text_box(text, 0.5)
    x0, y0, x1, y1 = piece.box_mm
    return x0 <= low_x and y0 <= low_y and high_x <= x1 and high_y <= y1


def _marks(sheet: Sheet, strip: Strip) -> list[Item]:
    """Cushion faces, baulk line, D and spots, as far as they show on the piece."""
    table = sheet.table
    width, length = table.width_mm, table.length_mm
    frame = ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length))
    items: list[Item] = [Stroke(roles.CUSHION, (frame,), 1.0, ink.INK, closed=True)]
    if table.baulk_y_mm is not None:
        y = table.baulk_y_mm
        items.append(Stroke(roles.MARKS, (((0.0, y), (width, y)),), 0.25, ink.SOFT_INK))
        if table.d_radius_mm is not None:
            items.append(
                Arc(roles.MARKS, (width / 2, y), table.d_radius_mm, 180, 180, 0.25, ink.SOFT_INK)
            )
    for spot in table.spots:
        x, y = spot.x_mm, spot.y_mm
        cross = (((x - 6, y), (x + 6, y)), ((x, y - 6), (x, y + 6)))
        items.append(Stroke(roles.MARKS, cross, 0.25, ink.SOFT_INK))
    return items


def _arrow(strip: Strip, piece: Piece) -> list[Item]:
    """Up the table, in the corner of the piece that lies opposite the dot."""
    x0, y0, x1, y1 = piece.box_mm
    x = x1 - 6.0 if piece.corner_mm[0] == x0 else x0 + 6.0
    y = y1 - 16.0 if piece.corner_mm[1] == y0 else y0 + 4.0
    head = ((x - 2.5, y + 8.0), (x, y + 12.0), (x + 2.5, y + 8.0))
    return [Stroke(roles.MARKS, (((x, y), (x, y + 12.0)), head), 0.5, ink.INK)]
