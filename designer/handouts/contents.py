"""The contents page of a booklet: every routine with its level, coach and page."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable

from designer.drawing.look import INK
from designer.fonts.metrics import pdf_font, text_width
from designer.handouts.pages import Handout, Head, PageHead
from designer.handouts.sheet import Sheet
from designer.handouts.styles import RULE, fitted
from designer.texts import tr, tr_count

_POINTS = 9.0
_ROW = 15.0
_NUMBER = 22.0
_PAGE = 34.0


def contents_story(
    sheets: Sequence[Sheet], document: Handout, title: str, kind: str
) -> list[Flowable]:
    """Heading and one line a routine, over as many pages as it takes."""
    count = tr_count("{count} routine", "{count} routines", len(sheets))
    head = Head(title, f"{tr('Contents')}  ·  {kind}  ·  {count}", tr("Contents"))
    story: list[Flowable] = [PageHead(document, head)]
    width = document.paper.body.width
    return story + [Entry(sheet, number, width) for number, sheet in enumerate(sheets, start=1)]


class Entry(Flowable):
    """One line of the contents, leading to its routine; the page is filled in when known."""

    def __init__(self, sheet: Sheet, number: int, width: float) -> None:
        super().__init__()
        self.sheet, self.number, self.width, self.height = sheet, number, width, _ROW

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, whatever room is offered."""
        return self.width, self.height

    def draw(self) -> None:
        """Number, title, who made it, and the page."""
        page, routine = self.canv, self.sheet.routine
        regular, bold = pdf_font(False).fontName, pdf_font(True).fontName
        made = "  ·  ".join(
            p for p in (routine.coach, tr("level {level}", level=routine.level)) if p
        )
        made = fitted(made, _POINTS - 1.5, False, self.width * 0.35)
        side = text_width(made, _POINTS - 1.5)
        room = self.width - _NUMBER - _PAGE - side - 8.0
        y = 4.0
        with page.tagged("P"):
            page.setFillColor(HexColor(INK))
            page.setFont(regular, _POINTS)
            page.drawString(0.0, y, str(self.number))
            page.setFont(bold, _POINTS)
            page.drawString(_NUMBER, y, fitted(self.sheet.title, _POINTS, True, room))
            page.setFont(regular, _POINTS - 1.5)
            page.drawString(self.width - _PAGE - side, y, made)
            page.saveState()
            page.translate(self.width - _PAGE, y)
            page.wait_for(self.sheet.key, _PAGE, _POINTS)
            page.restoreState()
        with page.artifact():
            page.setStrokeColor(RULE)
            page.setLineWidth(0.3)
            page.line(0.0, 0.0, self.width, 0.0)
        page.linkRect(
            "", self.sheet.key, (0.0, 0.0, self.width, _ROW), relative=1, Border="[0 0 0]"
        )
