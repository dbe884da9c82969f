"""Lanes: corridors the cue ball sweeps, their clearances, and gaps they thread."""
