"""Potting geometry: potting line, contact position, cut angle, fullness, blocked lines."""

from engine.potting.cueing import lowest_tip
from engine.potting.fullness import cut_of_fullness, fullness_name, fullness_of_cut
from engine.potting.pockets import PocketWindow, pocket_window
from engine.potting.pots import PRACTICAL_CUT_DEG, ball_of, cue_ball_of, pot

__all__ = [
    "PRACTICAL_CUT_DEG",
    "PocketWindow",
    "ball_of",
    "cue_ball_of",
    "cut_of_fullness",
    "fullness_name",
    "fullness_of_cut",
    "lowest_tip",
    "pocket_window",
    "pot",
]
