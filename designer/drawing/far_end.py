"""A drawing as seen from the top end: turned by half, with every text still upright.

Each text is turned about its own middle, so it takes the very room it had: what was laid out to
cover nothing still covers nothing.
"""

from __future__ import annotations

import math
from dataclasses import replace

from designer.drawing.model import Drawing, Item, Text


def from_far_end(drawing: Drawing) -> Drawing:
    """The drawing turned by half; done twice it is as it was."""
    items = tuple(_upright(item) for item in drawing.items)
    return replace(drawing, items=items, far=not drawing.far)


def _upright(item: Item) -> Item:
    if not isinstance(item, Text):
        return item
    angle = math.radians(item.angle_deg)
    # From the text's anchor to the middle of its line, twice.
    along = 2.0 * item.start_shift_mm + item.width_mm
    at = (item.at[0] + along * math.cos(angle), item.at[1] + along * math.sin(angle))
    return replace(item, at=at, angle_deg=(item.angle_deg + 180.0) % 360.0)
