"""The balls as they stand, each with its printed letter on it or, too small for that, beside it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Disc, Fill, Item, Point, Stroke, Text
from designer.drawing.placing import around, text_box
from designer.drawing.scene import Scene, on_bed
from designer.fonts.metrics import CAP_HEIGHT, text_width
from designer.words.names import printed_letters
from engine.balls import Ball

#: How far letters may be narrowed to fit on a ball, and how much of the ball they may use.
_NARROWEST = 0.7
_USABLE = 0.95

#: How far off a letter beside its ball may stand, in steps of its own reach: by itself, and led
#: to its ball by a line.
_NEAR = (1.0, 1.25, 1.5)
_FAR = (1.8, 2.1, 2.4, 2.8, 3.2, 3.7, 4.2, 4.8, 5.4, 6.0, 7.5, 9.0, 11.0, 13.0, 16.0)


def take_balls(scene: Scene) -> None:
    """Mark the balls' places and the pockets as taken, before any text is laid out."""
    for pocket in scene.table.pockets:
        scene.taken.take_circle(pocket.fall_mm, pocket.fall_radius_mm * 1.8)
    for ball in scene.routine.balls:
        scene.taken.take_circle(ball.centre_mm, scene.radius_of(ball.id))


def ball_items(scene: Scene) -> list[Item]:
    """Discs with letters: all on their balls or, when one would be too small, all beside them."""
    items: list[Item] = [_disc(scene, ball) for ball in scene.routine.balls]
    if not scene.layers.ball_letters:
        return items
    letters = printed_letters(scene.routine)
    lettered = [(ball, letters[ball.id]) for ball in scene.routine.balls if letters[ball.id]]
    on_balls = [_letter_on(scene, ball, printed) for ball, printed in lettered]
    whole = [text for text in on_balls if text is not None]
    if len(whole) == len(on_balls):
        return items + whole
    for ball, printed in lettered:
        items += _letter_beside(scene, ball, printed)
    return items


def _disc(scene: Scene, ball: Ball) -> Disc:
    edge = scene.look.line_mm * 0.9
    return Disc(
        roles.BALL,
        ball.centre_mm,
        scene.radius_of(ball.id) - edge / 2,
        _inks(ball).fill,
        edge_colour=ink.INK,
        edge_mm=edge,
    )


def _inks(ball: Ball) -> ink.BallInk:
    return ink.BALL_INKS.get(ball.kind, ink.BALL_INKS["plain"])


def _letter_on(scene: Scene, ball: Ball, printed: str) -> Text | None:
    """The letter on the ball, as large as fits; None when it would be too small to read."""
    wide = text_width(printed, 1.0, bold=True)
    radius = scene.radius_of(ball.id)
    room = 2.0 * radius * _USABLE
    for stretch in (1.0, 0.85, _NARROWEST):
        size = room / (((wide * stretch) ** 2 + CAP_HEIGHT**2) ** 0.5)
        size = min(size, max(radius * 1.35, scene.look.least_text_mm))
        if size >= max(scene.look.least_text_mm, radius * 1.2) or (
            stretch == _NARROWEST and size >= scene.look.least_text_mm
        ):
            return scene.text(
                roles.BALL_LETTER,
                ball.centre_mm,
                printed,
                _inks(ball).ink,
                size_mm=size,
                bold=True,
                stretch=stretch,
            )
    return None


def _letter_beside(scene: Scene, ball: Ball, printed: str) -> list[Item]:
    """The letter near its ball on a patch of cloth, off balls, readings and lanes if it can.

    Among packed balls it may stand farther off, with a thin line to its ball.
    """
    size = max(scene.look.text_mm * 1.1, scene.look.least_text_mm)
    half = text_width(printed, size, bold=True) / 2
    reach = scene.radius_of(ball.id) + size * 0.35 + half

    def text(at: Point) -> Text:
        return scene.text(roles.BALL_LETTER, at, printed, ink.INK, size_mm=size, bold=True)

    def texts(steps: tuple[float, ...]) -> Iterator[Text]:
        found = map(text, around(ball.centre_mm, 0.0, [reach * far for far in steps]))
        return (each for each in found if on_bed(scene, each))

    def led_texts(found: Iterable[Text]) -> Iterator[Text]:
        return (each for each in found if scene.taken.line_is_free(ball.centre_mm, each.at))

    pad, name = size * 0.12, f"ball {ball.id}"
    at = scene.held_at(name, ball.centre_mm)
    held = [each for each in ([] if at is None else [text(at)]) if on_bed(scene, each)]
    far_off = reach * (_NEAR[-1] + 0.01)
    led = bool(held) and math.dist(held[0].at, ball.centre_mm) > far_off
    letter = scene.taken.free_text(led_texts(held) if led else held, pad)
    if letter is None:
        led = False
        letter = scene.taken.best_text(texts(_NEAR), pad)
    if letter is None:
        led = True
        letter = scene.taken.free_text(led_texts(texts(_FAR)), pad)
    if letter is None and scene.layers.measurements:
        return []  # its readings carry the letter, and their lines lead to the ball
    letter = letter or scene.taken.place_text(list(texts(_NEAR)) or [text(ball.centre_mm)], pad)
    scene.hold(name, ball.centre_mm, letter.at)
    x0, y0, x1, y1 = text_box(letter, size * 0.08)
    patch = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    items: list[Item] = [Fill(roles.BALL_LETTER, patch, ink.CLOTH, 0.75), letter]
    if led:
        # short of the patch, so that the line does not run into its own letter
        x0, y0, x1, y1 = text_box(letter, size * 0.2)
        nearest = (min(max(ball.x_mm, x0), x1), min(max(ball.y_mm, y0), y1))
        line = (ball.centre_mm, nearest)
        scene.taken.take_line(line)
        items.insert(0, Stroke(roles.BALL_LETTER, (line,), scene.look.line_mm * 0.6, ink.SOFT_INK))
    return items
