"""Table cards: A6, four to a sheet of A4 (a quarter of the sheet on Letter), with cutting marks.

A card asks one question: the set-up with lettered ends, the readings to set it by, a line for the
result. It tells no answer. Readings it has no room for go on to a card that follows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from designer.drawing.look import INK, SOFT_INK
from designer.fonts.metrics import pdf_font
from designer.handouts.figure import Figure
from designer.handouts.insets import inset_story, insets_fit
from designer.handouts.pages import Handout
from designer.handouts.papers import Box, Paper
from designer.handouts.player import question_figure, task_words
from designer.handouts.setting import CAUTIONS, in_order, letter_of, set_by
from designer.handouts.sheet import Sheet
from designer.handouts.stacking import Stack, what_fits
from designer.handouts.styles import Grid, bold, fitted, paragraph, table_style, words
from designer.handouts.unplayable import ASK_YOUR_COACH, cannot_be_played
from designer.texts import mark, tr
from designer.words.names import shortened
from engine.results import BallPlacement, ShotAnswer
from engine.routine.values import Shot

#: A shot with its number from 1 and its answer; a routine without shots has one card as well.
Numbered = tuple[int, Shot | None, ShotAnswer | None]

A_SHEET = 4
_MARGIN = 8.0 * mm
_TITLE, _LINE = 10.5, 7.2
_HEAD = 12.0 * mm
_MARK = 4.0 * mm
_GAP = 2.0 * mm
_DRAWING_SHARE, _LYING_SHARE = 0.55, 0.64
RESULT = mark("Initials ______  Tries ______  Made ______")


@dataclass(frozen=True, slots=True)
class Card:
    """One card laid out; what one has no room for is told on the next.

    The first of a shot's cards has the drawing and asks; those that follow go on with the
    readings, in `columns` beside each other.
    """

    sheet: Sheet
    line: str
    columns: tuple[Flowable, ...]
    drawing: Figure | None = None
    asked: tuple[Flowable, ...] = ()


class CardSheet(Flowable):
    """One sheet of up to four cards; fills the whole page."""

    def __init__(self, document: Handout, cards: Sequence[Card]) -> None:
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
        for index, card in enumerate(self.cards):
            sheet = card.sheet
            if sheet.key and sheet.key not in page.pages_of:
                page.pages_of[sheet.key] = page.getPageNumber()
                page.bookmarkPage(sheet.key)
                page.addOutlineEntry(fitted(sheet.title, 10.0, False, 800.0), sheet.key, 0)
            own = _box(paper)
            x, y = (index % 2) * wide, (1 - index // 2) * high
            _draw_card(page, card, Box(x + own.x, y + own.y, own.width, own.height))
        with page.artifact():
            page.setStrokeColor(HexColor(SOFT_INK))
            page.setLineWidth(0.4)
            for x0, y0, x1, y1 in _cuts(paper.width, paper.height):
                page.line(x0, y0, x1, y1)


def _box(paper: Paper) -> Box:
    """What a card may print on, from its lower left corner."""
    wide, high = paper.width / 2.0 - 2 * _MARGIN, paper.height / 2.0 - 2 * _MARGIN
    return Box(_MARGIN, _MARGIN, wide, high)


def _cuts(width: float, height: float) -> list[tuple[float, float, float, float]]:
    """Marks at the edges of the sheet and a cross in its middle."""
    x, y = width / 2.0, height / 2.0
    return [
        (x, 0.0, x, _MARK), (x, height - _MARK, x, height), (0.0, y, _MARK, y),
        (width - _MARK, y, width, y), (x - _MARK, y, x + _MARK, y), (x, y - _MARK, x, y + _MARK),
    ]  # fmt: skip


def _draw_card(page, card: Card, box: Box) -> None:
    top = box.y + box.height
    with page.tagged("H1"):
        page.setFillColor(HexColor(INK))
        page.setFont(pdf_font(True).fontName, _TITLE)
        page.drawString(box.x, top - _TITLE, fitted(card.sheet.title, _TITLE, True, box.width))
        page.setFillColor(HexColor(SOFT_INK))
        page.setFont(pdf_font(False).fontName, _LINE)
        told = fitted(card.line, _LINE, False, box.width)
        page.drawString(box.x, top - _TITLE - 1.6 * _LINE, told)
    at, left = box.x, box.width
    if card.drawing is not None:
        card.drawing.drawOn(page, at, top - _HEAD - card.drawing.height)
        at += card.drawing.width + _GAP
        left -= card.drawing.width + _GAP
    wide = (left - _GAP * (len(card.columns) - 1)) / len(card.columns)
    for index, column in enumerate(card.columns):
        _, high = column.wrap(wide, box.height)
        column.drawOn(page, at + index * (wide + _GAP), top - _HEAD - high)
    level = box.y + _foot(card.asked, box)
    for part in card.asked:
        level -= part.wrap(box.width, box.height)[1] + 2.0
        part.drawOn(page, box.x, level)


def _foot(asked: Sequence[Flowable], box: Box) -> float:
    """The height of the words at a card's foot."""
    return sum(part.wrap(box.width, box.height)[1] + 2.0 for part in asked)


def _cards(sheet: Sheet, numbered: Numbered, paper: Paper) -> list[Card]:
    """The cards of one shot: the one that asks, and as many more as its readings need."""
    number, shot, answer = numbered
    box = _box(paper)
    asked = _asked(sheet, shot, answer)
    room = box.height - _HEAD - _foot(asked, box)
    lying = box.width > box.height
    share = box.width * (_LYING_SHARE if lying else _DRAWING_SHARE)
    drawing = question_figure(sheet, shot or Shot(""), Box(box.x, box.y, share, room), lying)
    beside = box.width - drawing.width - _GAP
    first, left = _readings(sheet, in_order(sheet), beside, room, next_card=2)
    pages = [[first]]
    while left:
        page, left = _going_on(sheet, left, box, next_card=len(pages) + 2)
        pages.append(page)
    _add_insets(sheet, pages, drawing.drawing.crowded, box, (beside, room))
    lines = [_line(sheet, number, part, len(pages)) for part in range(1, len(pages) + 1)]
    more = [Card(sheet, line, tuple(page)) for line, page in zip(lines[1:], pages[1:], strict=True)]
    return [Card(sheet, lines[0], tuple(pages[0]), drawing, tuple(asked)), *more]


def _add_insets(
    sheet: Sheet,
    pages: list[list[Flowable]],
    crowded: Sequence[str],
    box: Box,
    first: tuple[float, float],
) -> None:
    """Put the enlarged crowds below the readings, where there is room, else on cards of their own.

    `first` is the room beside the drawing of the first card: width and height.
    """
    lying = box.width > box.height
    wide, room = first
    if len(pages) > 1:
        across = len(pages[-1])
        wide, room = (box.width - _GAP * (across - 1)) / across, box.height - _HEAD
    if crowded and insets_fit(sheet, crowded, wide, lying):
        stack = Stack([pages[-1][-1], *inset_story(sheet, crowded, wide, lying)], wide)
        if stack.height <= room:
            pages[-1][-1] = stack
            return
    insets: Sequence[Flowable] = inset_story(sheet, crowded, box.width, lying)
    while insets:
        fits, rest = what_fits(insets, box.width, box.height - _HEAD)
        fits, insets = (fits, rest) if fits else (list(insets[:1]), insets[1:])
        pages.append([Stack(fits, box.width)])


def _going_on(
    sheet: Sheet, placed: Sequence[BallPlacement], box: Box, next_card: int
) -> tuple[list[Flowable], Sequence[BallPlacement]]:
    """The columns of a card that holds nothing but readings, and the balls left after it."""
    across = 3 if box.width > box.height else 2
    wide = (box.width - _GAP * (across - 1)) / across
    page: list[Flowable] = []
    for column in range(across):
        if not placed:
            page.append(paragraph("", "small"))
            continue
        on = next_card if column == across - 1 else 0
        # A row that is too tall for a whole card is set all the same, or there would be no end.
        told, placed = _readings(
            sheet, placed, wide, box.height - _HEAD, next_card=on, least=int(column == 0)
        )
        page.append(told)
    return page, placed


def _line(sheet: Sheet, number: int, part: int, parts: int) -> str:
    """What stands under a card's title: which shot, which card of it, level and makers."""
    routine = sheet.routine
    count = len(routine.shots)
    told = []
    if count > 1:
        told.append(tr("Shot {number} of {count}", number=number, count=count))
    if parts > 1:
        told.append(tr("card {part} of {parts}", part=part, parts=parts))
    told.append(tr("level {level} of 5", level=routine.level))
    told += filter(None, (routine.coach, routine.club))
    return "  ·  ".join(told)


def _asked(sheet: Sheet, shot: Shot | None, answer: ShotAnswer | None) -> list[Flowable]:
    story: list[Flowable] = []
    if shot is not None:
        story.append(
            paragraph(
                words(shortened(shot.question or tr("Where does the cue ball go?"), 330)), "small"
            )
        )
        task = task_words(sheet, shot)
        if task:
            story.append(paragraph(words(task), "small"))
        if cannot_be_played(answer):
            story.append(paragraph(bold(tr(ASK_YOUR_COACH)), "small"))
    story.append(paragraph(words(tr(RESULT)), "small"))
    story.append(paragraph(words(" ".join(map(tr, CAUTIONS))), "small"))
    return story


def _readings(
    sheet: Sheet,
    placed: Sequence[BallPlacement],
    width: float,
    room: float,
    *,
    next_card: int,
    least: int = 0,
) -> tuple[Flowable, Sequence[BallPlacement]]:
    """As many of the balls as there is room for, a row each, and those that are left.

    A last row says how many are left and on which card they stand, unless `next_card` is 0.
    """
    if not placed:
        return paragraph(words(tr("No balls placed yet.")), "small"), ()
    for count in range(len(placed), -1, -1):
        rows = [_row(sheet, placement) for placement in placed[:count]]
        if next_card and count < len(placed):
            more = len(placed) - count
            told = tr("{count} more on card {card}", count=more, card=next_card)
            rows.append([paragraph("…", "small"), paragraph(words(told), "small")])
        if not rows:
            break
        style = table_style(head=False)
        table = Grid(rows, [width * 0.3, width * 0.7], style=style, hAlign="LEFT")
        if count == least or table.wrap(width, room)[1] <= room:
            return table, placed[count:]
    return paragraph("", "small"), placed


def _row(sheet: Sheet, placement: BallPlacement) -> list[Flowable]:
    told = "<br/>".join(words(each) for each in set_by(sheet, placement))
    letter = words(letter_of(sheet, placement))
    return [paragraph(f"<b>{letter}</b>", "small"), paragraph(told, "small")]


def card_sheets(sheets: Sequence[Sheet], document: Handout) -> Iterator[CardSheet]:
    """The sheets of cards, one after the other, so that none waits in memory.

    The cards of a lone shot fill their sheet as often as they go onto it.
    """
    cards = _all_cards(sheets, document.paper)
    lone = len(sheets) == 1 and len(sheets[0].routine.shots) <= 1
    if lone:
        own = list(cards)
        cards = iter(own * max(A_SHEET // len(own), 1))
    while waiting := list(islice(cards, A_SHEET)):
        yield CardSheet(document, waiting)


def _all_cards(sheets: Sequence[Sheet], paper: Paper) -> Iterator[Card]:
    for sheet in sheets:
        shots: list[Numbered] = [*sheet.shots()]
        for numbered in shots or [(1, None, None)]:
            yield from _cards(sheet, numbered, paper)
