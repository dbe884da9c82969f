"""Lanes: corridors the cue ball sweeps, their clearances, and gaps they thread."""

from engine.lanes.clearance import clearances, corridor
from engine.lanes.edges import gap_ends_mm, gap_width_mm
from engine.lanes.lane import lane, way_of_lane
from engine.lanes.passes import gap_pass, ordered_pass, pass_in_order
from engine.lanes.playing import setting, stun_height
from engine.lanes.strikes import speed_of, strike_name
from engine.lanes.way import Way

__all__ = [
    "Way",
    "clearances",
    "corridor",
    "gap_ends_mm",
    "gap_pass",
    "gap_width_mm",
    "lane",
    "ordered_pass",
    "pass_in_order",
    "setting",
    "speed_of",
    "strike_name",
    "stun_height",
    "way_of_lane",
]
