"""Paper sizes and where things stand on a sheet, in points from the lower-left corner."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from reportlab.lib.pagesizes import A3, A4, A5, LETTER
from reportlab.lib.units import mm

from engine.errors import UnknownNameError

PaperName = Literal["a3", "a4", "a5", "letter"]
_SIZES = {"a3": A3, "a4": A4, "a5": A5, "letter": LETTER}

MARGIN = 11.0 * mm
FOOT = 8.0 * mm
HEAD = 17.0 * mm
GUTTER = 5.0 * mm


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the page, points."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper as it is held: upright or, in landscape, on its side."""

    name: str
    width: float
    height: float

    @property
    def landscape(self) -> bool:
        """Whether it is wider than high: tables are drawn lying on their side then."""
        return self.width > self.height

    @property
    def body(self) -> Box:
        """All between head and foot."""
        height = self.height - 2 * MARGIN - FOOT - HEAD
        return Box(MARGIN, MARGIN + FOOT, self.width - 2 * MARGIN, height)


def paper_of(name: str, landscape: bool = False) -> Paper:
    """The paper of that name; `UnknownNameError` lists the ones there are."""
    if name not in _SIZES:
        raise UnknownNameError("paper", name, tuple(_SIZES))
    short, long = _SIZES[name]
    width, height = (long, short) if landscape else (short, long)
    return Paper(name, width, height)
