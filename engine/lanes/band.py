"""The band a lane may lie in, when cloth, balls and cushions are only known within their ranges.

The strike and the aim stay as planned for the stated conditions; the shot is played again under
conditions drawn from the likely ranges, all of them together, and the band holds the cue ball's
centre at equal shares of each leg. It is the model's own doubt about the table, not the player's
error.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon

from engine.balls import Ball
from engine.conditions import CONDITION_FACTS, Conditions, likely_ranges
from engine.playing.aiming import play_strike
from engine.playing.contact import first_contact_event, rolling_velocity
from engine.playing.laid_out import laid_out
from engine.playing.legs import Legs, legs_of
from engine.playing.plan import cushion_events, plan, start_of_way
from engine.playing.strikes import check_strike
from engine.potting.vectors import wrapped_rad
from engine.results import LaneDoubt, Point, PotAnswer
from engine.routine.values import LaneAsk, Shot
from engine.tables.model import Table

#: What is varied: all that is known as a range, but for the balls' own size and weight.
VARIED: tuple[str, ...] = tuple(
    name
    for name, fact in CONDITION_FACTS.items()
    if fact.likely is not None and not name.startswith("ball_radius") and "mass" not in name
)
SAMPLES = 48
STATIONS = 60
SEED = 71
NO_RANGES: Mapping[str, tuple[float, float]] = {}
#: However narrow the samples lie, a real table is not known better than this in direction (what
#: careful predictions of other authors leave open: from memory).
EVIDENCE_DEG = 2.0
#: The share of the samples that lie within what is told.
COVERED = 0.95


def lane_band(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    shot: Shot,
    pot_answer: PotAnswer | None,
    ask: LaneAsk,
    samples: int = SAMPLES,
    outlined: bool = True,
) -> LaneDoubt:
    """The band of one lane, its outlines left out unless they are drawn; errors as of `lane`."""
    scene = laid_out(table, conditions, balls, shot, (), pot_answer)
    cue = scene.cue_ball.id
    check_strike(ask, conditions)
    wanted = plan(scene, ask)
    ways: list[Legs] = []
    cushions, rests, lines = [], [], []
    for one in spread_conditions(conditions, samples, likely_ranges(table)):
        varied = replace(scene, conditions=one)
        trace = play_strike(varied, wanted.struck, wanted.direction_rad, free=True)
        start = start_of_way(varied, trace)
        if start is None:
            continue
        ways.append(legs_of(trace, cue, start))
        cushions.append([e.other for e in cushion_events(trace, cue, start)])
        rests.append(trace.rests()[cue])
        event = first_contact_event(trace, cue)
        if scene.object_ball is not None and event is not None:
            vx, vy = rolling_velocity(event.velocity_m_s, event.spin_rad_s, one.cue_radius_mm)
            lines.append(math.atan2(vy, vx))
    if not ways:
        return LaneDoubt((), math.nan, math.nan, 0, 0)
    legs = _common_legs(cushions)
    stations = [
        np.array([_stations(way[leg]) for way in ways if leg < len(way)]) for leg in range(legs)
    ]
    firsts = [way[0][-1] for way, met in zip(ways, cushions, strict=True) if met]
    turns = [math.degrees(abs(wrapped_rad(line - lines[0]))) for line in lines]
    direction = max(EVIDENCE_DEG, _most(turns))
    return LaneDoubt(
        _outlines(stations) if outlined else (),
        _spread(firsts, len(ways)),
        _spread([rest for rest in rests if rest is not None], len(ways)),
        len(ways),
        legs,
        direction,
        _off_first(ways, firsts, direction),
    )


def _most(values: Sequence[float]) -> float:
    """What all but the farthest few stay within; 0 for none."""
    return float(np.quantile(values, COVERED)) if len(values) else 0.0


def _off_first(ways: Sequence[Legs], firsts: Sequence[np.ndarray], direction_deg: float) -> float:
    """How far off the stated first cushion's place a lane may meet it; nan when too few do."""
    if len(firsts) < COVERED * len(ways):
        return math.nan
    far = _most(np.linalg.norm(np.asarray(firsts) - firsts[0], axis=1).tolist())
    way = float(np.hypot(*np.diff(ways[0][0], axis=0).T).sum())
    return max(far, way * math.tan(math.radians(direction_deg)))


def spread_conditions(
    conditions: Conditions, count: int, ranges: Mapping[str, tuple[float, float]] = NO_RANGES
) -> tuple[Conditions, ...]:
    """Conditions spread over the likely ranges, the stated ones first.

    `ranges` go before those of `CONDITION_FACTS`, as of the table's usual cloth. A stated value
    beyond its range moves the range as far as to hold it. All are drawn together (a Latin
    hypercube, seeded: one draw in each of `count` − 1 equal shares of every range).
    """
    ends = []
    for name in VARIED:
        fact, stated = CONDITION_FACTS[name], getattr(conditions, name)
        low, high = ranges.get(name) or fact.likely or (stated, stated)
        shift = min(stated - low, 0.0) + max(stated - high, 0.0)
        ends.append(np.clip([low + shift, high + shift], *fact.allowed))
    low, high = np.array(ends).reshape(-1, 2).T
    if not len(low):
        return (conditions,) * count
    # a hypercube of scipy's is the same, and takes longer to load than to make all sheets' draws
    random, shares = np.random.default_rng(SEED), count - 1
    drawn = [(random.permutation(shares) + random.random(shares)) / shares for _ in VARIED]
    rows = low + (high - low) * np.column_stack(drawn)
    return (
        conditions,
        *(replace(conditions, **dict(zip(VARIED, row, strict=True))) for row in rows.tolist()),
    )


def _common_legs(cushions: list[list[str]]) -> int:
    """How many legs all samples share: one more than the cushions they meet in the same order."""
    legs = 1
    while all(len(met) >= legs for met in cushions):
        if len({met[legs - 1] for met in cushions}) > 1:
            return legs
        legs += 1
    return legs


def _stations(leg: np.ndarray) -> np.ndarray:
    """Points at equal shares of a leg's length, (STATIONS + 1, 2)."""
    steps = np.hypot(*np.diff(leg, axis=0).T) if len(leg) > 1 else np.zeros(0)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    wanted = np.linspace(0.0, along[-1], STATIONS + 1)
    return np.column_stack([np.interp(wanted, along, leg[:, axis]) for axis in range(2)])


def _outlines(stations: list[np.ndarray]) -> tuple[np.ndarray, ...]:
    """The union, over all legs, of the hulls of all samples between neighbouring stations."""
    pieces = [np.concatenate([leg[:, :-1], leg[:, 1:]]).swapaxes(0, 1) for leg in stations]
    hulls = [shapely.convex_hull(shapely.multipoints(piece)) for piece in pieces]
    whole = shapely.union_all(shapely.buffer(np.concatenate(hulls), 0.01))
    parts = whole.geoms if isinstance(whole, MultiPolygon) else [whole]
    return tuple(np.asarray(part.exterior.coords) for part in parts if isinstance(part, Polygon))


def _spread(points: Sequence[Point | np.ndarray], wanted: int) -> float:
    if not points or len(points) < wanted:
        return math.nan
    places = np.asarray(points, dtype=float)
    return float(np.linalg.norm(places[:, None] - places[None], axis=2).max())
