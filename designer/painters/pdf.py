"""A drawing on a PDF page: vectors, text as text, the shipped font embedded.

`paint_on_canvas` serves the handouts too.
"""

from __future__ import annotations

import io
import math
from datetime import datetime
from functools import lru_cache

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pdfgeom import bezierArc

from designer.drawing.model import Arc, Disc, Drawing, Fill, Item, Line, Stroke, Text
from designer.fonts.metrics import pdf_font, printable
from designer.painters.pdf_stamp import set_stamp
from designer.painters.pdf_tags import TaggedCanvas
from engine.errors import OutOfRangeError
from engine.units import MM_PER_INCH
from engine.version import VERSION

POINTS_PER_MM = 72.0 / MM_PER_INCH
_CAPS = {"butt": 0, "round": 1}


def pdf_bytes(drawing: Drawing, width_mm: float = 180.0, made_at: datetime | None = None) -> bytes:
    """One page as large as the drawing at that width, as its SVG and PNG pictures are.

    With `made_at` the same drawing gives the same bytes. `OutOfRangeError` for no real width.
    """
    if not 1.0 <= width_mm <= 5000.0:
        raise OutOfRangeError("drawing width", f"{width_mm} mm", "1 to 5000 mm")
    wide = width_mm * POINTS_PER_MM
    high = wide * drawing.height_mm / drawing.width_mm
    store = io.BytesIO()
    page = TaggedCanvas(store, (wide, high), invariant=made_at is not None)
    set_stamp(page, made_at)
    page.setTitle(printable(drawing.title))
    page.setAuthor("")
    page.setSubject(printable(drawing.description))
    page.setCreator(f"Baizewright {VERSION}")
    with page.tagged("Figure", drawing.description):
        paint_on_canvas(drawing, page, 0.0, 0.0, wide)
    page.showPage()
    page.save()
    return store.getvalue()


def paint_on_canvas(drawing: Drawing, page: Canvas, x: float, y: float, width: float) -> None:
    """Paint with the drawing's lower-left corner at (x, y), `width` wide, all in points."""
    page.saveState()
    page.translate(x, y)
    page.transform(*drawing.page_matrix(width, y_down=False))
    page.setLineJoin(1)
    pens = _Pens(page)
    for item in drawing.items:
        _paint(item, page, pens)
    page.restoreState()


class _Pens:
    """The pen and the filling as the page has them, so that only changes are written."""

    def __init__(self, page: Canvas) -> None:
        self.page = page
        self.pen: tuple[object, ...] = ()
        self.filling: tuple[object, ...] = ()

    def draw_with(
        self, colour: str, width: float, opacity: float, cap: str, dash: tuple[float, ...]
    ) -> None:
        """Set colour, width, opacity, line ends and dashes of lines to come."""
        wanted = (colour, width, opacity, cap, dash)
        if wanted == self.pen:
            return
        self.pen, page = wanted, self.page
        page.setStrokeColor(_colour(colour))
        page.setStrokeAlpha(opacity)
        page.setLineWidth(width)
        page.setLineCap(_CAPS[cap])
        page.setDash(list(dash))

    def fill_with(self, colour: str, opacity: float) -> None:
        """Set colour and opacity of areas and texts to come."""
        if (colour, opacity) == self.filling:
            return
        self.filling = (colour, opacity)
        self.page.setFillColor(_colour(colour))
        self.page.setFillAlpha(opacity)


@lru_cache(maxsize=64)
def _colour(code: str) -> HexColor:
    return HexColor(code)


def _paint(item: Item, page: Canvas, pens: _Pens) -> None:
    # Paths are written as operators at once: reportlab's own path objects take most of the time.
    if isinstance(item, Stroke):
        pens.draw_with(item.colour, item.width_mm, item.opacity, item.cap, item.dash)
        end = " h" if item.closed else ""
        page._code.append("".join(_line(line) + end + " " for line in item.lines) + "S")
    elif isinstance(item, Arc):
        pens.draw_with(item.colour, item.width_mm, item.opacity, item.cap, item.dash)
        end = " h" if abs(item.sweep_deg) >= 360.0 else ""
        page._code.append(_curve(item) + end + " S")
    elif isinstance(item, Text):
        _text(item, page, pens)
    else:
        _body(item, page, pens)


def _line(points: Line) -> str:
    path = " l ".join(f"{x:.3f} {y:.3f}" for x, y in points)
    # the first pair of a path is a move
    return path.replace(" l ", " m ", 1) + " l" if len(points) > 1 else path + " m"


def _curve(arc: Arc) -> str:
    (x, y), r = arc.centre, arc.radius_mm
    pieces = bezierArc(x - r, y - r, x + r, y + r, arc.start_deg, arc.sweep_deg)
    start = f"{pieces[0][0]:.3f} {pieces[0][1]:.3f} m "
    return start + " ".join(" ".join(f"{v:.3f}" for v in piece[2:]) + " c" for piece in pieces)


def _body(item: Fill | Disc, page: Canvas, pens: _Pens) -> None:
    pens.fill_with(item.colour, item.opacity)
    edged = item.edge_mm > 0.0
    if edged:
        pens.draw_with(item.edge_colour, item.edge_mm, 1.0, "round", ())
    if isinstance(item, Disc):
        path = _curve(Arc("", item.centre, item.radius_mm, 0.0, 360.0, 0.0, ""))
    else:
        path = _line(item.points)
    page._code.append(f"{path} h {'B' if edged else 'f'}")


def _text(item: Text, page: Canvas, pens: _Pens) -> None:
    words = printable(item.text)
    if not words:
        return
    pens.fill_with(item.colour, 1.0)
    turn = math.radians(item.angle_deg)
    c, s = math.cos(turn), math.sin(turn)
    along, down = item.start_shift_mm, -item.baseline_drop_mm
    x, y = item.at[0] + c * along - s * down, item.at[1] + s * along + c * down
    text = page.beginText()
    text.setTextTransform(c * item.stretch, s * item.stretch, -s, c, x, y)
    text.setFont(pdf_font(item.bold).fontName, item.size_mm)
    text.textOut(words)
    page.drawText(text)
