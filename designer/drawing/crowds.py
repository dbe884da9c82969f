"""Balls on paper: how large each is drawn, and which lie too close for it and need an inset.

A ball is drawn at least so large that it can be seen, over scale where none overlaps another; the
middles stay true. Balls too near each other for that are drawn enlarged as well, with their names
in them.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import pairwise

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.look import SCREEN_LOOK, Look
from designer.drawing.model import Bounds, Disc, Drawing, Fill, Item, Point, Stroke, Text
from designer.drawing.placing import Box, boxes_meet
from designer.drawing.radii import radius_of
from designer.fonts.metrics import CAP_HEIGHT, text_width
from designer.texts import listed, tr
from designer.words.names import ball_names, printed_letters
from engine.routine.context import table_of
from engine.routine.values import Routine

#: How far letters may be narrowed to fit on a ball, and how much of the ball they may use.
_NARROWEST, _USABLE = 0.7, 0.95
#: Balls with no more than this between their middles belong together; the most of the table that
#: one inset shows, mm.
_NEAR_MM, MOST_MM = 160.0, 660.0
#: Cloth round the balls of an inset over the radius of a ball.
_ROUND = 0.8


def drawn_radii(routine: Routine, least_mm: float) -> dict[str, float]:
    """Each ball's radius as drawn: its own, or up to half of `least_mm` where none overlaps."""
    radii = {}
    for ball in routine.balls:
        others = (math.dist(ball.centre_mm, one.centre_mm) for one in routine.balls
                  if one.id != ball.id)  # fmt: skip
        room = min(others, default=math.inf) / 2.0
        radii[ball.id] = max(radius_of(routine, ball.id), min(room, least_mm / 2.0))
    return radii


def crowded_balls(routine: Routine, least_mm: float) -> tuple[str, ...]:
    """The balls that cannot be drawn `least_mm` across without overlapping another."""
    radii = drawn_radii(routine, least_mm)
    return tuple(ball.id for ball in routine.balls if 2.0 * radii[ball.id] < least_mm - 1e-6)


def letter_on_ball(
    look: Look, centre: Point, radius: float, printed: str, colour: str
) -> Text | None:
    """The letter on the ball, as large as fits; None when it would be too small to read."""
    wide = text_width(printed, 1.0, bold=True)
    room = 2.0 * radius * _USABLE
    for stretch in (1.0, 0.85, _NARROWEST):
        size = room / (((wide * stretch) ** 2 + CAP_HEIGHT**2) ** 0.5)
        size = min(size, max(radius * 1.35, look.least_text_mm))
        if size >= max(look.least_text_mm, radius * 1.2) or (
            stretch == _NARROWEST and size >= look.least_text_mm
        ):
            angle = 90.0 if look.turned else 0.0
            return Text(roles.BALL_LETTER, centre, printed, size, colour, bold=True,
                        stretch=stretch, angle_deg=angle)  # fmt: skip
    return None


def crowds_of(routine: Routine, ids: Collection[str]) -> list[tuple[str, ...]]:
    """The balls of `ids` in groups of neighbours, none larger than an inset has room for."""
    left = [ball for ball in routine.balls if ball.id in ids]
    groups: list[tuple[str, ...]] = []
    while left:
        group, open_ones = [], [left.pop(0)]
        while open_ones:
            ball = open_ones.pop()
            group.append(ball)
            near = [b for b in left if math.dist(b.centre_mm, ball.centre_mm) <= _NEAR_MM]
            open_ones += near
            left = [b for b in left if b not in near]
        groups += _cut(routine, tuple(ball.id for ball in group))
    return groups


def _cut(routine: Routine, ids: tuple[str, ...]) -> list[tuple[str, ...]]:
    """A group in two, and each of them again, until it fits."""
    x0, y0, x1, y1 = pack_bounds(routine, ids)
    wide, high = x1 - x0, y1 - y0
    if max(wide, high) <= MOST_MM or len(ids) < 2:
        return [ids]
    along = 0 if wide >= high else 1
    ordered = sorted(ids, key=lambda ball_id: routine.ball(ball_id).centre_mm[along])
    half = len(ordered) // 2
    parts = (tuple(ordered[:half]), tuple(ordered[half:]))
    return [group for part in parts for group in _cut(routine, part)]


def pack_bounds(routine: Routine, ids: Iterable[str]) -> Bounds:
    """The part of the table that an inset of these balls shows."""
    balls = [routine.ball(ball_id) for ball_id in ids]
    pad = max(radius_of(routine, ball.id) for ball in balls) * (1.0 + _ROUND)
    xs, ys = zip(*(ball.centre_mm for ball in balls), strict=True)
    return (min(xs) - pad, min(ys) - pad, max(xs) + pad, max(ys) + pad)


def frame_items(
    groups: Sequence[tuple[str, ...]], routine: Routine, look: Look, texts: Sequence[Box]
) -> list[Item]:
    """A dashed frame round each group that an inset shows; no dash lies on one of the texts."""
    pen = look.line_mm
    dashes: list[tuple[Point, Point]] = []
    for group in groups:
        x0, y0, x1, y1 = pack_bounds(routine, group)
        corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0))
        for (ax, ay), (bx, by) in pairwise(corners):
            count = max(1, round(math.hypot(bx - ax, by - ay) / (5.0 * pen)))
            for step in range(count):
                ends = [
                    (ax + (bx - ax) * at / count, ay + (by - ay) * at / count)
                    for at in (step, step + 0.6)
                ]
                (cx, cy), (dx, dy) = ends
                box = (min(cx, dx) - pen, min(cy, dy) - pen, max(cx, dx) + pen, max(cy, dy) + pen)
                if not any(boxes_meet(box, text) for text in texts):
                    dashes.append((ends[0], ends[1]))
    if not dashes:
        return []
    return [Stroke(roles.INSET, tuple(dashes), pen * 0.7, ink.SOFT_INK, cap="butt")]


def pack_drawing(routine: Routine, ids: Collection[str], look: Look = SCREEN_LOOK) -> Drawing:
    """A part of the table with the balls on it, the name of each inside it."""
    bounds = pack_bounds(routine, ids)
    x0, y0, x1, y1 = bounds
    letters, pen = printed_letters(routine), look.line_mm
    shown = [
        ball for ball in routine.balls
        if x0 < ball.x_mm < x1 and y0 < ball.y_mm < y1
        and (ball.id in ids or _whole(ball.centre_mm, radius_of(routine, ball.id), bounds))
    ]  # fmt: skip
    items: list[Item] = [
        Fill(
            roles.BED,
            ((x0, y0), (x1, y0), (x1, y1), (x0, y1)),
            ink.CLOTH,
            edge_colour=ink.SOFT_INK,
            edge_mm=pen * 0.7,
        )
    ]
    table = table_of(routine)
    for edge in (0.0, table.width_mm):
        if x0 < edge < x1:
            items.append(Stroke(roles.CUSHION, (((edge, y0), (edge, y1)),), pen * 2, ink.INK))
    for edge in (0.0, table.length_mm):
        if y0 < edge < y1:
            items.append(Stroke(roles.CUSHION, (((x0, edge), (x1, edge)),), pen * 2, ink.INK))
    for ball in shown:
        shade = ink.BALL_INKS.get(ball.kind, ink.BALL_INKS["plain"])
        radius = radius_of(routine, ball.id)
        items.append(Disc(roles.BALL, ball.centre_mm, radius - pen / 2, shade.fill,
                          edge_colour=ink.INK, edge_mm=pen))  # fmt: skip
        printed = letters[ball.id]
        letter = letter_on_ball(look, ball.centre_mm, radius, printed, shade.ink)
        if printed and letter is not None:
            items.append(letter)
    names: Mapping[str, str] = ball_names(routine)
    told = tr("Enlarged: {balls}.", balls=listed([names[ball.id] for ball in shown]))
    return Drawing(tuple(items), bounds, tr("Enlarged"), told, turned=look.turned)


def _whole(centre: Point, radius: float, bounds: Bounds) -> bool:
    (x, y), (x0, y0, x1, y1) = centre, bounds
    return x0 <= x - radius and y0 <= y - radius and x + radius <= x1 and y + radius <= y1
