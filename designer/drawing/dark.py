"""A drawing for a dark screen: cloth, cushions and paper dark, ink and lanes light.

Balls keep the trade's colours with the letters printed on them; only their outline turns light.
"""

from __future__ import annotations

from dataclasses import replace

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Disc, Drawing, Fill, Item, Text

#: What stands for each colour of a light drawing; inks keep 4.5 to 1 or more to cloth and paper.
ON_DARK: dict[str, str] = {
    ink.INK: "#eceae4",
    ink.SOFT_INK: "#aab4b9",
    ink.PAPER: "#1f2426",
    ink.CLOTH: "#22302a",
    ink.CUSHION: "#37493f",
    ink.RIM: "#3b342b",
    ink.RIM_EDGE: "#8f7c5c",
    ink.POCKET: "#0b0d0e",
    ink.MARK: "#8d9b94",
    ink.RIM_INK: "#bfae8c",
    ink.POINTER: "#ff7ccb",
    "#0072b2": "#5cb8f0",
    "#d55e00": "#ff9a55",
    "#00795a": "#4fd0a6",
    "#a8558a": "#e6a3cd",
    "#9a6a00": "#ecc05c",
    # what points something out
    "#c2188f": "#ff7ad1",
}


def on_dark(colour: str) -> str:
    """A colour of the drawing as it stands on dark cloth.

    >>> on_dark(ink.INK), on_dark("#b3131b")
    ('#eceae4', '#b3131b')
    """
    return ON_DARK.get(colour, colour)


def in_dark(drawing: Drawing) -> Drawing:
    """The same drawing in the colours of a dark screen."""
    balls = {
        item.centre for item in drawing.items if isinstance(item, Disc) and item.role == roles.BALL
    }
    return replace(drawing, items=tuple(_recoloured(item, balls) for item in drawing.items))


def _recoloured(item: Item, balls: set[tuple[float, float]]) -> Item:
    if isinstance(item, Disc) and item.role == roles.BALL:
        return replace(item, edge_colour=on_dark(item.edge_colour))
    if isinstance(item, Text) and item.role == roles.BALL_LETTER and item.at in balls:
        return item
    if isinstance(item, Disc | Fill):
        return replace(item, colour=on_dark(item.colour), edge_colour=on_dark(item.edge_colour))
    return replace(item, colour=on_dark(item.colour))
