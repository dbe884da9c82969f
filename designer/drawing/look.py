"""How a drawing looks: colours, ball inks, lane patterns, sizes of line and text.

Print first: a light cloth, dark ink, and never colour alone. A lane is told by its letter, its
dash and its hatch; a ball by the letter printed on it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass, replace
from types import MappingProxyType

INK = "#1b2327"
SOFT_INK = "#59646a"
PAPER = "#ffffff"
CLOTH = "#eef3ea"
CUSHION = "#cfdccb"
RIM = "#e4d9c6"
RIM_EDGE = "#7d6b4f"
#: Kept for what the coach points at; no lane has this colour.
POINTER = "#c2188f"
#: Words on the rim: at least 4.5 to 1 on it.
RIM_INK = "#665740"
POCKET = "#2b2f31"
MARK = "#7f8d86"
CHALK = "#fffdf4"

#: Points of a millimetre on paper.
POINT_MM = 25.4 / 72.0
LEAST_POINTS, _POINTS = 7.0, 8.0
#: A ball on paper is no smaller than this across, mm.
LEAST_BALL_MM = 2.5


@dataclass(frozen=True, slots=True)
class BallInk:
    """Fill of a ball, ink of the letter on it."""

    fill: str
    ink: str


#: The trade's colours, each with an ink that stands out on it.
BALL_INKS: Mapping[str, BallInk] = MappingProxyType(
    {
        "cue": BallInk("#fffdf4", INK),
        "red": BallInk("#b3131b", PAPER),
        "yellow": BallInk("#f4cf2d", INK),
        "green": BallInk("#0b6b3a", PAPER),
        "brown": BallInk("#6a4120", PAPER),
        "blue": BallInk("#124f9e", PAPER),
        "pink": BallInk("#f3a6bb", INK),
        "black": BallInk("#16181a", PAPER),
        "plain": BallInk("#dfe3e4", INK),
    }
)


@dataclass(frozen=True, slots=True)
class LanePattern:
    """What tells a lane from the others: colour, dash (in line widths) and hatch."""

    colour: str
    dash: tuple[float, ...]
    hatch: str


#: Okabe & Ito's colours (Color Universal Design, 2008), darkest first; hatches of our own.
LANE_PATTERNS: tuple[LanePattern, ...] = (
    LanePattern("#0072b2", (), "forward"),
    LanePattern("#d55e00", (7.0, 4.0), "backward"),
    LanePattern("#00795a", (1.0, 3.0), "across"),
    LanePattern("#a8558a", (10.0, 4.0, 1.0, 4.0), "chevron"),
    LanePattern("#1b2327", (4.0, 3.0), "cross"),
    LanePattern("#9a6a00", (8.0, 3.0, 1.0, 3.0, 1.0, 3.0), "dots"),
)


def lane_pattern(index: int) -> LanePattern:
    """Pattern of the lane in that position of its shot (they repeat after the sixth)."""
    return LANE_PATTERNS[index % len(LANE_PATTERNS)]


@dataclass(frozen=True, slots=True)
class Look:
    """Sizes in table mm: `text_mm` (the em), the smallest em allowed, and a fine line's width.

    Balls are drawn at least `least_ball_mm` across. `points` is the size of text on paper, which
    balls grow with.

    With `turned` the drawing is laid out to be shown a quarter turn clockwise, with `far` to be
    seen from the top end. `within` is the part that will be seen (mm): names look for room there.
    Names of gaps are cut to `name_letters`.
    """

    text_mm: float = 60.0
    least_text_mm: float = 26.0
    line_mm: float = 4.5
    _: KW_ONLY
    least_ball_mm: float = 0.0
    points: float = _POINTS
    turned: bool = False
    far: bool = False
    within: tuple[float, float, float, float] | None = None
    name_letters: int = 40

    def at_scale(self, table_mm_per_paper_mm: float) -> Look:
        """The same look for paper: text of `points`, none under 7 pt, lines of 0.25 mm."""
        point = POINT_MM * table_mm_per_paper_mm
        return replace(
            self,
            text_mm=self.points * point,
            least_text_mm=max(LEAST_POINTS + 0.05, 0.88 * self.points) * point,
            least_ball_mm=LEAST_BALL_MM * self.points / _POINTS * table_mm_per_paper_mm,
            line_mm=0.25 * table_mm_per_paper_mm,
        )


#: Sizes that read well when the whole table fills a screen.
SCREEN_LOOK = Look()
