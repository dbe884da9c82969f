"""The pot of each shot: potting line, 90-degree line with its right angle, contact position."""

from __future__ import annotations

import math

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Arc, Item, Point, Stroke
from designer.drawing.scene import Scene
from engine.results import PotAnswer


def pot_items(scene: Scene) -> list[Item]:
    """Lines of every shot that pots a ball, as the layers ask."""
    items: list[Item] = []
    for shot in scene.shots:
        if shot.pot is not None:
            items += _pot(scene, shot.pot)
    return items


def _pot(scene: Scene, pot: PotAnswer) -> list[Item]:
    pen, layers = scene.look.line_mm, scene.layers
    items: list[Item] = []
    if layers.potting_line:
        items.append(Stroke(roles.POTTING_LINE, (pot.potting_line_mm,), pen * 1.3, ink.INK))
        items.append(
            Stroke(
                roles.AIM_LINE, (pot.aim_line_mm,), pen * 0.8, ink.SOFT_INK, dash=(pen * 2, pen * 3)
            )
        )
    if layers.ninety_line:
        dashes = (pen * 6, pen * 3, pen, pen * 3)
        items.append(
            Stroke(roles.NINETY_LINE, (pot.ninety_line_mm,), pen, ink.SOFT_INK, dash=dashes)
        )
    return items


def contact_items(scene: Scene) -> list[Item]:
    """The cue ball's outline at the contact position and the right angle beside it."""
    items: list[Item] = []
    pen = scene.look.line_mm
    for shot in scene.shots:
        pot = shot.pot
        if pot is None:
            continue
        corner = right_angle(pot, scene.radius_mm * 0.9) if scene.layers.ninety_line else None
        if corner is not None:
            items.append(Stroke(roles.NINETY_LINE, (corner,), pen * 0.9, ink.INK))
        if scene.layers.contact:
            items.append(_outline(scene, pot))
    return items


def _outline(scene: Scene, pot: PotAnswer) -> Arc:
    pen = scene.look.line_mm
    return Arc(
        roles.CONTACT,
        pot.contact_mm,
        scene.radius_mm - pen / 2,
        0.0,
        360.0,
        pen,
        ink.INK,
        dash=(pen * 2.2, pen * 1.6),
    )


def right_angle(pot: PotAnswer, size_mm: float) -> tuple[Point, ...] | None:
    """The small square between the line of centres and the 90-degree line, at the contact."""
    (sx, sy), (ex, ey) = pot.ninety_line_mm
    along = math.dist((sx, sy), (ex, ey))
    (bx, by), (px, py) = pot.potting_line_mm
    potting = math.dist((bx, by), (px, py))
    if along < 1e-6 or potting < 1e-6:
        return None
    nx, ny = (ex - sx) / along * size_mm, (ey - sy) / along * size_mm
    fx, fy = (px - bx) / potting * size_mm, (py - by) / potting * size_mm
    cx, cy = pot.contact_mm
    return ((cx + nx, cy + ny), (cx + nx + fx, cy + ny + fy), (cx + fx, cy + fy))
