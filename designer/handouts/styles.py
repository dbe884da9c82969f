"""Type and table styles of the sheets: one family, few sizes, none under 7 pt, ink on white."""

from __future__ import annotations

import re
from copy import copy
from functools import cache, lru_cache
from html import escape
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_LEFT
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase.pdfmetrics import registerFontFamily
from reportlab.platypus import Flowable, Paragraph, Table, TableStyle

from designer.drawing.look import INK, SOFT_INK
from designer.fonts.files import REGULAR_NAME
from designer.fonts.metrics import pdf_font, printable, text_width

#: Room a heading wants below it in its column, points; at most, above a table of tall rows.
BELOW_HEADING, MOST_BELOW = 36.0, 300.0

RULE = HexColor("#9aa4a8")
SHADE = HexColor("#eef1f0")


@cache
def styles() -> dict[str, ParagraphStyle]:
    """Paragraph styles by name: body, small, reading, tight, least, strong, heading, lead."""
    regular, bold = pdf_font(False).fontName, pdf_font(True).fontName
    # There is no slanted cut among the shipped fonts: emphasis is bold.
    registerFontFamily(REGULAR_NAME, normal=regular, bold=bold, italic=regular, boldItalic=bold)
    ink = HexColor(INK)

    def made(name: str, size: float, font: str = regular, **more: float) -> ParagraphStyle:
        more = {"leading": size * 1.28, **more}
        return ParagraphStyle(
            name,
            fontName=font,
            fontSize=size,
            textColor=ink,
            alignment=TA_LEFT,
            splitLongWords=1,
            allowWidows=0,
            **more,
        )

    return {
        "body": made("body", 8.5, spaceAfter=3.0),
        "small": made("small", 7.5, spaceBefore=2.0, spaceAfter=1.0),
        "reading": made("reading", 7.8, leading=9.5, spaceAfter=2.4),
        "tight": made("tight", 8.0, leading=9.4),
        "least": made("least", 7.0, leading=8.4),
        "strong": made("strong", 8.0, bold),
        "heading": made("heading", 10.0, bold, spaceBefore=7.0, spaceAfter=3.0),
        "lead": made("lead", 10.5, spaceAfter=4.0),
    }


#: Inches with a fraction: never in two lines.
_FRACTION = re.compile(r"(\d) (\d+/\d+)")


def words(text: str) -> str:
    """Any text made safe for a paragraph; its own line ends are kept, figures stay in one."""
    whole = _FRACTION.sub("\\1\N{NO-BREAK SPACE}\\2", text)
    return "<br/>".join(escape(printable(line), quote=False) for line in whole.splitlines())


def bold(text: str) -> str:
    """The same in bold."""
    return f"<b>{words(text)}</b>"


#: Where a paragraph keeps its lines.
_LINES = ("blPara", "width", "height", "_wrapWidths")


class Words(Paragraph):
    """A paragraph that is told as one: a heading by its style, else plain text.

    Sheets are measured before they are laid out, tables measure their cells three times, and the
    pages of a booklet have many words in common: lines are broken once for each width.
    """

    #: What breaking into lines left behind, by the width; shared by all with the same words.
    _broken: dict[float, dict[str, Any]] | None = None

    def wrap(self, width: float, room: float) -> tuple[float, float]:
        """Its size at that width."""
        known = self._broken
        if known is None or width not in known:
            size: tuple[float, float] = super().wrap(width, room)
            if known is None or size[0] != width:  # a column with no width has no lines
                return size
            known[width] = {name: self.__dict__[name] for name in _LINES}
        self.__dict__.update(known[width])
        return self.width, self.height

    def draw(self) -> None:
        """Draw it, marked."""
        with self.canv.tagged("H3" if self.style.name == "heading" else "P"):
            super().draw()


class Heading(Words):
    """A heading that stays with what follows: near the end of a column it goes to the next."""

    below = BELOW_HEADING

    def wrap(self, width: float, room: float) -> tuple[float, float]:
        """Its size; too large for the room when little would fit below it."""
        size = super().wrap(width, room)
        return size if size[1] + self.below <= room else (size[0], room + 1.0)

    def split(self, *_: float) -> list[Words]:
        """Never in two."""
        return []


class Grid(Table):
    """A table whose rows and cells are told as such; its rules and shades are not.

    A row too tall for any page (a name of sixty lines) goes on to the next one.
    """

    _tried_high = 0.0

    def __init__(self, data: list, *args: Any, **options: Any) -> None:
        options["renderCB"] = _Told()
        super().__init__(data, *args, **options)

    def split(self, wide: float, high: float) -> list[Any]:
        """The parts, in rows; within a row when not even a fresh page would hold it."""
        parts: list[Any] = super().split(wide, high)
        if not parts and 0.0 < self._tried_high <= high:
            self.splitInRow = 1
            parts = super().split(wide, high)
        self._tried_high = high
        return parts


class _Told:
    """Opens and closes the elements of a table as it is drawn."""

    def __init__(self) -> None:
        self._open: list[Any] = []

    def __call__(self, grid: Grid, event: str, *_: Any) -> None:
        """One event of reportlab's drawing of a table: start or end of a part."""
        start, part = event.startswith("start"), event.removeprefix("start").removeprefix("end")
        if not start:
            self._open.pop().__exit__(None, None, None)
            return
        kind = {"Table": "Table", "Row": "TR", "Cell": "TD"}.get(part)
        manager = grid.canv.group(kind) if kind else grid.canv.artifact()
        manager.__enter__()
        self._open.append(manager)


def paragraph(markup: str, style: str = "body") -> Words:
    """A paragraph; put every text from outside through `words` or `bold` first."""
    return copy(_parsed(markup, style))


@lru_cache(maxsize=1_000)
def _parsed(markup: str, style: str) -> Words:
    """The paragraph of which every one with these words is a copy."""
    made = (Heading if style == "heading" else Words)(markup, styles()[style])
    made._broken = {}
    return made


def headed(title: str, table: Grid, width: float) -> list[Flowable]:
    """A heading and its table, whose first row stays with it."""
    heading = paragraph(words(title), "heading")
    table.wrap(width, 10_000.0)
    first = sum(table._rowHeights[: 1 + (table.repeatRows or 0)])
    heading.below = min(max(BELOW_HEADING, first), MOST_BELOW)
    return [heading, table]


def table_style(*more: tuple, ruled: bool = True, head: bool = True) -> TableStyle:
    """Tight cells, a shaded head row, and thin rules between rows when `ruled`."""
    rules: list[tuple] = [("LINEBELOW", (0, 0), (-1, -1), 0.4, RULE)] if ruled else []
    if head:
        rules.append(("BACKGROUND", (0, 0), (-1, 0), SHADE))
    return TableStyle(
        [
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("FONTNAME", (0, 0), (-1, -1), pdf_font(False).fontName),
            *rules,
            ("LINEABOVE", (0, 0), (-1, 0), 0.8, HexColor(SOFT_INK)),
            ("LEFTPADDING", (0, 0), (-1, -1), 2.0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 1.5),
            ("TOPPADDING", (0, 0), (-1, -1), 1.2),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.6),
            *more,
        ]
    )


def fitted(text: str, size: float, is_bold: bool, width: float) -> str:
    """One line of text, cut with an ellipsis where it would be wider than `width`."""
    line = printable(text)
    if text_width(line, size, is_bold) <= width:
        return line
    room, used = width - text_width("…", size, is_bold), 0.0
    for index, char in enumerate(line):
        used += text_width(char, size, is_bold)
        if used > room:
            return line[:index].rstrip() + "…"
    return line
