"""Cushion impacts to try: as they come in random shots, and drawn evenly."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count, islice

import numpy as np

from tests.engine.shot.random_shots import CONDITIONS, RADIUS, regulation, shot
from tests.engine.shot.reference_forces import LOOSE, Cloth

#: Restitution, friction at the nose, height of the nose, friction at the cloth.
USUAL = (
    CONDITIONS.cushion_restitution, CONDITIONS.cushion_friction,
    CONDITIONS.cushion_height_ratio, CONDITIONS.sliding_friction,
)  # fmt: skip


@dataclass(frozen=True)
class Incoming:
    """A ball as it meets a cushion: velocity, spin, the unit way into it, and the cushion."""

    velocity: tuple[float, float]
    spin: tuple[float, float, float]
    into: tuple[float, float] = (0.0, 1.0)
    cushion: tuple[float, float, float, float] = USUAL

    @property
    def speed(self) -> float:
        return math.hypot(*self.velocity)


def played(number: int) -> list[Incoming]:
    """Some impacts of random shots of three balls, on cushions and jaws; shots of their own."""
    return list(islice(_met_in_shots(), number))


def _met_in_shots() -> Iterator[Incoming]:
    cloth = Cloth(regulation(), CONDITIONS, ())
    for k in count(7000):
        trace = shot(k, 3, regulation()).played()
        for event in trace.events:
            if event.kind not in ("cushion", "jaw"):
                continue
            just = event.t_s - 1e-9
            gaps, ways = cloth.cushion_gaps(trace.positions(event.ball, just))
            way = ways[int(np.argmin(gaps))]
            way = way / np.hypot(*way)
            velocity = trace.velocities(event.ball, just)
            if velocity @ way > LOOSE:
                spin = trace.spins(event.ball, just)
                yield Incoming(*(tuple(map(float, one)) for one in (velocity, spin, way)))


def drawn(number: int) -> list[Incoming]:
    """Impacts drawn evenly: rolling, sliding, screw and side by turns, half at odd cushions."""
    rng = np.random.default_rng(1810)
    found = []
    for k in range(number):
        speed, angle = rng.uniform(100.0, 4000.0), math.radians(rng.uniform(-85.0, 85.0))
        vx, vy = speed * math.sin(angle), speed * math.cos(angle)
        roll = (1.0, rng.uniform(0.0, 1.0), rng.uniform(-1.2, 0.0), 1.0)[k % 4]
        side = rng.uniform(-1.2, 1.2) * speed / RADIUS if k % 4 == 3 or k % 3 == 0 else 0.0
        odd = (
            rng.uniform(0.5, 1.0), rng.uniform(0.05, 0.35), rng.uniform(1.15, 1.5),
            rng.uniform(0.08, 0.4),
        )  # fmt: skip
        spin = (-roll * vy / RADIUS, roll * vx / RADIUS, side)
        found.append(Incoming((vx, vy), spin, cushion=odd if k % 8 > 3 else USUAL))
    return found
