"""A drawing as SVG 1.1: real text, one group for each run of items of one role, title and words.

Lengths inside are table millimetres, y down; the size on paper is in the root element.
"""

from __future__ import annotations

import math
from html import escape
from itertools import groupby

from designer.drawing.look import PAPER
from designer.drawing.model import Arc, Disc, Drawing, Fill, Item, Line, Point, Stroke, Text
from designer.fonts.metrics import printable
from designer.painters.arcs import arc_points
from engine.errors import OutOfRangeError

#: Fonts of the same widths or nearly, for readers without DejaVu Sans.
_FAMILY = "DejaVu Sans, Bitstream Vera Sans, Verdana, sans-serif"


#: Least size of letters in the file's own units.
_LEAST_SIZE = 20.0


def svg_bytes(drawing: Drawing, width_mm: float = 180.0, transparent: bool = False) -> bytes:
    """The drawing `width_mm` wide on paper, as UTF-8 SVG. `OutOfRangeError` for no real width."""
    if not 0.1 <= width_mm <= 100_000.0:
        raise OutOfRangeError("drawing width", f"{width_mm} mm", "0.1 to 100000 mm")
    wide, high = drawing.width_mm, drawing.height_mm
    height_mm = width_mm * high / wide
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>\n',
        '<svg xmlns="http://www.w3.org/2000/svg" version="1.1" '
        f'width="{_n(width_mm)}mm" height="{_n(height_mm)}mm" '
        f'viewBox="0 0 {_n(wide)} {_n(high)}" role="img">\n',
        f"<title>{_safe(drawing.title)}</title>\n<desc>{_safe(drawing.description)}</desc>\n",
    ]
    if not transparent:
        parts.append(f'<rect width="{_n(wide)}" height="{_n(high)}" fill="{PAPER}"/>\n')
    matrix = " ".join(_n(v) for v in drawing.page_matrix(wide, y_down=True))
    parts.append(
        f'<g transform="matrix({matrix})" stroke-linejoin="round" fill="none" '
        f'font-family="{escape(_FAMILY)}" font-kerning="none">\n'
    )
    for role, items in groupby(drawing.items, key=lambda item: item.role):
        parts.append(f'<g class="{escape(role)}">\n')
        parts += [_element(item) for item in items]
        parts.append("</g>\n")
    parts.append("</g>\n</svg>\n")
    return "".join(parts).encode("utf-8")


def _element(item: Item) -> str:
    if isinstance(item, Stroke):
        return f'<path d="{_d(item.lines, item.closed)}"{_pen(item)}/>\n'
    if isinstance(item, Arc):
        if abs(item.sweep_deg) >= 360.0:
            x, y = item.centre
            return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(item.radius_mm)}"{_pen(item)}/>\n'
        return f'<path d="{_arc(item)}"{_pen(item)}/>\n'
    if isinstance(item, Fill):
        points = " ".join(f"{_n(x)},{_n(y)}" for x, y in item.points)
        return f'<polygon points="{points}"{_body(item)}/>\n'
    if isinstance(item, Disc):
        x, y = item.centre
        return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(item.radius_mm)}"{_body(item)}/>\n'
    return _text(item)


def _pen(item: Stroke | Arc) -> str:
    out = f' stroke="{item.colour}" stroke-width="{_n(item.width_mm)}" stroke-linecap="{item.cap}"'
    if item.opacity < 1.0:
        out += f' stroke-opacity="{_n(item.opacity)}"'
    if item.dash:
        out += f' stroke-dasharray="{" ".join(_n(v) for v in item.dash)}"'
    return out


def _body(item: Fill | Disc) -> str:
    out = f' fill="{item.colour}"'
    if item.opacity < 1.0:
        out += f' fill-opacity="{_n(item.opacity)}"'
    if item.edge_mm > 0.0:
        out += f' stroke="{item.edge_colour}" stroke-width="{_n(item.edge_mm)}"'
    return out


def _text(item: Text) -> str:
    x, y = item.at
    turn = f" rotate({_n(item.angle_deg)})" if item.angle_deg else ""
    # Some readers round a letter's size to whole units: it is written in tenths, hundredths, …
    finer = 10.0 ** max(0, math.ceil(math.log10(_LEAST_SIZE / max(item.size_mm, 1e-6))))
    transform = (
        f"translate({_n(x)} {_n(y)}){turn} "
        f"translate({_n(item.start_shift_mm)} {_n(-item.baseline_drop_mm)}) "
        f"scale({_n(item.stretch / finer)} {_n(-1.0 / finer)})"
    )
    words = escape(printable(item.text), quote=False)
    length = f' textLength="{_n(item.width_mm / item.stretch * finer)}"' if words else ""
    weight = ' font-weight="bold"' if item.bold else ""
    start = f'<text transform="{transform}" font-size="{_n(item.size_mm * finer)}"{weight}{length}'
    return f'{start} fill="{item.colour}">{words}</text>\n'


def _d(lines: tuple[Line, ...], closed: bool) -> str:
    end = "Z" if closed else ""
    return "".join("M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in line) + end for line in lines)


def _arc(item: Arc) -> str:
    start, end = arc_points(item)
    large = int(abs(item.sweep_deg) > 180.0)
    # y is up in the drawing's own coordinates, so a growing angle is SVG's positive sense.
    sense = int(item.sweep_deg > 0)
    r = _n(item.radius_mm)
    return f"M{_xy(start)}A{r} {r} 0 {large} {sense} {_xy(end)}"


def _xy(point: Point) -> str:
    return f"{_n(point[0])} {_n(point[1])}"


def _safe(text: str) -> str:
    return escape(printable(text), quote=False)


def _n(value: float) -> str:
    """A number to a hundredth (to a millionth below one), without needless zeros."""
    text = f"{value:.2f}" if abs(value) >= 1.0 else f"{value:.6f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
