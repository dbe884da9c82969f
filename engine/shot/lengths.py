"""How far a pace sends a ball, counted as coaches do: in lengths of the table."""

from __future__ import annotations

import math

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.shot.play import Strike, play
from engine.tables.model import Table


def table_lengths(table: Table, conditions: Conditions, speed_mm_s: float) -> float:
    """Lengths of the table a cue ball runs that is struck at its centre from the bottom cushion.

    It runs straight up and down the table with nothing in its way, cushions costing it what
    they do; one length is from cushion to cushion. The speed (mm/s) is that off the tip.
    """
    radius = conditions.cue_radius_mm
    run = table.length_mm - 2.0 * radius
    # Off the middle, so that no ball or mark of a pocket matters; the way is straight.
    cue = Ball("cue", "cue", table.width_mm * 0.35, radius)
    trace = play(table, conditions, (cue,), Strike(speed_mm_s), math.pi / 2)
    way = trace.path_mm("cue")
    return float(np.hypot(*np.diff(way, axis=0).T).sum()) / run
