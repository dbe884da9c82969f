"""The balls as they stand, each with its printed letter on it or, too small for that, beside it."""

from __future__ import annotations

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.lettering import printed_letters
from designer.drawing.model import Disc, Fill, Item, Text
from designer.drawing.placing import around, text_box
from designer.drawing.scene import Scene
from designer.fonts.metrics import CAP_HEIGHT, text_width
from engine.balls import Ball

#: How far letters may be narrowed to fit on a ball, and how much of the ball they may use.
_NARROWEST = 0.7
_USABLE = 0.95


def take_balls(scene: Scene) -> None:
    """Mark the balls' places and the pockets as taken, before any text is laid out."""
    for pocket in scene.table.pockets:
        scene.taken.take_circle(pocket.fall_mm, pocket.fall_radius_mm * 1.3)
    for ball in scene.routine.balls:
        scene.taken.take_circle(ball.centre_mm, scene.radius_mm)


def ball_items(scene: Scene) -> list[Item]:
    """Discs with letters; a letter that would be too small to read goes beside its ball."""
    items: list[Item] = []
    outside: list[tuple[Ball, str]] = []
    letters = printed_letters(scene.routine)
    for ball in scene.routine.balls:
        colours = ink.BALL_INKS.get(ball.kind, ink.BALL_INKS["plain"])
        edge = scene.look.line_mm * 0.9
        items.append(
            Disc(
                roles.BALL,
                ball.centre_mm,
                scene.radius_mm - edge / 2,
                colours.fill,
                edge_colour=ink.INK,
                edge_mm=edge,
            )
        )
        printed = letters[ball.id]
        if not scene.layers.ball_letters or not printed:
            continue
        letter = _letter_on(scene, ball, printed, colours.ink)
        if letter is None:
            outside.append((ball, printed))
        else:
            items.append(letter)
    for ball, printed in outside:
        items += _letter_beside(scene, ball, printed)
    return items


def _letter_on(scene: Scene, ball: Ball, printed: str, colour: str) -> Text | None:
    """The letter on the ball, as large as fits; None when it would be too small to read."""
    wide = text_width(printed, 1.0, bold=True)
    room = 2.0 * scene.radius_mm * _USABLE
    for stretch in (1.0, 0.85, _NARROWEST):
        size = room / (((wide * stretch) ** 2 + CAP_HEIGHT**2) ** 0.5)
        size = min(size, max(scene.radius_mm * 1.35, scene.look.least_text_mm))
        if size >= max(scene.look.least_text_mm, scene.radius_mm * 1.2) or (
            stretch == _NARROWEST and size >= scene.look.least_text_mm
        ):
            return scene.text(
                roles.BALL_LETTER,
                ball.centre_mm,
                printed,
                colour,
                size_mm=size,
                bold=True,
                stretch=stretch,
            )
    return None


def _letter_beside(scene: Scene, ball: Ball, printed: str) -> list[Item]:
    """The letter near its ball on a patch of cloth, off balls, readings and lanes if it can."""
    size = scene.look.text_mm
    reach = scene.radius_mm + size * 0.45 + text_width(printed, size, bold=True) / 2
    places = around(ball.centre_mm, 0.0, (reach, reach * 1.3, reach * 1.7))
    beside = [
        scene.text(roles.BALL_LETTER, place, printed, ink.INK, size_mm=size, bold=True)
        for place in places
    ]
    letter = scene.taken.place_text(beside)
    x0, y0, x1, y1 = text_box(letter, size * 0.08)
    patch = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return [Fill(roles.BALL_LETTER, patch, ink.CLOTH, 0.75), letter]
