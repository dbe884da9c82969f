"""Paint a drawing with a QPainter: the canvas on screen and the PNG painter share this.

The painter's transform must map table millimetres (y up) to the device, as
`world_transform` gives it. Letters are painted from the shipped font's outlines, so that they
stand where the layout put them on every platform.
"""

from __future__ import annotations

from collections.abc import Callable, Container
from functools import cache, lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
    QRawFont,
    QTransform,
)

from designer.drawing.model import Arc, Disc, Drawing, Fill, Item, Line, Stroke, Text
from designer.fonts.files import font_path
from designer.fonts.metrics import printable, text_width

#: Paints a text on a painter whose transform is from table mm.
TextPainter = Callable[[Text, QPainter], None]

#: Em of the outlines kept in the cache, in their own units.
_EM = 256.0


def world_transform(drawing: Drawing, width_px: float) -> QTransform:
    """From table mm to a device `width_px` wide, y down, the drawing's bounds filling it."""
    return QTransform(*drawing.page_matrix(width_px, y_down=True))


def paint(
    drawing: Drawing,
    painter: QPainter,
    leave_out: Container[str] = (),
    unsmoothed: Container[str] = (),
    texts: TextPainter | None = None,
) -> None:
    """Paint every item in order, without those of the roles left out.

    Edges of the `unsmoothed` roles are not smoothed, which is quicker by far for wide strokes.
    `texts` paints the texts, if given: the canvas keeps pictures of them.
    The painter keeps its own transform; pen and brush are restored.
    """
    painter.save()
    smooth = QPainter.RenderHint.Antialiasing
    painter.setRenderHint(smooth)
    for item in drawing.items:
        if item.role in unsmoothed:
            painter.setRenderHint(smooth, False)
            paint_item(item, painter)
            painter.setRenderHint(smooth)
        elif item.role in leave_out:
            continue
        elif texts is not None and isinstance(item, Text):
            texts(item, painter)
        else:
            paint_item(item, painter)
    painter.restore()


def paint_item(item: Item, painter: QPainter) -> None:
    """Paint one item in table millimetres."""
    if isinstance(item, Stroke):
        _stroke(item, painter)
    elif isinstance(item, Disc):
        _disc(item, painter)
    elif isinstance(item, Text):
        _text(item, painter)
    elif isinstance(item, Fill):
        _fill(item, painter)
    else:
        _arc(item, painter)


def _stroke(item: Stroke, painter: QPainter) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(_pen(item.colour, item.opacity, item.width_mm, item.dash, item.cap))
    if len(item.lines) == 1 and not item.closed:
        painter.drawPolyline(_points(item.lines[0]))
    else:
        painter.drawPath(_path(item.lines, item.closed))


def _arc(item: Arc, painter: QPainter) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(_pen(item.colour, item.opacity, item.width_mm, item.dash, item.cap))
    x, y, r = *item.centre, item.radius_mm
    box = QRectF(x - r, y - r, 2 * r, 2 * r)
    path = QPainterPath()
    # Qt counts angles anticlockwise with y down; here y is up, so the sense is the opposite.
    path.arcMoveTo(box, -item.start_deg)
    path.arcTo(box, -item.start_deg, -item.sweep_deg)
    painter.drawPath(path)


def _fill(item: Fill, painter: QPainter) -> None:
    painter.setBrush(_brush(item.colour, item.opacity))
    painter.setPen(_edge(item))
    painter.drawPolygon(QPolygonF(_points(item.points)))


def _disc(item: Disc, painter: QPainter) -> None:
    painter.setBrush(_brush(item.colour, item.opacity))
    painter.setPen(_edge(item))
    painter.drawEllipse(QPointF(*item.centre), item.radius_mm, item.radius_mm)


def _text(item: Text, painter: QPainter) -> None:
    outline = text_outline(item.text, item.bold)
    painter.save()
    painter.translate(*item.at)
    if item.angle_deg:
        painter.rotate(item.angle_deg)
    painter.translate(item.start_shift_mm, -item.baseline_drop_mm)
    scale = item.size_mm / _EM
    painter.scale(scale * item.stretch, -scale)
    painter.fillPath(outline, _brush(item.colour, 1.0))
    painter.restore()


@lru_cache(maxsize=2048)
def text_outline(text: str, bold: bool) -> QPainterPath:
    """Outline of a line of text, em of 256 units, y down, base line at 0."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    at = 0.0
    for char in printable(text):
        outlines, width = _char_outlines(char, bold)
        for outline in outlines:
            path.addPath(outline.translated(at, 0.0))
        at += width
    return path


@lru_cache(maxsize=1024)
def _char_outlines(char: str, bold: bool) -> tuple[tuple[QPainterPath, ...], float]:
    """Outlines of a character, at 0, and how far it moves what follows."""
    font = _raw_font(bold)
    glyphs = font.glyphIndexesForString(char)
    return tuple(font.pathForGlyph(one) for one in glyphs), text_width(char, _EM, bold)


@cache
def _raw_font(bold: bool) -> QRawFont:
    font = QRawFont(str(font_path(bold)), _EM)
    if not font.isValid():
        raise RuntimeError(f"the font file {font_path(bold)} cannot be read")
    return font


def _points(line: Line) -> list[QPointF]:
    return [QPointF(x, y) for x, y in line]


def _path(lines: tuple[Line, ...], closed: bool) -> QPainterPath:
    path = QPainterPath()
    for line in lines:
        path.moveTo(*line[0])
        for x, y in line[1:]:
            path.lineTo(x, y)
        if closed:
            path.closeSubpath()
    return path


def _edge(item: Fill | Disc) -> QPen:
    if item.edge_mm <= 0.0:
        return QPen(Qt.PenStyle.NoPen)
    return _pen(item.edge_colour, 1.0, item.edge_mm, (), "round")


@lru_cache(maxsize=512)
def _brush(colour: str, opacity: float) -> QBrush:
    shade = QColor(colour)
    shade.setAlphaF(opacity)
    return QBrush(shade)


@lru_cache(maxsize=512)
def _pen(colour: str, opacity: float, width: float, dash: tuple[float, ...], cap: str) -> QPen:
    pen = QPen(_brush(colour, opacity), width)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap if cap == "round" else Qt.PenCapStyle.FlatCap)
    if dash:
        pen.setDashPattern([length / width for length in dash])
    return pen
