"""The balls as they stand, each with its printed letter on it or, too small for that, beside it."""

from __future__ import annotations

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Disc, Item, Text
from designer.drawing.placing import around
from designer.drawing.scene import Scene
from designer.fonts.metrics import CAP_HEIGHT, text_width
from engine.balls import Ball

#: How far letters may be narrowed to fit on a ball, and how much of the ball they may use.
_NARROWEST = 0.7
_USABLE = 0.95


def take_balls(scene: Scene) -> None:
    """Mark the balls' places as taken, before any text is laid out."""
    for ball in scene.routine.balls:
        scene.taken.take_circle(ball.centre_mm, scene.radius_mm)


def ball_items(scene: Scene) -> list[Item]:
    """Discs with letters; a letter that would be too small to read goes beside its ball."""
    items: list[Item] = []
    outside: list[Ball] = []
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
        if not scene.layers.ball_letters or not ball.letter:
            continue
        letter = _letter_on(scene, ball, colours.ink)
        if letter is None:
            outside.append(ball)
        else:
            items.append(letter)
    items += [_letter_beside(scene, ball) for ball in outside]
    return items


def _letter_on(scene: Scene, ball: Ball, colour: str) -> Text | None:
    """The letter on the ball, as large as fits; None when it would be too small to read."""
    wide = text_width(ball.letter, 1.0, bold=True)
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
                ball.letter,
                colour,
                size_mm=size,
                bold=True,
                stretch=stretch,
            )
    return None


def _letter_beside(scene: Scene, ball: Ball) -> Text:
    size = scene.look.text_mm
    reach = scene.radius_mm + size * 0.45 + text_width(ball.letter, size, bold=True) / 2
    places = around(ball.centre_mm, 0.0, (reach, reach * 1.3, reach * 1.7))
    beside = [
        scene.text(
            roles.BALL_LETTER,
            place,
            ball.letter,
            ink.INK,
            size_mm=size,
            bold=True,
            halo=ink.CLOTH,
            halo_mm=size * 0.2,
        )
        for place in places
    ]
    return scene.taken.place_text(beside)
