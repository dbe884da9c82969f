"""A drawing on a PDF page: vectors, text as text, the shipped font embedded.

`paint_on_canvas` serves the handouts too.
"""

from __future__ import annotations

import io
from datetime import datetime

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from designer.drawing.model import Arc, Disc, Drawing, Fill, Item, Stroke, Text
from designer.fonts.metrics import pdf_font, printable
from designer.painters.pdf_stamp import set_stamp
from engine.errors import OutOfRangeError
from engine.units import MM_PER_INCH

POINTS_PER_MM = 72.0 / MM_PER_INCH
_CAPS = {"butt": 0, "round": 1}


def pdf_bytes(drawing: Drawing, width_mm: float = 180.0, made_at: datetime | None = None) -> bytes:
    """One page just large enough for the drawing at that width, with a margin of 5 mm.

    With `made_at` the same drawing gives the same bytes. `OutOfRangeError` for no real width.
    """
    if not 1.0 <= width_mm <= 5000.0:
        raise OutOfRangeError("drawing width", f"{width_mm} mm", "1 to 5000 mm")
    margin = 5.0 * POINTS_PER_MM
    wide = width_mm * POINTS_PER_MM
    high = wide * drawing.height_mm / drawing.width_mm
    store = io.BytesIO()
    page = Canvas(store, (wide + 2 * margin, high + 2 * margin), invariant=made_at is not None)
    set_stamp(page, made_at)
    page.setTitle(printable(drawing.title))
    page.setSubject(printable(drawing.description))
    page.setCreator("Baizewright")
    paint_on_canvas(drawing, page, margin, margin, wide)
    page.showPage()
    page.save()
    return store.getvalue()


def paint_on_canvas(drawing: Drawing, page: Canvas, x: float, y: float, width: float) -> None:
    """Paint with the drawing's lower-left corner at (x, y), `width` wide, all in points."""
    page.saveState()
    page.translate(x, y)
    page.transform(*drawing.page_matrix(width, y_down=False))
    page.setLineJoin(1)
    for item in drawing.items:
        _paint(item, page)
    page.restoreState()


def _paint(item: Item, page: Canvas) -> None:
    if isinstance(item, Stroke | Arc):
        _pen(page, item.colour, item.width_mm, item.opacity, item.cap, item.dash)
        path = page.beginPath()
        if isinstance(item, Stroke):
            _add_lines(path, item)
        else:
            _add_arc(path, item)
        page.drawPath(path, stroke=1, fill=0)
    elif isinstance(item, Text):
        _text(item, page)
    else:
        _body(item, page)


def _add_lines(path, stroke: Stroke) -> None:
    for line in stroke.lines:
        path.moveTo(*line[0])
        for x, y in line[1:]:
            path.lineTo(x, y)
        if stroke.closed:
            path.close()


def _add_arc(path, arc: Arc) -> None:
    (x, y), r = arc.centre, arc.radius_mm
    path.arc(x - r, y - r, x + r, y + r, arc.start_deg, arc.sweep_deg)
    if abs(arc.sweep_deg) >= 360.0:
        path.close()


def _body(item: Fill | Disc, page: Canvas) -> None:
    page.setFillColor(HexColor(item.colour))
    page.setFillAlpha(item.opacity)
    edged = item.edge_mm > 0.0
    if edged:
        _pen(page, item.edge_colour, item.edge_mm, 1.0, "round", ())
    if isinstance(item, Disc):
        page.circle(*item.centre, item.radius_mm, stroke=int(edged), fill=1)
        return
    path = page.beginPath()
    path.moveTo(*item.points[0])
    for x, y in item.points[1:]:
        path.lineTo(x, y)
    path.close()
    page.drawPath(path, stroke=int(edged), fill=1)


def _pen(
    page: Canvas, colour: str, width: float, opacity: float, cap: str, dash: tuple[float, ...]
) -> None:
    page.setStrokeColor(HexColor(colour))
    page.setStrokeAlpha(opacity)
    page.setLineWidth(width)
    page.setLineCap(_CAPS[cap])
    page.setDash(list(dash))


def _text(item: Text, page: Canvas) -> None:
    words = printable(item.text)
    if not words:
        return
    page.saveState()
    page.translate(*item.at)
    if item.angle_deg:
        page.rotate(item.angle_deg)
    page.translate(item.start_shift_mm, -item.baseline_drop_mm)
    page.scale(item.stretch, 1.0)
    page.setFillAlpha(1.0)
    page.setFillColor(HexColor(item.colour))
    page.setFont(pdf_font(item.bold).fontName, item.size_mm)
    page.drawString(0.0, 0.0, words)
    page.restoreState()
