"""Pages of a handout: head with the title, foot with version and page number, columns between."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from designer.drawing.look import INK, SOFT_INK
from designer.fonts.metrics import pdf_font, text_width
from designer.handouts.papers import FOOT, MARGIN, Box, Paper
from designer.handouts.styles import RULE, fitted

TITLE_POINTS, LINE_POINTS, FOOT_POINTS = 15.0, 8.5, 7.5

#: Share of the page's width that the drawing takes on a setting page and on a shot page.
SETTING_SHARE, SHOT_SHARE = 0.735, 0.49

_TOTAL = "total-of-pages"


@dataclass(frozen=True, slots=True)
class Head:
    """What stands at the top of a page, and the bookmark that leads to it ("" for none)."""

    title: str
    line: str
    bookmark: str = ""


class PageHead(Flowable):
    """Takes no room; its page and those after it carry this head."""

    def __init__(self, document: Handout, head: Head) -> None:
        super().__init__()
        self.document, self.head = document, head

    def wrap(self, *_: float) -> tuple[float, float]:
        """No room."""
        return 0.0, 0.0

    def draw(self) -> None:
        """Set the head, and the bookmark when there is one."""
        self.document.head = self.head
        if self.head.bookmark:
            key = f"page-{self.canv.getPageNumber()}"
            self.canv.bookmarkPage(key)
            self.canv.addOutlineEntry(fitted(self.head.bookmark, 10.0, False, 800.0), key, 0)


class Handout(BaseDocTemplate):
    """A document whose pages have our head and foot.

    Templates: "setting" and "shot" have a column for the drawing and one for words, what does
    not fit there goes on to "more", a page of one column.
    """

    def __init__(self, file: Any, paper: Paper, foot: str, **options: Any) -> None:
        super().__init__(file, pagesize=(paper.width, paper.height), **options)
        self.paper, self.foot = paper, foot
        self.head = Head("", "")
        for name, boxes in (
            ("setting", paper.columns(SETTING_SHARE)),
            ("shot", paper.columns(SHOT_SHARE)),
            ("more", (paper.body,)),
        ):
            self.addPageTemplates(
                PageTemplate(name, [_frame(box) for box in boxes], onPageEnd=self._head_and_foot)
            )

    def _head_and_foot(self, page: Canvas, _: BaseDocTemplate) -> None:
        paper = self.paper
        title, line = self.head.title, self.head.line
        wide = paper.width - 2 * MARGIN
        top = paper.height - MARGIN
        page.saveState()
        page.setFillColor(HexColor(INK))
        page.setFont(pdf_font(True).fontName, TITLE_POINTS)
        page.drawString(MARGIN, top - TITLE_POINTS, fitted(title, TITLE_POINTS, True, wide))
        page.setFont(pdf_font(False).fontName, LINE_POINTS)
        page.setFillColor(HexColor(SOFT_INK))
        page.drawString(MARGIN, top - 11.0 * mm, fitted(line, LINE_POINTS, False, wide))
        page.setStrokeColor(RULE)
        page.setLineWidth(0.6)
        page.line(MARGIN, top - 13.5 * mm, paper.width - MARGIN, top - 13.5 * mm)
        page.line(MARGIN, MARGIN + FOOT - 2 * mm, paper.width - MARGIN, MARGIN + FOOT - 2 * mm)
        page.setFont(pdf_font(False).fontName, FOOT_POINTS)
        page.drawString(MARGIN, MARGIN, fitted(self.foot, FOOT_POINTS, False, wide - 30 * mm))
        told = f"page {page.getPageNumber()} of "
        at = paper.width - MARGIN - text_width(told + "000", FOOT_POINTS)
        page.drawString(at, MARGIN, told)
        page.translate(at + text_width(told, FOOT_POINTS), MARGIN)
        page.doForm(_TOTAL)
        page.restoreState()


class Numbered(Canvas):
    """A canvas that writes the number of pages, once known, where pages ask for it."""

    def save(self) -> None:
        """Define the total, then write the file."""
        self.beginForm(_TOTAL, 0, -3, 40, 12)
        self.setFillColor(HexColor(SOFT_INK))
        self.setFont(pdf_font(False).fontName, FOOT_POINTS)
        self.drawString(0, 0, str(self.getPageNumber() - 1))
        self.endForm()
        super().save()


def _frame(box: Box) -> Frame:
    return Frame(
        box.x, box.y, box.width, box.height,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
