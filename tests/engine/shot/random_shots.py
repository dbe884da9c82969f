"""Seeded random shots for the comparison with the reference, and the table without pockets."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.shot import Strike, Trace, play
from engine.tables import load_table
from engine.tables.geometry import faces
from engine.tables.model import Table

CONDITIONS = Conditions()
RADIUS = CONDITIONS.ball_radius_mm


@cache
def regulation() -> Table:
    return load_table("snooker-12ft")


@cache
def pocketless() -> Table:
    """The same bed within four whole faces."""
    table = regulation()
    whole = faces(table.width_mm, table.length_mm, ())
    return replace(table, id="no-pockets", pockets=(), faces=whole)


@dataclass(frozen=True)
class RandomShot:
    """One shot: balls, strike and direction, by number so that a failure can be played again."""

    number: int
    pockets: bool
    balls: tuple[Ball, ...]
    strike: Strike
    direction: float

    @property
    def table(self) -> Table:
        return regulation() if self.pockets else pocketless()

    def played(self) -> Trace:
        return play(self.table, CONDITIONS, self.balls, self.strike, self.direction)


def shot(number: int, balls: int, table: Table) -> RandomShot:
    """The random shot of that number: three in four aimed to meet a ball, one in three with side.

    Balls stand at least 1 mm apart and off the cushions; paces 0.5–5 m/s, tips full screw to top.
    In every other shot the balls stand close together, often near a cushion or pocket.
    """
    rng = np.random.default_rng([2024, number, balls, len(table.pockets)])
    low = np.array([RADIUS + 1.0, RADIUS + 1.0])
    high = np.array([table.width_mm, table.length_mm]) - RADIUS - 1.0
    middle = rng.uniform(low, high)
    places: list[np.ndarray] = []
    while len(places) < balls:
        place = rng.uniform(low, high)
        if number % 2:
            place = np.clip(rng.normal(middle, 150.0), low, high)
        if all(np.hypot(*(place - p)) > 2 * RADIUS + 1.0 for p in places):
            places.append(place)
    names = ["cue", *(f"red-{k}" for k in range(1, balls))]
    kinds = ["cue", *["red"] * (balls - 1)]
    standing = tuple(
        Ball(name, kind, float(x), float(y))
        for name, kind, (x, y) in zip(names, kinds, places, strict=True)
    )
    direction = float(rng.uniform(-math.pi, math.pi))
    if balls > 1 and rng.random() < 0.75:
        way = places[int(rng.integers(1, balls))] - places[0]
        miss = rng.uniform(-1.0, 1.0) * 2 * RADIUS
        direction = math.atan2(way[1], way[0]) + math.asin(miss / math.hypot(*way))
    tip = float(rng.uniform(-0.5, 0.5))
    side = 0.0
    if rng.random() < 1 / 3:
        most = math.sqrt(0.25 - tip * tip)
        side = float(rng.uniform(-most, most))
    strike = Strike(float(rng.uniform(500.0, 5000.0)), tip, side)
    return RandomShot(number, bool(table.pockets), standing, strike, direction)
