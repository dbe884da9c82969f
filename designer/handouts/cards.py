"""Table cards: A6, four to a sheet of A4 (a quarter of the sheet on Letter), with cutting marks.

A card asks one question: the set-up with lettered ends, the readings to set it by, a line for the
result. It tells no answer.
"""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from designer.drawing.lettering import shortened
from designer.drawing.look import INK, SOFT_INK
from designer.fonts.metrics import pdf_font
from designer.handouts.pages import Handout
from designer.handouts.papers import Box
from designer.handouts.player import question_figure, task_words
from designer.handouts.setting import CAUTIONS, figure
from designer.handouts.sheet import Sheet
from designer.handouts.styles import Grid, fitted, paragraph, table_style, words
from engine.answers.values import BallPlacement, ShotAnswer
from engine.placement import set_up_order
from engine.routine.values import Shot

A_SHEET = 4
_MARGIN = 8.0 * mm
_TITLE, _LINE = 10.5, 7.2
_HEAD = 12.0 * mm
_MARK = 4.0 * mm
_DRAWING_SHARE, _LYING_SHARE = 0.55, 0.64
RESULT = "Initials ______  Tries ______  Made ______"


class CardSheet(Flowable):
    """One sheet of up to four cards; fills the whole page."""

    def __init__(self, document: Handout, cards: Sequence[tuple[Sheet, int, Shot | None]]) -> None:
        super().__init__()
        self.document, self.cards = document, cards

    def wrap(self, *_: float) -> tuple[float, float]:
        """The page."""
        return self.document.paper.width, self.document.paper.height

    def draw(self) -> None:
        """Draw the cards, the marks to cut along, and the outline's entries."""
        page, paper = self.canv, self.document.paper
        wide, high = paper.width / 2.0, paper.height / 2.0
        page.begin_section()
        for index, (sheet, number, shot) in enumerate(self.cards):
            if sheet.key and sheet.key not in page.pages_of:
                page.pages_of[sheet.key] = page.getPageNumber()
                page.bookmarkPage(sheet.key)
                page.addOutlineEntry(fitted(sheet.title, 10.0, False, 800.0), sheet.key, 0)
            x, y = (index % 2) * wide, (1 - index // 2) * high
            box = Box(x + _MARGIN, y + _MARGIN, wide - 2 * _MARGIN, high - 2 * _MARGIN)
            _draw_card(page, sheet, number, shot, box)
        with page.artifact():
            page.setStrokeColor(HexColor(SOFT_INK))
            page.setLineWidth(0.4)
            for x0, y0, x1, y1 in _cuts(paper.width, paper.height):
                page.line(x0, y0, x1, y1)


def _cuts(width: float, height: float) -> list[tuple[float, float, float, float]]:
    """Marks at the edges of the sheet and a cross in its middle."""
    x, y = width / 2.0, height / 2.0
    return [
        (x, 0.0, x, _MARK), (x, height - _MARK, x, height), (0.0, y, _MARK, y),
        (width - _MARK, y, width, y), (x - _MARK, y, x + _MARK, y), (x, y - _MARK, x, y + _MARK),
    ]  # fmt: skip


def _draw_card(page, sheet: Sheet, number: int, shot: Shot | None, box: Box) -> None:
    top = box.y + box.height
    count, routine = len(sheet.routine.shots), sheet.routine
    parts = [f"Shot {number} of {count}"] * (count > 1) + [f"level {routine.level} of 5"]
    line = "  ·  ".join([*parts, *filter(None, (routine.coach, routine.club))])
    with page.tagged("H1"):
        page.setFillColor(HexColor(INK))
        page.setFont(pdf_font(True).fontName, _TITLE)
        page.drawString(box.x, top - _TITLE, fitted(sheet.title, _TITLE, True, box.width))
        page.setFillColor(HexColor(SOFT_INK))
        page.setFont(pdf_font(False).fontName, _LINE)
        page.drawString(box.x, top - _TITLE - 1.6 * _LINE, fitted(line, _LINE, False, box.width))
    asked = _asked(sheet, shot, box.width)
    foot = sum(part.wrap(box.width, box.height)[1] + 2.0 for part in asked)
    room = box.height - _HEAD - foot
    lying = box.width > box.height
    left = box.width * (_LYING_SHARE if lying else _DRAWING_SHARE)
    drawing = question_figure(sheet, shot or Shot(""), Box(box.x, box.y, left, room), lying)
    drawing.drawOn(page, box.x, top - _HEAD - drawing.height)
    at = box.x + drawing.width + 2.0 * mm
    readings = _readings(sheet, box.x + box.width - at, room)
    _, high = readings.wrap(box.x + box.width - at, room)
    readings.drawOn(page, at, top - _HEAD - high)
    level = box.y + foot
    for part in asked:
        level -= part.wrap(box.width, box.height)[1] + 2.0
        part.drawOn(page, box.x, level)


def _asked(sheet: Sheet, shot: Shot | None, width: float) -> list[Flowable]:
    story: list[Flowable] = []
    if shot is not None:
        story.append(
            paragraph(
                words(shortened(shot.question or "Where does the cue ball go?", 330)), "small"
            )
        )
        task = task_words(sheet, shot)
        if task:
            story.append(paragraph(words(task), "small"))
    story.append(paragraph(words(RESULT), "small"))
    story.append(paragraph(words(" ".join(CAUTIONS)), "small"))
    return story


def _readings(sheet: Sheet, width: float, room: float) -> Flowable:
    """One row a ball in set-up order, letter and readings or spot; as many as there is room for."""
    found = {placement.ball: placement for placement in sheet.answer.placements}
    placed = [found[ball] for ball in set_up_order(sheet.routine) if ball in found]
    if not placed:
        return paragraph("No balls placed yet.", "small")
    for count in range(len(placed), -1, -1):
        rows = [_row(sheet, placement) for placement in placed[:count]]
        if count < len(placed):
            told = f"{len(placed) - count} more: see the player’s sheet"
            rows.append([paragraph("…", "small"), paragraph(told, "small")])
        style = table_style(head=False)
        table = Grid(rows, [width * 0.3, width * 0.7], style=style, hAlign="LEFT")
        if table.wrap(width, room)[1] <= room:
            break
    return table


def _row(sheet: Sheet, placement: BallPlacement) -> list[Flowable]:
    if placement.spot:
        told = f"{placement.spot.removesuffix(' spot')} spot"
    else:
        told = "<br/>".join(
            f"{reading.cushion} {figure(reading.centre_mm, sheet)}"
            for reading in (placement.across, placement.along)
        )
    letter = words(sheet.letters.get(placement.ball, placement.ball))
    return [paragraph(f"<b>{letter}</b>", "small"), paragraph(told, "small")]


def card_sheets(sheets: Sequence[Sheet], document: Handout) -> list[CardSheet]:
    """The sheets of cards, a card for each shot; a lone card fills its sheet four times."""
    cards: list[tuple[Sheet, int, Shot | None]] = []
    for sheet in sheets:
        shots: list[tuple[int, Shot, ShotAnswer | None]] = sheet.shots()
        cards += [(sheet, number, shot) for number, shot, _ in shots] or [(sheet, 1, None)]
    if len(cards) == 1:
        cards *= A_SHEET
    return [CardSheet(document, cards[i : i + A_SHEET]) for i in range(0, len(cards), A_SHEET)]
