"""Placement: where each ball goes, read off a tape from the nearest two cushions.

In which order to set the balls, and a second distance for each to check it by.
"""

from engine.placement.checking import CheckDistance, checking_distances
from engine.placement.order import set_up_order
from engine.placement.readings import SPOT_MM, MarkPlacement, mark_placements, placements
from engine.placement.text import placement_text

__all__ = [
    "SPOT_MM",
    "CheckDistance",
    "MarkPlacement",
    "checking_distances",
    "mark_placements",
    "placement_text",
    "placements",
    "set_up_order",
]
