"""What a gap is judged by: a lane's way, and what stands about it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from shapely.geometry import LineString

from engine.balls import Ball, touch_distance_mm
from engine.playing.contact import first_contact_event
from engine.playing.laid_out import LaidOutShot
from engine.playing.legs import Legs, joined
from engine.playing.plan import cushion_events
from engine.playing.ways import (
    W_BOUNCE,
    W_BOUNCES,
    W_HIT,
    W_POINTS,
    lay_way,
    way_room,
)
from engine.results import Point
from engine.shot import Trace
from engine.shot.layout import R_T


@dataclass(frozen=True, eq=False)
class Way:
    """One lane for the gaps: its way in legs, from contact until it meets a ball or rests.

    `obstacles` are the balls that stand about though the way was played without them; `hit` is
    the ball the way ends at. `stops_mm` is None when the cue ball goes in-off; `pots` says whether
    the object ball goes where it is sent (True when none is to be potted). `radius_mm` is the cue
    ball's; `ball_radius_mm` the other balls', None when they are of one size. `instead` is the
    ball that was met in place of the object ball.
    """

    label: str
    legs: Legs
    obstacles: tuple[Ball, ...]
    radius_mm: float
    first_cushion: str = ""
    first_cushion_mm: Point | None = None
    stops_mm: Point | None = None
    pots: bool = True
    ball_radius_mm: float | None = None
    hit: str = ""
    object_ball: str = ""
    instead: str = ""

    @property
    def touch_mm(self) -> float:
        """Distance of the centres when the cue ball touches another ball."""
        other = self.radius_mm if self.ball_radius_mm is None else self.ball_radius_mm
        return touch_distance_mm(self.radius_mm, other)

    # Worked out once, however many gaps ask.

    @cached_property
    def path_mm(self) -> np.ndarray:
        """The whole way as one polyline, (n, 2)."""
        return joined(self.legs)

    @cached_property
    def line(self) -> LineString:
        """The whole way for shapely; only for a way of two points or more."""
        return LineString(self.path_mm)


def way_of(shot: LaidOutShot, label: str, trace: Trace, obstacles: Sequence[Ball] = ()) -> Way:
    """The cue ball's way in a shot as it was played, laid out as the compiled scan does."""
    c, cue, ball = shot.conditions, shot.cue_ball.id, shot.object_ball
    rows, (points, facts) = trace.rows(cue), way_room()
    start = lay_way(rows, -1 if ball is None else trace.ids.index(ball.id), points, facts)
    told, hit, cushion, instead = facts.array, -1, None, ""
    legs: Legs = ()
    if start >= 0:
        cuts = told[W_BOUNCE : W_BOUNCE + int(told[W_BOUNCES])].astype(int).tolist()
        ends = [0, *cuts, int(told[W_POINTS]) - 1]
        legs = tuple(points.array[a : b + 1].copy() for a, b in pairwise(ends))
        hit = int(told[W_HIT])
        cushion = next(iter(cushion_events(trace, cue, float(rows[start, R_T]))), None)
        cushion = cushion if cuts else None
    else:
        event = first_contact_event(trace, cue)
        instead = "" if event is None else event.other
    return Way(
        label=label,
        legs=legs,
        obstacles=tuple(obstacles),
        radius_mm=c.cue_radius_mm,
        first_cushion="" if cushion is None else cushion.other,
        first_cushion_mm=None if cushion is None else cushion.at_mm,
        stops_mm=None if cue in trace.potted else trace.rests()[cue],
        pots=shot.pocket < 0 or trace.potted.get(shot.shot.object_ball) == shot.shot.pocket,
        ball_radius_mm=c.ball_radius_mm,
        hit=trace.ids[hit] if hit >= 0 else "",
        object_ball="" if ball is None else ball.id,
        instead=instead,
    )
