"""Placement: where each ball goes, read off a tape from the nearest two cushions.

In which order to set the balls, and a second distance for each to check it by.
"""

from engine.placement.checking import CheckDistance, checking_distances
from engine.placement.order import set_up_order
from engine.placement.readings import SPOT_MM, MarkPlacement, mark_placements, placements
from engine.placement.touching import touching_balls

__all__ = [
    "SPOT_MM",
    "CheckDistance",
    "MarkPlacement",
    "checking_distances",
    "mark_placements",
    "placements",
    "set_up_order",
    "touching_balls",
]
