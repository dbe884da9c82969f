"""Reach: which tip heights and paces send the cue ball through a gap."""

from engine.reach.sweep import PACES, ReachMap, sweep, tip_grid
from engine.reach.verdicts import reach, verdict, verdicts

__all__ = ["PACES", "ReachMap", "reach", "sweep", "tip_grid", "verdict", "verdicts"]
