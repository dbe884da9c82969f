"""The drawing model: what is drawn, in table millimetres, before anyone paints it.

Origin at the bottom-left corner of the bed, x to the right, y up the table. Every item is a
frozen value with a named role (`designer.drawing.roles`); painters draw items in order. Hatching
is drawn as strokes, so that screen, SVG, PNG and PDF show the same lines.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from designer.fonts.metrics import CAP_HEIGHT, text_width

Point = tuple[float, float]
Line = tuple[Point, ...]
Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """One or more polylines of one pen. `dash` holds lengths in mm: on, off, on, off, …"""

    role: str
    lines: tuple[Line, ...]
    width_mm: float
    colour: str
    opacity: float = 1.0
    dash: tuple[float, ...] = ()
    cap: str = "round"
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle; angles from +x, anticlockwise, in degrees. A sweep of 360 is a circle."""

    role: str
    centre: Point
    radius_mm: float
    start_deg: float
    sweep_deg: float
    width_mm: float
    colour: str
    opacity: float = 1.0
    dash: tuple[float, ...] = ()
    cap: str = "butt"


@dataclass(frozen=True, slots=True)
class Fill:
    """A filled polygon, with an edge when `edge_mm` is above zero."""

    role: str
    points: Line
    colour: str
    opacity: float = 1.0
    edge_colour: str = ""
    edge_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Disc:
    """A filled circle, with an edge when `edge_mm` is above zero (centred on the radius)."""

    role: str
    centre: Point
    radius_mm: float
    colour: str
    opacity: float = 1.0
    edge_colour: str = ""
    edge_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text: `at` is on its middle height; `anchor` says start, middle or end of it.

    `size_mm` is the em; `stretch` narrows the letters; `angle_deg` turns the text about `at`
    anticlockwise in table coordinates.
    """

    role: str
    at: Point
    text: str
    size_mm: float
    colour: str
    anchor: str = "middle"
    bold: bool = False
    stretch: float = 1.0
    angle_deg: float = 0.0

    @property
    def width_mm(self) -> float:
        """Width of the text along its line, mm."""
        return text_width(self.text, self.size_mm, self.bold) * self.stretch

    @property
    def start_shift_mm(self) -> float:
        """How far along its line the text starts from `at` (0 or negative), mm."""
        return {"start": 0.0, "middle": -0.5, "end": -1.0}[self.anchor] * self.width_mm

    @property
    def baseline_drop_mm(self) -> float:
        """How far its base line lies below `at`, mm."""
        return CAP_HEIGHT * self.size_mm / 2.0


Item = Stroke | Arc | Fill | Disc | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """Items in painting order and the part of the plane they need (x0, y0, x1, y1), mm.

    A `turned` drawing is shown a quarter turn clockwise: baulk end on the left, its texts
    already laid out to read upright that way. A `far` one is seen from the other end, baulk at
    the top or on the right (`designer.drawing.far_end` makes it). `title` and `description` go
    into files that can carry them for readers who cannot see the picture. `crowded` names the balls
    that lie too close to be drawn as large as they should, or to be named. `offsets` tells how far
    the letters and names that looked for room stand off what they name, by a name of its own each.
    """

    items: tuple[Item, ...]
    bounds: Bounds
    title: str = ""
    description: str = ""
    turned: bool = False
    far: bool = False
    crowded: tuple[str, ...] = ()
    offsets: Mapping[str, Point] = field(default_factory=dict, compare=False, repr=False)

    @property
    def width_mm(self) -> float:
        """Width as shown, table mm."""
        x0, y0, x1, y1 = self.bounds
        return y1 - y0 if self.turned else x1 - x0

    @property
    def height_mm(self) -> float:
        """Height as shown, table mm."""
        x0, y0, x1, y1 = self.bounds
        return x1 - x0 if self.turned else y1 - y0

    def page_matrix(self, width: float, *, y_down: bool) -> tuple[float, ...]:
        """Affine (a, b, c, d, e, f) from table mm to a page `width` units wide.

        page x = a·x + c·y + e, page y = b·x + d·y + f; the page's origin is its lower-left
        corner, or its upper-left one with `y_down`.
        """
        x0, y0, x1, _ = self.bounds
        s = width / self.width_mm
        if self.turned:
            a, b, c, d, e, f = 0.0, -s, s, 0.0, -s * y0, s * x1
        else:
            a, b, c, d, e, f = s, 0.0, 0.0, s, -s * x0, -s * y0
        if self.far:
            wide, high = width, s * self.height_mm
            a, b, c, d, e, f = -a, -b, -c, -d, wide - e, high - f
        if y_down:
            b, d, f = -b, -d, s * self.height_mm - f
        return (a, b, c, d, e, f)

    def shaped(self, ratio: float) -> Drawing:
        """The same drawing with room round it so that it is `ratio` times as wide as high."""
        x0, y0, x1, y1 = self.bounds
        wide = max(0.0, ratio * self.height_mm - self.width_mm) / 2.0
        high = max(0.0, self.width_mm / ratio - self.height_mm) / 2.0
        dx, dy = (high, wide) if self.turned else (wide, high)
        return replace(self, bounds=(x0 - dx, y0 - dy, x1 + dx, y1 + dy))

    def with_roles(self, *roles: str) -> tuple[Item, ...]:
        """The items that play one of these roles."""
        return tuple(item for item in self.items if item.role in roles)
