"""Reach: which tip heights and paces send the cue ball through a gap, and what they forgive."""

from engine.reach.mapping import ReachMap, preview, reach_map
from engine.reach.verdicts import reach, verdict, verdicts, widest_room

__all__ = ["ReachMap", "preview", "reach", "reach_map", "verdict", "verdicts", "widest_room"]
