"""Lanes: where the cue ball goes for each strike a coach asks about, and what it clears."""

from engine.lanes.lane import PlayedLane, lane, played_lane

__all__ = ["PlayedLane", "lane", "played_lane"]
