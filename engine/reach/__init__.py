"""Reach: which tip heights and paces send the cue ball through a gap, and what they forgive."""

from engine.players import PLAYERS, Player, player_named
from engine.reach.mapping import ReachMap, preview, reach_map
from engine.reach.outcomes import Outcomes, outcomes
from engine.reach.scene import Scene, scene_of
from engine.reach.verdicts import reach, verdict, verdicts, widest_room

__all__ = [
    "PLAYERS",
    "Outcomes",
    "Player",
    "ReachMap",
    "Scene",
    "outcomes",
    "player_named",
    "preview",
    "reach",
    "reach_map",
    "scene_of",
    "verdict",
    "verdicts",
    "widest_room",
]
