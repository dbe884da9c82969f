"""Paper sizes and where things stand on a sheet, in points from the lower-left corner."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import mm

from engine.errors import UnknownNameError

PaperName = Literal["a4", "letter"]
_SIZES = {"a4": A4, "letter": LETTER}

MARGIN = 11.0 * mm
FOOT = 8.0 * mm
HEAD = 17.0 * mm
GUTTER = 4.0 * mm


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the page, points."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper as it is held: upright or, in landscape, on its side.

    `wide_readings` leaves more room for the table of readings (inches).
    """

    name: str
    width: float
    height: float
    wide_readings: bool = False

    @property
    def landscape(self) -> bool:
        """Whether it is wider than high: tables are drawn lying on their side then."""
        return self.width > self.height

    @property
    def setting_share(self) -> float:
        """Share of the width that the drawing takes on a page that sets the table."""
        if self.landscape:
            return 0.715
        return 0.66 if self.wide_readings else 0.70

    @property
    def shot_share(self) -> float:
        """Share of the width that the drawing takes on a shot's page."""
        return 0.55 if self.landscape else 0.5

    @property
    def body(self) -> Box:
        """All between head and foot."""
        height = self.height - 2 * MARGIN - FOOT - HEAD
        return Box(MARGIN, MARGIN + FOOT, self.width - 2 * MARGIN, height)

    def words_columns(self) -> tuple[Box, Box]:
        """Two columns as wide as the one for words on a shot's page, for what goes on."""
        body, wide = self.body, self.columns(self.shot_share)[1].width
        right = body.x + body.width - wide
        return (
            Box(body.x, body.y, wide, body.height),
            Box(right, body.y, wide, body.height),
        )

    def columns(self, left_share: float) -> tuple[Box, Box]:
        """The body as two columns, the left one taking that share of the width."""
        body = self.body
        left = (body.width - GUTTER) * left_share
        right = body.width - GUTTER - left
        return (
            Box(body.x, body.y, left, body.height),
            Box(body.x + left + GUTTER, body.y, right, body.height),
        )


def paper_of(name: str, landscape: bool = False, wide_readings: bool = False) -> Paper:
    """The paper of that name; `UnknownNameError` lists the ones there are."""
    if name not in _SIZES:
        raise UnknownNameError("paper", name, tuple(_SIZES))
    short, long = _SIZES[name]
    width, height = (long, short) if landscape else (short, long)
    return Paper(name, width, height, wide_readings)
