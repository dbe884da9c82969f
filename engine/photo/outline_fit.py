"""The middle of a ball's outline, suggested from the picture round a click.

First by colour: what lies round the click and is coloured like it. Then by edges: along looks out
from the middle the place where the colour changes most, through which the outline is laid, robust
against shadow and neighbours. With a camera the outline's shape is known and only its place and
size are sought; without one it is a circle.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from engine.photo.balls import ball_place, outline, outline_middle
from engine.photo.camera import Camera
from engine.photo.values import Pixel
from engine.photo.vision import opencv

#: Looks out from the middle, and steps along each.
_LOOKS, _STEPS = 72, 96
#: A suggestion that fewer of the looks agree with than this is none.
_LEAST_SHARE = 0.45
#: A fitted middle is not taken to be surer than this, px: shading moves edges.
_LEAST_SPREAD_PX = 0.5
#: What shows smaller is a speck, px.
_LEAST_RADIUS_PX = 2.5
#: Trade colours in CIE L*a*b* (our own choice, common practice for balls in indoor light).
_HUES: dict[str, tuple[float, float, float]] = {
    "cue": (235, 128, 138), "red": (105, 180, 160), "yellow": (200, 128, 200),
    "green": (100, 95, 140), "brown": (85, 145, 155), "blue": (90, 135, 90),
    "pink": (185, 160, 132), "black": (35, 128, 128),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Suggestion:
    """The middle of an outline, its error and radius in px, and the kind its colour is like.

    `share` is how much of the outline was seen.
    """

    middle_px: Pixel
    spread_px: float
    radius_px: float
    share: float
    kind: str = ""


def suggest_middle(
    pixels: np.ndarray, click: Pixel, *, camera: Camera | None = None, radius_mm: float = 26.25
) -> Suggestion | None:
    """The ball at a click in an upright picture (high, wide, 3); None when none is made out.

    `radius_mm` is the ball's; it is used with a camera alone.
    """
    size = _size_at(camera, click, radius_mm) if camera is not None else None
    reach = 2.6 * size if size else max(40.0, 0.035 * max(pixels.shape[:2]))
    window = _Window(pixels, click, reach)
    if window.is_empty:
        return None
    by_colour = _by_colour(window, click, size)
    if by_colour is None:
        return None
    middle, radius = by_colour
    if size:
        radius = size
    shape = _shape(camera, middle, radius_mm)
    found = None
    for room in (0.45, 0.3, 0.2):
        found = _by_edges(window, middle, radius, shape, room)
        if found is None:
            return None
        middle, radius = found.middle_px, found.radius_px
    if found is None or found.share < _LEAST_SHARE or found.radius_px < _LEAST_RADIUS_PX:
        return None
    if size and not 0.75 <= found.radius_px / size <= 1.33:
        return None
    if math.dist(found.middle_px, click) > 1.3 * found.radius_px:
        return None
    return Suggestion(
        found.middle_px,
        found.spread_px,
        found.radius_px,
        found.share,
        window.kind_at(middle, radius),
    )


class _Window:
    """The part of a picture round a click, in L*a*b* and a little smoothed."""

    def __init__(self, pixels: np.ndarray, click: Pixel, reach: float) -> None:
        cv = opencv()
        high, wide = pixels.shape[:2]
        x0, x1 = max(0, math.floor(click[0] - reach)), min(wide, math.ceil(click[0] + reach) + 1)
        y0, y1 = max(0, math.floor(click[1] - reach)), min(high, math.ceil(click[1] + reach) + 1)
        self.corner = np.array([x0, y0], dtype=float)
        self.is_empty = x1 - x0 < 8 or y1 - y0 < 8
        if not self.is_empty:
            part = np.ascontiguousarray(pixels[y0:y1, x0:x1])
            smooth = cv.GaussianBlur(part, (0, 0), max(0.8, reach / 120.0))
            self.lab = cv.cvtColor(smooth, cv.COLOR_RGB2LAB).astype(np.float32)

    def at(self, points: np.ndarray) -> np.ndarray:
        """Colours (..., 3) between pixels, at picture places (..., 2)."""
        local = (points - self.corner).astype(np.float32)
        flat = local.reshape(-1, 1, 2)
        cv = opencv()
        found = cv.remap(
            self.lab, flat[..., 0], flat[..., 1], cv.INTER_LINEAR, borderMode=cv.BORDER_REPLICATE
        )
        return found.reshape(*points.shape[:-1], 3)

    def kind_at(self, middle: Pixel, radius: float) -> str:
        """The kind whose colour is nearest to the ball's."""
        turn = np.linspace(0, 2 * math.pi, 24, endpoint=False)
        rings = np.concatenate(
            [np.column_stack((np.cos(turn), np.sin(turn))) * radius * r for r in (0.2, 0.45, 0.65)]
        )
        colour = np.median(self.at(np.asarray(middle) + rings), axis=0)
        weights = np.array([0.5, 1.0, 1.0])
        return min(_HUES, key=lambda name: float(np.sum(((colour - _HUES[name]) * weights) ** 2)))


def _size_at(camera: Camera, click: Pixel, radius_mm: float) -> float | None:
    """The radius in px of a ball there, the mean of its outline's; None when none can be."""
    place = ball_place(camera, click, radius_mm)
    rim = outline(camera, np.array([*place, radius_mm]), radius_mm)
    size = float(np.hypot(*(rim - rim.mean(axis=0)).T).mean())
    return size if math.isfinite(size) else None  # over the horizon, or not all before the lens


def _shape(
    camera: Camera | None, middle: Pixel, radius_mm: float
) -> Callable[[np.ndarray], np.ndarray]:
    """The outline's distance from its middle over its mean, at angles (n,): 1 for a circle."""
    if camera is not None:
        place = ball_place(camera, middle, radius_mm)
        if np.isfinite(place).all():
            centre = np.array([*place, radius_mm])
            rim = outline(camera, centre, radius_mm) - outline_middle(camera, centre, radius_mm)
            angles, sizes = np.arctan2(rim[:, 1], rim[:, 0]), np.hypot(*rim.T)
            order = np.argsort(angles)
            angles, sizes = angles[order], sizes[order] / sizes.mean()
            return lambda turn: np.interp(turn, angles, sizes, period=2 * math.pi)
    return np.ones_like


def _by_colour(window: _Window, click: Pixel, size: float | None) -> tuple[Pixel, float] | None:
    """Middle and radius of what is coloured like the click and joined to it."""
    cv = opencv()
    local = np.asarray(click) - window.corner
    high, wide = window.lab.shape[:2]
    yy, xx = np.mgrid[0:high, 0:wide]
    off = np.hypot(xx - local[0], yy - local[1])
    near = max(2.0, 0.3 * size) if size else 3.0
    seed = np.median(window.lab[off <= near], axis=0)
    outer = max(high, wide) / 2.0
    cloth = np.median(window.lab[(off > 0.75 * outer) & (off < outer)], axis=0)
    weights = np.array([0.45, 1.0, 1.0])  # light and shade vary over a ball more than its hue
    to_seed = np.sqrt((((window.lab - seed) * weights) ** 2).sum(axis=2))
    to_cloth = np.sqrt((((window.lab - cloth) * weights) ** 2).sum(axis=2))
    apart = float(np.sqrt((((seed - cloth) * weights) ** 2).sum()))
    if apart < 8.0:
        return None
    # a highlight is unlike the seed but still more unlike the cloth
    mask = ((to_seed < to_cloth) | (to_cloth > 1.2 * apart)).astype(np.uint8)
    if size:
        kernel = max(1, round(size / 6))
        mask = cv.morphologyEx(mask, cv.MORPH_OPEN, np.ones((kernel, kernel), np.uint8))
        mask[off > 2.0 * size] = 0
    _, labels = cv.connectedComponents(mask)
    label = labels[
        int(np.clip(round(local[1]), 0, high - 1)), int(np.clip(round(local[0]), 0, wide - 1))
    ]
    if not label:
        return None
    part = (labels == label).astype(np.uint8)
    if part.sum() < 20:
        return None
    # the middle of the largest circle that fits in: a shadow or a neighbour hangs on at a side
    depth = cv.distanceTransform(cv.copyMakeBorder(part, 1, 1, 1, 1, cv.BORDER_CONSTANT), 2, 5)
    radius = float(depth.max())
    at = np.mean(np.argwhere(depth >= radius - 0.75), axis=0)[::-1] - 1.0 + window.corner
    if radius < _LEAST_RADIUS_PX:
        return None
    return (float(at[0]), float(at[1])), radius


def _by_edges(
    window: _Window,
    middle: Pixel,
    radius: float,
    shape: Callable[[np.ndarray], np.ndarray],
    room: float,
) -> Suggestion | None:
    """The outline laid through the strongest edges within a share of the radius."""
    turn = np.linspace(-math.pi, math.pi, _LOOKS, endpoint=False)
    ways = np.column_stack((np.cos(turn), np.sin(turn))) * shape(turn)[:, None]
    far = np.linspace(1.0 - room, 1.0 + room, _STEPS) * radius
    colours = window.at(np.asarray(middle) + ways[:, None, :] * far[None, :, None])
    step = far[1] - far[0]
    gap = int(np.clip(round(1.0 / step), 1, _STEPS // 6))
    change = np.linalg.norm(colours[:, 2 * gap :] - colours[:, : -2 * gap], axis=2)
    inner = far[gap:-gap]
    # nearer the expected place counts for more
    weight = np.exp(-0.5 * ((inner / radius - 1.0) / (0.6 * room)) ** 2)
    best = np.argmax(change * weight, axis=1)
    strength = change[np.arange(_LOOKS), best]
    places = inner[best] + step * _between(change, best)
    usable = strength > max(6.0, 0.35 * float(np.median(strength)))
    if usable.sum() < _LOOKS * _LEAST_SHARE:
        return None
    # place = radius + shift along the look, over the shape: linear in the three unknowns
    directions = np.column_stack((np.cos(turn), np.sin(turn))) / shape(turn)[:, None]
    rows = np.column_stack((np.ones(_LOOKS), directions))
    kept = usable.copy()
    known = np.zeros(3)
    scatter = 1.0
    for _ in range(8):
        known, *_rest = np.linalg.lstsq(rows[kept], places[kept], rcond=None)
        off = np.abs(places - rows @ known)
        scatter = max(1.4826 * float(np.median(off[kept])), 0.15)
        again = usable & (off < 2.8 * scatter)
        if (again == kept).all() or again.sum() < 12:
            break
        kept = again
    share = float(kept.sum()) / _LOOKS
    spread = max(_LEAST_SPREAD_PX, scatter * math.sqrt(2.0 / max(kept.sum(), 1)))
    at = (middle[0] + float(known[1]), middle[1] + float(known[2]))
    return Suggestion(at, spread, float(known[0]), share)


def _between(change: np.ndarray, best: np.ndarray) -> np.ndarray:
    """How far between steps the peak of a row lies, by a parabola through its three values."""
    held = np.clip(best, 1, change.shape[1] - 2)
    row = np.arange(len(best))
    left, top, right = change[row, held - 1], change[row, held], change[row, held + 1]
    bend = left - 2 * top + right
    shift = np.where(np.abs(bend) > 1e-6, 0.5 * (left - right) / np.where(bend == 0, 1, bend), 0.0)
    return np.where(best == held, np.clip(shift, -0.5, 0.5), 0.0)
