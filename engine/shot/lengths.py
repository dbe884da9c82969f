"""How far a stroke sends the cue ball: in lengths of the table, and back from a full contact."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.shot.play import Strike, play
from engine.tables.geometry import faces
from engine.tables.model import Table

#: A bed so wide that no ball gets to its cushions (mm).
ENDLESS_MM = 1_000_000.0


def table_lengths(
    table: Table, conditions: Conditions, speed_mm_s: float, tip_height: float = 0.0
) -> float:
    """Lengths of the table a cue ball runs that is struck straight up it from the bottom cushion.

    It runs up and down the table with nothing in its way, cushions costing it what they do; one
    length is from cushion to cushion. The speed (mm/s) is that off the tip, which meets the ball
    `tip_height` (over the radius) above centre.
    """
    radius = conditions.cue_radius_mm
    run = table.length_mm - 2.0 * radius
    # Off the middle, so that no ball or mark of a pocket matters; the way is straight.
    cue = Ball("cue", "cue", table.width_mm * 0.35, radius)
    trace = play(table, conditions, (cue,), Strike(speed_mm_s, tip_height), math.pi / 2)
    way = trace.path_mm("cue")
    return float(np.hypot(*np.diff(way, axis=0).T).sum()) / run


def lengths_of_scale(table: Table, conditions: Conditions) -> tuple[float, ...]:
    """Lengths of the table (10,) that paces 1 to 10 send a ball struck in its middle."""
    scale = conditions.pace_speeds_m_s
    return tuple(table_lengths(table, conditions, 1000.0 * speed) for speed in scale)


def screw_back_mm(
    table: Table, conditions: Conditions, speed_mm_s: float, tip_height: float, away_mm: float
) -> float:
    """How far a cue ball comes back from a full contact, in mm; below 0 it runs on.

    The balls lie `away_mm` apart (the way of the cue ball's centre to the contact); no cushion is
    in the way, however far either of them runs. 0 when the cue ball does not get there.
    """
    endless = replace(
        table, width_mm=ENDLESS_MM, length_mm=ENDLESS_MM, pockets=(),
        faces=faces(ENDLESS_MM, ENDLESS_MM, ()),
    )  # fmt: skip
    middle = 0.5 * ENDLESS_MM
    contact = middle - conditions.touch_mm
    balls = Ball("cue", "cue", middle, contact - away_mm), Ball("ball", "plain", middle, middle)
    trace = play(endless, conditions, balls, Strike(speed_mm_s, tip_height), math.pi / 2)
    rest = trace.rests()["cue"]
    met = any(event.kind == "ball" for event in trace.events)
    return contact - rest[1] if met and rest is not None else 0.0
