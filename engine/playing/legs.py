"""A lane as legs: the cue ball's way cut at the cushions it meets.

A leg is a float array of shape (n, 2), n ≥ 1, the ball's centre in table millimetres. A parabola
is flattened within `FLATTEN_MM`, so that every distance to a leg is right within that.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from engine.shot import Trace
from engine.shot.polyline import FLATTEN_MM

#: Shorter steps are dropped: they carry no direction worth having.
STEP_MM = 1e-6

Legs = tuple[np.ndarray, ...]
NO_PATH = np.empty((0, 2))


def legs_of(trace: Trace, ball_id: str, start_s: float) -> Legs:
    """The way of a ball from a time to rest or pocket, one leg per stretch between cushions."""
    cuts = [
        event.t_s
        for event in trace.events
        if event.ball == ball_id and event.kind in ("cushion", "jaw") and event.t_s > start_s
    ]
    times = [start_s, *cuts, trace.duration_s]
    return tuple(trace.path_mm(ball_id, a, b, FLATTEN_MM) for a, b in pairwise(times))


def joined(legs: Legs) -> np.ndarray:
    """One polyline of all legs, shape (n, 2), without repeated points."""
    kept = [leg for leg in legs if len(leg)]
    if not kept:
        return NO_PATH
    points = np.concatenate(kept)
    steps = np.hypot(*np.diff(points, axis=0).T)
    return points[np.concatenate(([True], steps > STEP_MM))]
