"""Bands: where a lane's centre line may lie, cloth, balls and cushions being known as ranges."""

from __future__ import annotations

from designer.drawing import roles
from designer.drawing.lanes import Way
from designer.drawing.model import Fill, Item
from designer.drawing.paths import as_line, simplified
from designer.drawing.scene import Scene


def band_items(scene: Scene, found: list[Way]) -> list[Item]:
    """The outline of each lane's band, where the answer holds one: a tint with a thin edge."""
    return [
        Fill(
            roles.BAND, as_line(simplified(outline, 0.5)), way.pattern.colour, 0.10,
            way.pattern.colour, scene.look.line_mm * 0.5,
        )
        for way in found
        if way.lane.doubt is not None
        for outline in way.lane.doubt.outlines_mm
    ]  # fmt: skip
