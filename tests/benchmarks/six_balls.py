"""Random shots with six balls, as the benchmarks play them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.balls import Ball
from engine.tables import load_table
from engine.tables.bed import bed_of

IDS = ("cue", "red 1", "red 2", "blue", "pink", "black")
KINDS = ("cue", "red", "red", "blue", "pink", "black")
#: The paces of a coach's scale, 1 to 10, in mm/s.
SLOWEST, FASTEST = 500.0, 5000.0
TIP, SIDE = 0.45, 0.2


@dataclass(frozen=True, slots=True)
class RandomShots:
    """N shots: the balls (places of the first shot), places (N, 6, 2), and strikes, each (N,)."""

    balls: tuple[Ball, ...]
    places_mm: np.ndarray
    speed_mm_s: np.ndarray
    direction_rad: np.ndarray
    tip_height: np.ndarray
    side: np.ndarray

    def first(self, count: int) -> RandomShots:
        """The first `count` of them."""
        return RandomShots(
            self.balls, self.places_mm[:count], self.speed_mm_s[:count],
            self.direction_rad[:count], self.tip_height[:count], self.side[:count],
        )  # fmt: skip

    def set_up(self, shot: int) -> list[Ball]:
        """The balls where they stand before one of the shots."""
        return [
            Ball(ball.id, ball.kind, float(x), float(y))
            for ball, (x, y) in zip(self.balls, self.places_mm[shot], strict=True)
        ]


def random_shots(count: int, seed: int = 5) -> RandomShots:
    """Balls scattered without touching; the cue ball is sent at one of the others.

    The line passes the ball aimed at by at most 1.2 diameters, so that most shots hit it, from
    full to fine, and a few miss. All paces, tip heights and some side occur.
    """
    rng = np.random.default_rng(seed)
    table = load_table("snooker-12ft")
    bed = bed_of(table, 26.25)
    places = np.empty((count, len(IDS), 2))
    for k in range(len(IDS)):
        left = np.arange(count)
        while len(left):
            places[left, k] = rng.uniform((0, 0), (table.width_mm, table.length_mm), (len(left), 2))
            away = np.linalg.norm(places[left, :k] - places[left, k][:, None], axis=-1)
            good = bed.allows(places[left, k]) & (away > 53.0).all(axis=1)
            left = left[~good]
    aimed = rng.integers(1, len(IDS), count)
    line = places[np.arange(count), aimed] - places[:, 0]
    far = np.hypot(line[:, 0], line[:, 1])
    aside = np.arcsin(np.clip(rng.uniform(-63.0, 63.0, count) / far, -1.0, 1.0))
    balls = tuple(
        Ball(ball_id, kind, float(x), float(y))
        for ball_id, kind, (x, y) in zip(IDS, KINDS, places[0], strict=True)
    )
    return RandomShots(
        balls,
        places,
        rng.uniform(SLOWEST, FASTEST, count),
        np.arctan2(line[:, 1], line[:, 0]) + aside,
        rng.uniform(-TIP, TIP, count),
        rng.uniform(-SIDE, SIDE, count),
    )
