"""Gaps: a line between two edges, a stretch of cushion, an area; the verdict as sign and word."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.hatching import polygon_hatch
from designer.drawing.model import Arc, Disc, Fill, Item, Point, Stroke
from designer.drawing.paths import sampled
from designer.drawing.placing import Box
from designer.drawing.scene import Scene, seen_part
from designer.words.names import gap_name, shortened
from engine.results import GapVerdict
from engine.routine.values import Gap

#: How far a name may stand out over the cushion faces, mm.
_OUTER = 100.0

#: Where names are tried: how far off in steps and which way round the gap, and farther off along
#: one line, both ways in turn.
_NEAR = np.array((0.9, 1.4, 2.0, 2.7, 3.5, 4.5))
_TURNS = np.array((0.0, 180.0, 90.0, -90.0, 45.0, -45.0, 135.0, -135.0))
_FAR = np.outer((1.2, 2.0, 3.0, 4.2, 5.5, 7.0, 9.0, 11.0, 14.0, 18.0), (1.0, -1.0)).ravel()

YES, NO = "\N{CHECK MARK}", "\N{BALLOT X}"


@dataclass(frozen=True, slots=True)
class Span:
    """A gap's two edges on the cloth; None ends mean that the gap cannot be drawn yet."""

    start_mm: Point
    end_mm: Point

    @property
    def middle_mm(self) -> Point:
        """Half way between the edges."""
        return (
            (self.start_mm[0] + self.end_mm[0]) / 2.0,
            (self.start_mm[1] + self.end_mm[1]) / 2.0,
        )


@dataclass(frozen=True, slots=True)
class DrawnGap:
    """A gap complete enough to draw: its items, where its name points to, where to look for room.

    `heading_deg` is the direction in which the name is tried first.
    """

    gap: Gap
    items: list[Item]
    middle_mm: Point
    heading_deg: float


def drawn_gaps(scene: Scene) -> list[DrawnGap]:
    """Every gap that can be drawn; texts are asked to keep off its line."""
    found = []
    for gap in scene.routine.gaps:
        items, middle, heading = _shape(scene, gap)
        if middle is not None:
            found.append(DrawnGap(gap, items, middle, heading))
            span = gap_span(scene, gap)
            line = [span.start_mm, span.end_mm] if span else [*gap.points_mm, *gap.points_mm[:1]]
            if line:
                scene.taken.keep_off(sampled(np.array(line), 25.0), scene.look.text_mm * 0.15)
    return found


def gap_names(scene: Scene, found: list[DrawnGap]) -> list[Item]:
    """The names of the gaps with, if asked, their verdicts."""
    items: list[Item] = []
    for drawn in found:
        items += _name(scene, drawn.gap, drawn.middle_mm, drawn.heading_deg)
    return items


def gap_span(scene: Scene, gap: Gap) -> Span | None:
    """The two edges of a gap between balls, or between a ball and a cushion; else None."""
    balls = {ball.id: ball for ball in scene.routine.balls}
    named = [balls[ball_id].centre_mm for ball_id in gap.balls if ball_id in balls]
    if gap.kind == "ball-ball" and len(named) == 2:
        one, other = (scene.radius_of(ball_id) for ball_id in gap.balls if ball_id in balls)
        return _between_balls(named[0], named[1], one, other)
    if gap.kind == "ball-cushion" and len(named) == 1 and gap.cushion:
        return _to_cushion(scene, named[0], scene.radius_of(gap.balls[0]), gap.cushion)
    if gap.kind == "cushion-stretch" and gap.from_mm is not None and gap.to_mm is not None:
        return Span(
            _on_face(scene, gap.cushion, gap.from_mm), _on_face(scene, gap.cushion, gap.to_mm)
        )
    return None


def _shape(scene: Scene, gap: Gap) -> tuple[list[Item], Point | None, float]:
    """Items of a gap, where its name goes, and the direction (degrees) to look for room in."""
    if gap.kind == "cloth-area" and len(gap.points_mm) >= 3:
        xs, ys = zip(*gap.points_mm, strict=True)
        return _area(scene, gap.points_mm), ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2), 90.0
    if gap.kind == "cannon" and gap.balls:
        return _cannon(scene, gap)
    span = gap_span(scene, gap)
    if span is None:
        return [], None, 0.0
    heading = math.degrees(
        math.atan2(span.end_mm[1] - span.start_mm[1], span.end_mm[0] - span.start_mm[0])
    )
    thick = gap.kind == "cushion-stretch"
    return _span_items(scene, span, thick), span.middle_mm, heading + 90.0


def _span_items(scene: Scene, span: Span, thick: bool) -> list[Item]:
    """The line between the edges with a tick across each end."""
    pen = scene.look.line_mm
    (ax, ay), (bx, by) = span.start_mm, span.end_mm
    length = math.dist((ax, ay), (bx, by))
    if length < 1e-6:
        return []
    nx, ny = -(by - ay) / length, (bx - ax) / length
    tick = max(20.0, pen * 4)
    ticks = tuple(
        ((x - nx * tick, y - ny * tick), (x + nx * tick, y + ny * tick))
        for x, y in ((ax, ay), (bx, by))
    )
    return [
        Stroke(roles.GAP, (((ax, ay), (bx, by)),), pen * 3.4, ink.PAPER, 0.9, cap="butt"),
        Stroke(
            roles.GAP, (((ax, ay), (bx, by)),), pen * (3.0 if thick else 1.6), ink.INK, cap="butt",
            dash=() if thick else (pen * 3, pen * 1.5),
        ),
        Stroke(roles.GAP, ticks, pen * 1.6, ink.INK, cap="butt"),
    ]  # fmt: skip


def _area(scene: Scene, points: tuple[Point, ...]) -> list[Item]:
    pen = scene.look.line_mm
    hatch = polygon_hatch(points, max(30.0, pen * 8), 45.0)
    items: list[Item] = [Fill(roles.GAP, points, ink.SOFT_INK, 0.08)]
    if hatch:
        items.append(Stroke(roles.GAP, hatch, pen * 0.5, ink.SOFT_INK, 0.7, cap="butt"))
    items.append(
        Stroke(roles.GAP, (points,), pen * 1.4, ink.INK, dash=(pen * 3, pen * 1.5), closed=True)
    )
    return items


def _cannon(scene: Scene, gap: Gap) -> tuple[list[Item], Point | None, float]:
    """A ring round the ball to be met, at the cue ball's centre when it touches."""
    ball = next((b for b in scene.routine.balls if b.id == gap.balls[0]), None)
    if ball is None:
        return [], None, 0.0
    pen = scene.look.line_mm
    ring = Arc(
        roles.GAP, ball.centre_mm, scene.touch_of(ball.id), 0, 360, pen * 1.4, ink.INK,
        dash=(pen * 3, pen * 1.5),
    )  # fmt: skip
    return [ring], ball.centre_mm, 90.0


def _name(scene: Scene, gap: Gap, middle: Point, heading: float) -> list[Item]:
    """Name of the gap beside it; before it a sign in a disc (tick) or a square (cross)."""
    verdict = _verdict(scene, gap) if scene.layers.verdicts else None
    text = shortened(gap_name(scene.routine, gap), scene.look.name_letters)
    size, pen = scene.look.text_mm, scene.look.line_mm
    sign = size * 1.3 if verdict is not None else 0.0
    base = scene.text(roles.GAP, (0.0, 0.0), text, ink.INK)
    wide = base.width_mm + sign + size * 0.5
    box_size = (wide, size * 1.25)
    held = _held_box(scene, gap, middle, box_size)
    places = _places(scene, middle, heading, box_size)
    chosen, (x, y, *_) = scene.taken.place_box(places, middle, held)
    scene.hold(f"gap {gap.id}", middle, _centre(chosen))
    x0, y0, x1, y1 = chosen
    items: list[Item] = [Stroke(roles.GAP, (((x, y), middle),), pen * 0.7, ink.SOFT_INK)]
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    items.append(Fill(roles.GAP, corners, ink.PAPER, 0.88, ink.SOFT_INK, pen * 0.6))
    turned = scene.look.turned
    cx, cy = _centre(chosen)
    shift = sign / 2
    at = (cx, cy + shift) if turned else (cx + shift, cy)
    items.append(scene.text(roles.GAP, at, text, ink.INK))
    if verdict is not None:
        spot = (cx, y0 + size * 0.75) if turned else (x0 + size * 0.75, cy)
        items += _sign(scene, spot, verdict.reachable)
    return items


def _sign(scene: Scene, at: Point, good: bool) -> list[Item]:
    """A tick in a white disc, or a cross in a dark square: told apart by shape and by ink."""
    size, pen = scene.look.text_mm, scene.look.line_mm
    half = size * 0.46
    if good:
        back: Item = Disc(
            roles.VERDICT, at, half, ink.PAPER, edge_colour=ink.INK, edge_mm=pen * 0.8
        )
    else:
        x, y = at
        back = Fill(
            roles.VERDICT,
            (
                (x - half, y - half),
                (x + half, y - half),
                (x + half, y + half),
                (x - half, y + half),
            ),
            ink.INK,
        )
    sign = scene.text(
        roles.VERDICT,
        at,
        YES if good else NO,
        ink.INK if good else ink.PAPER,
        size_mm=max(size * 0.85, scene.look.least_text_mm),
    )
    return [back, sign]


def _verdict(scene: Scene, gap: Gap) -> GapVerdict | None:
    """The verdict of the first drawn shot that has one for this gap."""
    if scene.answer is None:
        return None
    wanted = [shot.shot for shot in scene.shots]
    found = [v for v in scene.answer.verdicts if v.gap == gap.id and v.shot in wanted]
    return next((v for v in found if v.reachable), found[0] if found else None)


def _places(scene: Scene, middle: Point, heading: float, size: tuple[float, float]) -> np.ndarray:
    """Boxes (n, 4) for a gap's name, nearest first, none over the edge of the rim.

    Round the middle of the gap first, then farther off, moved along its own line onto the table.
    """
    wide, high = size[::-1] if scene.look.turned else size
    step, low, top = size[1], *_edge_centres(scene, wide, high)
    angles = np.radians(heading + _TURNS)
    ways = np.column_stack((np.cos(angles), np.sin(angles)))
    reach = np.abs(ways) * (wide / 2, high / 2) + step * _NEAR[:, None, None]
    near = (np.array(middle) + ways * reach).reshape(-1, 2)
    near = near[((near > low) & (near < top)).all(axis=1)]
    off = np.zeros((len(_FAR), 2))
    off[:, 0 if scene.look.turned else 1] = _FAR * step
    # A name wider than all the room there is stands in its middle.
    far = np.where(low > top, (low + top) / 2.0, np.clip(np.array(middle) + off, low, top))
    centres = np.concatenate((near, far))
    half = np.array((wide / 2, high / 2))
    return np.concatenate((centres - half, centres + half), axis=1)


def _held_box(scene: Scene, gap: Gap, middle: Point, size: tuple[float, float]) -> Box | None:
    """The name's box where it was beside its gap, if that is still on the table."""
    at = scene.held_at(f"gap {gap.id}", middle)
    if at is None:
        return None
    box = _about(at, *(size[::-1] if scene.look.turned else size))
    return box if _inside(box, _edges(scene)) else None


def _edges(scene: Scene) -> Box:
    """How far names may stand out."""
    table = scene.table
    return seen_part(scene, (-_OUTER, -_OUTER, table.width_mm + _OUTER, table.length_mm + _OUTER))


def _edge_centres(scene: Scene, wide: float, high: float) -> tuple[np.ndarray, np.ndarray]:
    """The least and the most place of a box's middle that keeps it within the edges."""
    edges, half = np.array(_edges(scene)), np.array((wide / 2, high / 2))
    return edges[:2] + half, edges[2:] - half


def _about(centre: Point, wide: float, high: float) -> Box:
    x, y = centre
    return (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def _centre(box: Box) -> Point:
    return ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


def _inside(box: Box, edges: Box) -> bool:
    return box[0] > edges[0] and box[1] > edges[1] and box[2] < edges[2] and box[3] < edges[3]


def _between_balls(one: Point, other: Point, one_radius: float, other_radius: float) -> Span | None:
    apart = math.dist(one, other)
    if apart <= one_radius + other_radius:
        return None
    ux, uy = (other[0] - one[0]) / apart, (other[1] - one[1]) / apart
    return Span(
        (one[0] + ux * one_radius, one[1] + uy * one_radius),
        (other[0] - ux * other_radius, other[1] - uy * other_radius),
    )


def _to_cushion(scene: Scene, centre: Point, radius: float, cushion: str) -> Span:
    x, y = centre
    face = _on_face(scene, cushion, y if cushion in ("left", "right") else x)
    apart = max(math.dist(centre, face), 1e-9)
    rate = radius / apart
    return Span((x + (face[0] - x) * rate, y + (face[1] - y) * rate), face)


def _on_face(scene: Scene, cushion: str, along_mm: float) -> Point:
    table = scene.table
    return {
        "left": (0.0, along_mm),
        "right": (table.width_mm, along_mm),
        "bottom": (along_mm, 0.0),
        "top": (along_mm, table.length_mm),
    }[cushion]
