"""The balls as they stand, each with its printed letter on it or, too small for that, beside it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.crowds import letter_on_ball
from designer.drawing.model import Disc, Fill, Item, Point, Stroke, Text
from designer.drawing.placing import around, text_box
from designer.drawing.scene import Scene, on_bed
from designer.fonts.metrics import text_width
from designer.words.names import printed_letters
from engine.balls import Ball

#: How far off a letter beside its ball may stand, in steps of its own reach: by itself, and led
#: to its ball by a line.
_NEAR = (1.0, 1.25, 1.5)
_FAR = (1.8, 2.1, 2.4, 2.8, 3.2, 3.7, 4.2, 4.8, 5.4, 6.0, 7.5, 9.0, 11.0, 13.0, 16.0)


def take_balls(scene: Scene) -> None:
    """Mark the balls' places and the pockets as taken, before any text is laid out."""
    for pocket in scene.table.pockets:
        scene.taken.take_circle(pocket.fall_mm, pocket.fall_radius_mm * 1.8)
    for ball in scene.routine.balls:
        scene.taken.take_circle(ball.centre_mm, scene.drawn_radius(ball.id))


def ball_items(scene: Scene) -> list[Item]:
    """Discs with letters: all on their balls or, when one would be too small, all beside them."""
    items: list[Item] = [_disc(scene, ball) for ball in scene.routine.balls]
    if not scene.layers.ball_letters:
        return items
    letters = printed_letters(scene.routine)
    lettered = [(ball, letters[ball.id]) for ball in scene.routine.balls if letters[ball.id]]
    on_balls = [
        letter_on_ball(
            scene.look, ball.centre_mm, scene.drawn_radius(ball.id), printed, _inks(ball).ink
        )
        for ball, printed in lettered
    ]
    whole = [text for text in on_balls if text is not None]
    if len(whole) == len(on_balls):
        return items + whole
    for ball, printed in lettered:
        found = _letter_beside(scene, ball, printed)
        if not found and scene.look.least_ball_mm:
            scene.crowded.add(ball.id)
        items += found
    return items


def _disc(scene: Scene, ball: Ball) -> Disc:
    edge = scene.look.line_mm * 0.9
    return Disc(
        roles.BALL,
        ball.centre_mm,
        scene.drawn_radius(ball.id) - edge / 2,
        _inks(ball).fill,
        edge_colour=ink.INK,
        edge_mm=edge,
    )


def _inks(ball: Ball) -> ink.BallInk:
    return ink.BALL_INKS.get(ball.kind, ink.BALL_INKS["plain"])


def _letter_beside(scene: Scene, ball: Ball, printed: str) -> list[Item]:
    """The letter near its ball on a patch of cloth, off balls, readings and lanes if it can.

    Among packed balls it may stand farther off, with a thin line to its ball; on paper, where an
    inset names them, it is left out there, and where it would stand nearer to another ball.
    """
    on_paper, crowded = scene.look.least_ball_mm > 0.0, ball.id in scene.crowded
    size = max(scene.look.text_mm * 1.1, scene.look.least_text_mm)
    half = text_width(printed, size, bold=True) / 2
    reach = scene.drawn_radius(ball.id) + size * 0.35 + half

    def text(at: Point) -> Text:
        return scene.text(roles.BALL_LETTER, at, printed, ink.INK, size_mm=size, bold=True)

    def texts(steps: tuple[float, ...]) -> Iterator[Text]:
        found = map(text, around(ball.centre_mm, 0.0, [reach * far for far in steps]))
        return (
            each for each in found
            if on_bed(scene, each) and not (on_paper and _nearer_another(scene, ball, each.at))
        )  # fmt: skip

    def led_texts(found: Iterable[Text]) -> Iterator[Text]:
        return (each for each in found if scene.taken.line_is_free(ball.centre_mm, each.at))

    pad, name = size * 0.12, f"ball {ball.id}"
    at = scene.held_at(name, ball.centre_mm)
    held = [each for each in ([] if at is None else [text(at)]) if on_bed(scene, each)]
    far_off = reach * (_NEAR[-1] + 0.01)
    led = bool(held) and math.dist(held[0].at, ball.centre_mm) > far_off
    letter = scene.taken.free_text(led_texts(held) if led else held, pad)
    if crowded:
        letter = scene.taken.free_text(texts(_NEAR[:1]), pad)
        if letter is None:
            return []
    if letter is None:
        led = False
        letter = scene.taken.best_text(texts(_NEAR), pad)
    if letter is None:
        led = True
        letter = scene.taken.free_text(led_texts(texts(_FAR)), pad)
    if letter is None and scene.layers.measurements:
        return []  # its readings carry the letter, and their lines lead to the ball
    if letter is None and on_paper and not list(texts(_NEAR)):
        return []
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


def _nearer_another(scene: Scene, ball: Ball, at: Point) -> bool:
    """Whether a name's middle lies nearer to another ball than to its own."""
    own = math.dist(ball.centre_mm, at)
    return any(
        math.dist(other.centre_mm, at) < own * 1.1
        for other in scene.routine.balls
        if other.id != ball.id
    )
