"""Second distances on the measured drawing: a fine line to check each ball by, with its length.

Drawn where the line is long enough to see, runs over no other ball, and its figure has room; the
placement table has all of them.
"""

from __future__ import annotations

import math

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Item, Point, Stroke, Text
from designer.drawing.placing import text_box
from designer.drawing.scene import Scene, on_bed
from engine.placement import CheckDistance, checking_distances
from engine.units import length_text

#: Least free length of a line that is drawn, in text sizes.
_LEAST = 1.6
#: Where along its line a figure is tried, and how far beside it in its own reach.
_ALONG = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
_ASIDE = (1.0, 1.3, 1.7)


def check_lines(scene: Scene) -> list[CheckDistance]:
    """The second distances worth drawing; texts will keep off their lines."""
    shown = []
    for check in checking_distances(scene.routine):
        if check.edge_mm >= _LEAST * scene.look.text_mm and not _runs_over_a_ball(scene, check):
            shown.append(check)
            scene.taken.take_line((check.ball_mm, check.to_mm))
    return shown


def check_items(scene: Scene, shown: list[CheckDistance]) -> tuple[list[Item], list[Item]]:
    """Lines and figures of those that have room for a figure."""
    lines: list[Item] = []
    figures: list[Item] = []
    pen = scene.look.line_mm
    for check in shown:
        if not scene.taken.line_is_free(check.ball_mm, check.to_mm):
            continue
        figure = scene.taken.free_text(_figures(scene, check), scene.look.text_mm * 0.1)
        if figure is None:
            continue
        lines.append(
            Stroke(
                roles.CHECK, ((check.ball_mm, check.to_mm),), pen * 0.6, ink.SOFT_INK,
                dash=(pen * 5, pen * 2, pen, pen * 2), cap="butt",
            )
        )  # fmt: skip
        figures.append(figure)
    return lines, figures


def _figures(scene: Scene, check: CheckDistance) -> list[Text]:
    size = max(scene.look.least_text_mm, scene.look.text_mm * 0.9)
    told = length_text(check.centre_mm, scene.unit).removesuffix(" mm")
    (ax, ay), (bx, by) = check.ball_mm, check.to_mm
    far = math.dist((ax, ay), (bx, by))
    nx, ny = -(by - ay) / far, (bx - ax) / far
    x0, y0, x1, y1 = text_box(scene.text(roles.CHECK, (0.0, 0.0), told, ink.INK, size_mm=size))
    reach = abs(nx) * (x1 - x0) / 2 + abs(ny) * (y1 - y0) / 2 + size * 0.2
    places: list[Point] = [
        (ax + (bx - ax) * rate + nx * reach * aside * sign,
         ay + (by - ay) * rate + ny * reach * aside * sign)
        for aside in _ASIDE for rate in _ALONG for sign in (1.0, -1.0)
    ]  # fmt: skip
    texts = [scene.text(roles.CHECK, at, told, ink.INK, size_mm=size) for at in places]
    return [text for text in texts if on_bed(scene, text)]


def _runs_over_a_ball(scene: Scene, check: CheckDistance) -> bool:
    (ax, ay), (bx, by) = check.ball_mm, check.to_mm
    length = math.dist((ax, ay), (bx, by))
    ux, uy = (bx - ax) / length, (by - ay) / length
    for ball in scene.routine.balls:
        if ball.id == check.ball or (check.kind == "ball" and ball.id == check.to):
            continue
        dx, dy = ball.x_mm - ax, ball.y_mm - ay
        along, off = dx * ux + dy * uy, abs(dx * uy - dy * ux)
        if 0.0 < along < length and off < scene.radius_of(ball.id):
            return True
    return False
