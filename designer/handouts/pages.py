"""Pages of a handout: head with title and table, foot with version and page number."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
    Paragraph,
)

from designer.drawing.look import INK, SOFT_INK
from designer.fonts.metrics import pdf_font, text_width
from designer.handouts.papers import FOOT, MARGIN, Box, Paper
from designer.handouts.styles import RULE, Words, fitted, styles, words
from designer.painters.pdf_tags import Element, TaggedCanvas
from designer.texts import tr

TITLE_POINTS, LINE_POINTS, FOOT_POINTS = 15.0, 8.5, 7.5

_TOTAL = "total-of-pages"
#: The most of a head's line that the text at its right may take.
_SIDE_SHARE = 0.62


@dataclass(frozen=True, slots=True)
class Head:
    """What stands at the top of a page: at the right `side`, in bold, over `side_line`.

    `bookmark` is the entry in the outline that leads there ("" for none); `key` names the place
    for the contents page.
    """

    title: str
    line: str
    bookmark: str = ""
    key: str = ""
    side: str = ""
    side_line: str = ""


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
        page, head = self.canv, self.head
        self.document.head = head
        if head.bookmark:
            add_bookmark(page, head.bookmark, 0)
            page.begin_section()
        if head.key:
            page.bookmarkPage(head.key)
            page.pages_of[head.key] = page.getPageNumber()
        # The head is drawn when the page is full, but it is read first.
        self.document.title_mark = page.reserve("H1")


def add_bookmark(page: TaggedCanvas, told: str, level: int) -> None:
    """An entry of the outline that leads to this page: 0 for a routine, 1 inside one."""
    key = f"page-{page.getPageNumber()}"
    page.bookmarkPage(key)
    page.addOutlineEntry(fitted(told, 10.0, False, 800.0), key, level)


class Part(Words):
    """The heading of a part of a routine's sheet, with an entry in the outline."""

    bookmark = ""

    def draw(self) -> None:
        """Draw it, marked."""
        add_bookmark(self.canv, self.bookmark, 1)
        with self.canv.tagged("H2"):
            Paragraph.draw(self)


def part_heading(told: str) -> Part:
    """A heading that is told in the outline as well."""
    part = Part(words(told), styles()["heading"])
    part.bookmark = told
    return part


class Handout(BaseDocTemplate):
    """A document whose pages have our head and foot; "bare" pages have neither.

    `day` is the day its sheets are made.
    """

    def __init__(self, file: Any, paper: Paper, foot: str, **options: Any) -> None:
        super().__init__(file, pagesize=(paper.width, paper.height), **options)
        self.paper, self.foot, self.day = paper, foot, ""
        self.head = Head("", "")
        self.title_mark: Element | None = None
        whole = Box(0.0, 0.0, paper.width, paper.height)
        self.addPageTemplates(
            [
                PageTemplate("page", [_frame(paper.body)], onPageEnd=self._head_and_foot),
                PageTemplate("bare", [_frame(whole)]),
            ]
        )

    def begin(self, canvas: Callable[..., TaggedCanvas]) -> None:
        """Open the file; stories are then added one at a time, so that none waits in memory."""
        self._startBuild(None, canvas)
        self.canv._doctemplate = self
        self._empty = True

    def add(self, start: str, story: list[Flowable]) -> None:
        """Lay out a story that starts on a page of that template; an empty one starts none."""
        if not story:
            return
        if self._empty:
            # the first page is not open yet
            named = {template.id: template for template in self.pageTemplates}
            self.pageTemplate = named[start]
        else:
            story = [NextPageTemplate(start), PageBreak(), *story]
        self._empty = False
        while story:
            self.clean_hanging()
            self.handle_flowable(story)

    def finish(self) -> None:
        """Close the last page and write the file."""
        self._endBuild()

    def _head_and_foot(self, page: TaggedCanvas, _: BaseDocTemplate) -> None:
        head, top = self.head, self.paper.height - MARGIN
        page.saveState()
        # The first page under a head says it; on those that follow it is a repetition.
        mark, self.title_mark = self.title_mark, None
        with page.content(mark) if mark else page.artifact():
            self._told(page, top - TITLE_POINTS, head.title, head.side, TITLE_POINTS, True)
            self._told(page, top - 11.0 * mm, head.line, head.side_line, LINE_POINTS, False)
        with page.artifact():
            self._rules_and_number(page)
        page.restoreState()

    def _told(
        self, page: TaggedCanvas, y: float, left: str, right: str, points: float, is_bold: bool
    ) -> None:
        """A line of the head: as much of the left text as the right one leaves room for."""
        wide = self.paper.width - 2 * MARGIN
        side = fitted(right, LINE_POINTS, is_bold, wide * _SIDE_SHARE)
        used = text_width(side, LINE_POINTS, is_bold)
        font = pdf_font(is_bold).fontName
        page.setFillColor(HexColor(INK if is_bold else SOFT_INK))
        page.setFont(font, points)
        page.drawString(MARGIN, y, fitted(left, points, is_bold, wide - used - 3.0 * mm))
        page.setFont(font, LINE_POINTS)
        page.drawString(MARGIN + wide - used, y, side)

    def _rules_and_number(self, page: TaggedCanvas) -> None:
        paper = self.paper
        wide, top = paper.width - 2 * MARGIN, paper.height - MARGIN
        page.setStrokeColor(RULE)
        page.setLineWidth(0.6)
        page.line(MARGIN, top - 13.5 * mm, paper.width - MARGIN, top - 13.5 * mm)
        page.line(MARGIN, MARGIN + FOOT - 2 * mm, paper.width - MARGIN, MARGIN + FOOT - 2 * mm)
        page.setFillColor(HexColor(SOFT_INK))
        page.setFont(pdf_font(False).fontName, FOOT_POINTS)
        page.drawString(MARGIN, MARGIN, fitted(self.foot, FOOT_POINTS, False, wide - 30 * mm))
        told = tr("page {number} of", number=page.getPageNumber()) + " "
        at = paper.width - MARGIN - text_width(told + "000", FOOT_POINTS)
        page.drawString(at, MARGIN, told)
        page.translate(at + text_width(told, FOOT_POINTS), MARGIN)
        page.doForm(_TOTAL)


class Numbered(TaggedCanvas):
    """A canvas that writes page numbers, once known, where pages ask for them.

    `pages_of` says on which page each key begins; `wait_for` leaves room for that number.
    """

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.pages_of: dict[str, int] = {}
        self._waiting: dict[str, tuple[float, float]] = {}

    def wait_for(self, key: str, width: float, points: float) -> None:
        """Write the page of that key, at the end of `width` points from here, when it is known."""
        self._waiting[key] = (width, points)
        self.doForm(f"page-of-{key}")

    def save(self) -> None:
        """Define the total and the numbers waited for, then write the file."""
        if len(self._code):
            self.showPage()
        self._number(_TOTAL, str(self.getPageNumber() - 1), 40.0, FOOT_POINTS, 0.0)
        for key, (width, points) in self._waiting.items():
            told = str(self.pages_of[key])
            at = width - text_width(told, points)
            self._number(f"page-of-{key}", told, width, points, at)
        super().save()

    def _number(self, form: str, told: str, width: float, points: float, at: float) -> None:
        self.beginForm(form, 0, -3, width, 12)
        self.setFillColor(HexColor(SOFT_INK))
        self.setFont(pdf_font(False).fontName, points)
        self.drawString(at, 0, told)
        self.endForm()


def _frame(box: Box) -> Frame:
    return Frame(
        box.x, box.y, box.width, box.height,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
