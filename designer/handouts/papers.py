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
    """A sheet of paper, portrait."""

    name: str
    width: float
    height: float

    @property
    def body(self) -> Box:
        """All between head and foot."""
        height = self.height - 2 * MARGIN - FOOT - HEAD
        return Box(MARGIN, MARGIN + FOOT, self.width - 2 * MARGIN, height)

    def columns(self, left_share: float) -> tuple[Box, Box]:
        """The body as two columns, the left one taking that share of the width."""
        body = self.body
        left = (body.width - GUTTER) * left_share
        right = body.width - GUTTER - left
        return (
            Box(body.x, body.y, left, body.height),
            Box(body.x + left + GUTTER, body.y, right, body.height),
        )


def paper_of(name: str) -> Paper:
    """The paper of that name; `UnknownNameError` lists the ones there are."""
    if name not in _SIZES:
        raise UnknownNameError("paper", name, tuple(_SIZES))
    return Paper(name, *_SIZES[name])
