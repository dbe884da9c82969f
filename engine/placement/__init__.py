"""Placement: where each ball goes, read off a tape from the nearest two cushions."""

from engine.placement.readings import SPOT_MM, placements
from engine.placement.text import placement_text

__all__ = ["SPOT_MM", "placement_text", "placements"]
