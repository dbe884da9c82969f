"""The band a lane may lie in, when cloth, balls and cushions are only known within their ranges.

The strike and the aim stay as planned for the stated conditions; the shot is played again under
conditions spread over the likely ranges (`engine.conditions.CONDITION_FACTS`), and the band
holds the cue ball's centre at equal shares of each leg. It is the model's own doubt about the
table, not the player's error.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from shapely import MultiPoint, unary_union
from shapely.geometry import MultiPolygon, Polygon

from engine.balls import Ball
from engine.conditions import CONDITION_FACTS, Conditions, likely_ranges
from engine.playing.aiming import play_strike
from engine.playing.laid_out import laid_out
from engine.playing.legs import legs_of
from engine.playing.plan import cushion_events, plan, start_of_way
from engine.playing.strikes import check_strike
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


def lane_band(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    shot: Shot,
    pot_answer: PotAnswer | None,
    ask: LaneAsk,
    samples: int = SAMPLES,
) -> LaneDoubt:
    """The band of one lane; errors as `engine.lanes.lane`."""
    scene = laid_out(table, conditions, balls, shot, (), pot_answer)
    cue = scene.cue_ball.id
    check_strike(ask, conditions)
    wanted = plan(scene, ask)
    ways, cushions, rests = [], [], []
    for one in spread_conditions(conditions, samples, likely_ranges(table)):
        varied = replace(scene, conditions=one)
        trace = play_strike(varied, wanted.struck, wanted.direction_rad, free=True)
        start = start_of_way(varied, trace)
        if start is None:
            continue
        ways.append(legs_of(trace, cue, start))
        cushions.append([e.other for e in cushion_events(trace, cue, start)])
        rests.append(trace.rests()[cue])
    if not ways:
        return LaneDoubt((), math.nan, math.nan, 0, 0)
    legs = _common_legs(cushions)
    stations = [
        np.array([_stations(way[leg]) for way in ways if leg < len(way)]) for leg in range(legs)
    ]
    firsts = [way[0][-1] for way, met in zip(ways, cushions, strict=True) if met]
    return LaneDoubt(
        _outlines(stations),
        _spread(firsts, len(ways)),
        _spread([rest for rest in rests if rest is not None], len(ways)),
        len(ways),
        legs,
    )


def spread_conditions(
    conditions: Conditions, count: int, ranges: Mapping[str, tuple[float, float]] = NO_RANGES
) -> tuple[Conditions, ...]:
    """Conditions spread over the likely ranges, the stated ones first.

    `ranges` go before those of `CONDITION_FACTS`, as of the table's usual cloth.

    Each value is drawn from its range moved so that its middle is the stated value: one draw in
    each of `count` − 1 equal shares of the range, shuffled (Latin hypercube, seeded).
    """
    random = np.random.default_rng(SEED)
    columns: dict[str, Any] = {}
    for name in VARIED:
        fact = CONDITION_FACTS[name]
        low, high = ranges.get(name) or fact.likely or (0.0, 0.0)
        half = 0.5 * (high - low)
        share = (random.permutation(count - 1) + random.random(count - 1)) / (count - 1)
        values = getattr(conditions, name) + half * (2.0 * share - 1.0)
        columns[name] = np.clip(values, *fact.allowed)
    return (
        conditions,
        *(replace(conditions, **_one(columns, k)) for k in range(count - 1)),
    )


def _one(columns: dict[str, Any], k: int) -> dict[str, Any]:
    return {name: float(values[k]) for name, values in columns.items()}


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
    hulls = [
        MultiPoint(leg[:, k : k + 2].reshape(-1, 2)).convex_hull.buffer(0.01)
        for leg in stations
        for k in range(STATIONS)
    ]
    whole = unary_union(hulls)
    parts = whole.geoms if isinstance(whole, MultiPolygon) else [whole]
    return tuple(np.asarray(part.exterior.coords) for part in parts if isinstance(part, Polygon))


def _spread(points: Sequence[Point | np.ndarray], wanted: int) -> float:
    if not points or len(points) < wanted:
        return math.nan
    places = np.asarray(points, dtype=float)
    return float(np.linalg.norm(places[:, None] - places[None], axis=2).max())
