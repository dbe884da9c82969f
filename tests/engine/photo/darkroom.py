"""Photographs of tables that were never taken: a projection and a renderer of the tests' own.

Written from the textbook pinhole camera in plain numpy and sharing nothing with the engine's: the
camera stands at a point and looks at another, with a lens that bends along the radius.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

NOSE_MM = 36.75
RADIUS_MM = 26.25
WIDE_MM, LONG_MM = 1778.0, 3569.0
FILM_MM = 43.2666

#: Colours of the invented room, red, green and blue from 0 to 1.
CLOTH, LINE, WOOD, FLOOR = (
    (0.06, 0.34, 0.17),
    (0.72, 0.74, 0.66),
    (0.30, 0.15, 0.07),
    (0.17, 0.14, 0.13),
)
BALLS = {
    "cue": (0.93, 0.91, 0.82), "red": (0.62, 0.03, 0.04), "yellow": (0.90, 0.72, 0.05),
    "green": (0.01, 0.28, 0.16), "brown": (0.30, 0.14, 0.05), "blue": (0.04, 0.20, 0.55),
    "pink": (0.90, 0.48, 0.56), "black": (0.03, 0.03, 0.035),
}  # fmt: skip


@dataclass(frozen=True)
class Lens:
    """How far from the middle a ray is seen: "none", "brown" (k1, k2) or "division" (one number).

    Brown: r·(1 + k1·r² + k2·r⁴). Division (Fitzgibbon 2001): r = s / (1 + λ·s²), s where seen.
    """

    kind: str = "none"
    numbers: tuple[float, ...] = ()

    def seen(self, r: np.ndarray) -> np.ndarray:
        """The radius at which a ray of tangent r is seen."""
        if self.kind == "brown":
            k1, k2 = self.numbers
            return r * (1.0 + k1 * r * r + k2 * r**4)
        if self.kind == "division":
            (bend,) = self.numbers
            under = np.sqrt(np.maximum(1.0 - 4.0 * bend * r * r, 0.0))
            return 2.0 * r / (1.0 + under)
        return r

    def tangent(self, s: np.ndarray) -> np.ndarray:
        """The ray's tangent for a radius at which it is seen, by a fine table."""
        known = np.linspace(0.0, 2.5, 20001)
        seen = self.seen(known)
        rising = int(np.argmax(np.diff(seen) <= 0)) or len(seen)
        return np.interp(s, seen[:rising], known[:rising])


@dataclass(frozen=True)
class Pose:
    """A camera at a place, looking at another, rolled by an angle; `size` is (wide, high) px."""

    at: tuple[float, float, float]
    target: tuple[float, float, float]
    size: tuple[int, int] = (4000, 3000)
    film_mm: float = 26.0
    roll: float = 0.0
    lens: Lens = Lens()

    @property
    def focal(self) -> float:
        return self.film_mm / FILM_MM * math.hypot(*self.size)

    @property
    def axes(self) -> np.ndarray:
        """Rows: right, down and ahead, in table coordinates."""
        ahead = np.subtract(self.target, self.at)
        ahead = ahead / np.linalg.norm(ahead)
        right = np.cross(ahead, (0.0, 0.0, 1.0))
        right = right / np.linalg.norm(right)
        down = np.cross(ahead, right)
        c, s = math.cos(self.roll), math.sin(self.roll)
        return np.array([c * right + s * down, c * down - s * right, ahead])

    @property
    def middle(self) -> np.ndarray:
        return np.array([(self.size[0] - 1) / 2.0, (self.size[1] - 1) / 2.0])

    def sees(self, places: np.ndarray) -> np.ndarray:
        """Pixels (..., 2) of places (..., 3)."""
        away = np.asarray(places, dtype=float) - np.array(self.at)
        own = np.stack([away @ axis for axis in self.axes], axis=-1)
        flat = own[..., :2] / own[..., 2:]
        r = np.linalg.norm(flat, axis=-1)
        rate = np.where(r > 0, self.lens.seen(r) / np.where(r > 0, r, 1.0), 1.0)
        return self.middle + self.focal * flat * rate[..., None]

    def outline(self, centre: np.ndarray, count: int = 720) -> np.ndarray:
        """Pixels of the looks that just touch a ball, found as the edge of the cone round it."""
        away = np.asarray(centre) - np.array(self.at)
        far = np.linalg.norm(away)
        ahead = away / far
        one = np.cross(ahead, (0.3, 0.9, 0.1))
        one /= np.linalg.norm(one)
        two = np.cross(ahead, one)
        half = math.asin(RADIUS_MM / far)
        turn = np.linspace(0.0, 2.0 * math.pi, count, endpoint=False)[:, None]
        ways = math.cos(half) * ahead + math.sin(half) * (np.cos(turn) * one + np.sin(turn) * two)
        return self.sees(np.array(self.at) + 1000.0 * ways)

    def ball_middle(self, centre: np.ndarray) -> np.ndarray:
        """Middle of the outline of a ball: that of the box round it, turned along its axes."""
        rim = self.outline(centre)
        mean = rim.mean(axis=0)
        _, _, frame = np.linalg.svd(rim - mean, full_matrices=False)
        turned = (rim - mean) @ frame.T
        return mean + (turned.max(axis=0) + turned.min(axis=0)) / 2.0 @ frame

    def holds(self, pixels: np.ndarray, room: float = 0.0) -> np.ndarray:
        """Whether pixels (..., 2) lie in the picture."""
        return ((pixels >= room) & (pixels <= np.array(self.size) - 1.0 - room)).all(axis=-1)


def render(
    pose: Pose,
    balls: list[tuple[str, float, float]],
    *,
    finer: int = 2,
    grain: float = 0.012,
    seed: int = 1,
) -> np.ndarray:
    """The picture (high, wide, 3), 8 bits: cloth, marks, cushions, pockets, rail, floor, balls."""
    wide, high = pose.size
    rng = np.random.default_rng(seed)
    rows = []
    for start in range(0, high, 64):
        rows.append(_strip(pose, balls, start, min(start + 64, high), finer))
    picture = np.concatenate(rows)
    yy, xx = np.mgrid[0:high, 0:wide]
    off = np.hypot((xx - wide / 2) / wide, (yy - high / 2) / high)
    picture *= (1.04 - 0.28 * off**2)[..., None]
    picture = np.clip(picture, 0.0, 1.0) ** (1 / 1.7)
    picture = picture + rng.normal(0.0, grain, picture.shape)
    return np.round(np.clip(picture, 0, 1) * 255).astype(np.uint8)


def _strip(
    pose: Pose, balls: list[tuple[str, float, float]], top: int, bottom: int, finer: int
) -> np.ndarray:
    wide = pose.size[0]
    xs = (np.arange(wide * finer) + 0.5) / finer - 0.5
    ys = (np.arange((bottom - top) * finer) + 0.5) / finer - 0.5 + top
    flat = (np.stack(np.meshgrid(xs, ys), axis=-1) - pose.middle) / pose.focal
    s = np.linalg.norm(flat, axis=-1)
    flat = flat * (pose.lens.tangent(s) / np.maximum(s, 1e-12))[..., None]
    ways = np.concatenate((flat, np.ones((*s.shape, 1))), axis=-1) @ pose.axes
    ways /= np.linalg.norm(ways, axis=-1, keepdims=True)
    colour = _table(pose, ways, balls)
    nearest = np.full(s.shape, np.inf)
    for kind, x, y in balls:
        colour, nearest = _ball(pose, ways, (kind, x, y), colour, nearest)
    h, w = colour.shape[0] // finer, colour.shape[1] // finer
    return colour.reshape(h, finer, w, finer, 3).mean(axis=(1, 3))


def _table(pose: Pose, ways: np.ndarray, balls: list[tuple[str, float, float]]) -> np.ndarray:
    """What is seen behind the balls."""
    start = np.array(pose.at)
    down = np.where(ways[..., 2] < -1e-6, ways[..., 2], -1e-6)
    nose = start + ways * ((NOSE_MM - start[2]) / down)[..., None]
    bed = start + ways * (-start[2] / down)[..., None]
    x, y = nose[..., 0], nose[..., 1]
    colour = np.empty((*x.shape, 3))
    colour[:] = FLOOR
    far = np.hypot(x - WIDE_MM / 2, y - LONG_MM / 2)
    colour *= (0.35 + 0.65 * np.exp(-((far / 4200.0) ** 2)))[..., None]
    on_rail = (np.abs(x - WIDE_MM / 2) < WIDE_MM / 2 + 190) & (
        np.abs(y - LONG_MM / 2) < LONG_MM / 2 + 190
    )
    colour[on_rail] = np.array(WOOD) * (1.0 + 0.1 * np.sin(y[on_rail] / 9.0))[:, None]
    on_cushion = (np.abs(x - WIDE_MM / 2) < WIDE_MM / 2 + 55) & (
        np.abs(y - LONG_MM / 2) < LONG_MM / 2 + 55
    )
    colour[on_cushion] = np.array(CLOTH) * 1.12
    opening = (x > 0) & (x < WIDE_MM) & (y > 0) & (y < LONG_MM)
    hole = np.zeros(x.shape, dtype=bool)
    for px, py, r, jaw in _pockets():
        hole |= np.hypot(x - px, y - py) < r
        opening |= np.hypot(x - jaw[0], y - jaw[1]) < jaw[2]
    colour[opening] = _cloth(bed[opening], balls)
    under = opening & (
        (bed[..., 0] < -8) | (bed[..., 0] > WIDE_MM + 8)
        | (bed[..., 1] < -8) | (bed[..., 1] > LONG_MM + 8)
    )  # fmt: skip
    colour[under] = np.array(CLOTH) * 0.45
    colour[hole] = (0.015, 0.015, 0.015)
    colour[ways[..., 2] >= -1e-3] = np.array(FLOOR) * 0.35
    return colour


def _pockets() -> list[tuple[float, float, float, tuple[float, float, float]]]:
    found = []
    for cx, sx in ((0.0, 1.0), (WIDE_MM, -1.0)):
        for cy, sy in ((0.0, 1.0), (LONG_MM, -1.0)):
            found.append((cx - 12 * sx, cy - 12 * sy, 46.0, (cx + 20 * sx, cy + 20 * sy, 62.0)))
        found.append((cx - 52 * sx, LONG_MM / 2, 47.0, (cx - 6 * sx, LONG_MM / 2, 50.0)))
    return found


def _cloth(bed: np.ndarray, balls: list[tuple[str, float, float]]) -> np.ndarray:
    """Cloth with its baulk line, D and spots, and the soft shadows of lamps and balls."""
    x, y = bed[:, 0], bed[:, 1]
    light = 0.9 + 0.18 * np.cos((y - LONG_MM / 2) / LONG_MM * 2.4) * np.cos((x - 889) / 1500)
    colour = np.array(CLOTH) * light[:, None]
    baulk, d = 737.0, 292.0
    marked = np.abs(y - baulk) < 2.0
    marked |= (np.abs(np.hypot(x - 889, y - baulk) - d) < 2.0) & (y <= baulk)
    colour[marked] = LINE
    for sx, sy in ((597, 737), (1181, 737), (889, 737), (889, 1784.5), (889, 2676.75), (889, 3245)):
        colour[np.hypot(x - sx, y - sy) < 5.0] = (0.04, 0.05, 0.04)
    for _, bx, by in balls:
        for dx, dy, depth in ((14.0, 4.0, 0.35), (-10.0, 6.0, 0.25)):
            far = np.hypot(x - bx - dx, y - by - dy)
            colour *= (1.0 - depth / (1.0 + np.exp(np.minimum(far - 22.0, 400.0) / 5.0)))[:, None]
    return colour


def _ball(
    pose: Pose, ways: np.ndarray, ball: tuple[str, float, float], colour: np.ndarray,
    nearest: np.ndarray,
) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    kind, x, y = ball
    centre = np.array([x, y, RADIUS_MM])
    off = np.array(pose.at) - centre
    half = ways @ off
    under = half**2 - (off @ off - RADIUS_MM**2)
    far = -half - np.sqrt(np.maximum(under, 0.0))
    hit = (under > 0) & (far > 0) & (far < nearest)
    if not hit.any():
        return colour, nearest
    normal = (np.array(pose.at) + ways[hit] * far[hit][:, None] - centre) / RADIUS_MM
    lamp = np.array([0.15, 0.1, 1.0]) / np.linalg.norm([0.15, 0.1, 1.0])
    shade = 0.42 + 0.62 * np.clip(normal @ lamp, 0, 1)
    back = ways[hit] - 2.0 * (ways[hit] * normal).sum(axis=1, keepdims=True) * normal
    gloss = np.clip(back @ lamp, 0, 1) ** 60
    lit = np.array(BALLS[kind]) * shade[:, None] + np.array(CLOTH) * 0.12 * np.clip(
        -normal[:, 2:], 0, 1
    )
    colour = colour.copy()
    colour[hit] = np.minimum(lit + 0.75 * gloss[:, None], 1.0)
    nearest = nearest.copy()
    nearest[hit] = far[hit]
    return colour, nearest
