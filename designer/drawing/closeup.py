"""Close-ups of one contact: how full the ball is taken, seen by the player and from above.

Millimetres as on the table; the two views stand side by side, y upwards. The player's view looks
along the line of aim, the other one down on the cloth with the line of aim upwards.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.look import SCREEN_LOOK, Look
from designer.drawing.model import Arc, Disc, Drawing, Item, Point, Stroke, Text
from designer.drawing.radii import radius_of, touch_mm
from designer.fonts.metrics import text_width
from designer.texts import tr
from designer.words.figures import angle
from designer.words.names import printed_letters
from designer.words.pots import cut
from engine.results import PotAnswer
from engine.routine.values import Routine


@dataclass(frozen=True, slots=True)
class _Contact:
    """One contact turned so that the cue ball comes upwards: the object ball's centre from it."""

    pot: PotAnswer
    cue_radius: float
    ball_radius: float
    touch_mm: float
    fill: ink.BallInk
    letter: str
    cue_letter: str
    look: Look

    @property
    def side(self) -> float:
        """+1 when the object ball goes to the left and so the cue ball stands on its right."""
        return -1.0 if self.pot.cut_side == "right" else 1.0

    @property
    def away(self) -> Point:
        """From the cue ball's centre to the object ball's, the line of aim upwards."""
        cut = math.radians(self.pot.cut_deg)
        return (-self.side * self.touch_mm * math.sin(cut), self.touch_mm * math.cos(cut))


def contact_drawing(routine: Routine, pot: PotAnswer, look: Look = SCREEN_LOOK) -> Drawing:
    """The contact of a pot, from behind the cue ball and from above."""
    letters = printed_letters(routine)
    kinds = {ball.id: ball.kind for ball in routine.balls}
    cue = routine.cue_ball
    cue_id = cue.id if cue else ""
    radius = radius_of(routine, cue_id)
    contact = _Contact(
        pot, radius, radius_of(routine, pot.object_ball),
        touch_mm(routine, cue_id, pot.object_ball),
        ink.BALL_INKS.get(kinds.get(pot.object_ball, ""), ink.BALL_INKS["plain"]),
        letters.get(pot.object_ball, ""), letters.get(cue.id, "") if cue else "", look,
    )  # fmt: skip
    seen, above = _seen(contact), _from_above(contact)
    size, r = look.text_mm, radius
    least = size * 3.6
    seen_half, above_half = max(1.75 * r, least), max(2.05 * r, least)
    shift, level = seen_half + above_half, -2.0 * r - size * 0.2
    items = [*seen, *(_moved(item, shift) for item in above)]
    for at, upper, lower in (
        (0.0, tr("from behind"), tr("{share} of the ball", share=f"{pot.fullness:.2f}")),
        (shift, tr("from above"), tr("cut {angle}", angle=angle(pot.cut_deg))),
    ):
        items.append(_text(contact, (at, level - size * 0.6), upper, bold=True))
        items.append(_text(contact, (at, level - size * 1.8), lower))
    bounds = (-seen_half, level - size * 2.5, shift + above_half, 2.75 * r)
    return Drawing(tuple(items), bounds, tr("Contact"), _in_words(pot))


def _in_words(pot: PotAnswer) -> str:
    return tr("Contact on the object ball: {cut}.", cut=cut(pot))


def _seen(c: _Contact) -> list[Item]:
    """The object ball with the cue ball's outline before it, and how much of it is covered."""
    dx = c.away[0] / 2.0
    pen = c.look.line_mm
    # the letter stands on the part that is not covered, when that is wide enough
    shows = c.ball_radius - c.cue_radius + 2.0 * abs(dx)
    letter = c.letter if text_width(c.letter, c.look.text_mm, bold=True) < 0.85 * shows else ""
    letter_at = (dx + math.copysign(c.ball_radius - shows / 2.0, dx), 0.0)
    items = [
        *_ball(c, (dx, 0.0), c.ball_radius, c.fill, letter, letter_at),
        Disc(roles.CONTACT, (-dx, 0.0), c.cue_radius, ink.CHALK, 0.72),
        Arc(roles.CONTACT, (-dx, 0.0), c.cue_radius - pen / 2, 0, 360, pen, ink.INK),
    ]
    edges = sorted((dx - c.ball_radius, dx + c.ball_radius, -dx - c.cue_radius, -dx + c.cue_radius))
    if edges[2] - edges[1] < 2.0 * min(c.cue_radius, c.ball_radius) + 1e-6:
        items += _span(c, edges[1], edges[2], -max(c.cue_radius, c.ball_radius) - pen * 4)
    return items


def _span(c: _Contact, left: float, right: float, level: float) -> list[Item]:
    """A short dimension line under the part of the ball that is covered."""
    pen = c.look.line_mm
    ticks = tuple(((x, level - pen * 3), (x, level + pen * 3)) for x in (left, right))
    return [
        Stroke(roles.CONTACT, (((left, level), (right, level)),), pen * 1.6, ink.INK, cap="butt"),
        Stroke(roles.CONTACT, ticks, pen, ink.INK, cap="butt"),
    ]


def _from_above(c: _Contact) -> list[Item]:
    """Both balls at contact, line of aim, potting line, 90-degree line and contact point."""
    pen, r = c.look.line_mm, c.cue_radius
    dx, dy = c.away
    far = math.hypot(dx, dy)
    ux, uy = dx / far, dy / far
    middle = (-dx / 2.0, -dy / 2.0 + r * 0.4)
    cue, ball = middle, (middle[0] + dx, middle[1] + dy)
    nx, ny = uy * c.side, -ux * c.side
    potted = (ball[0] + ux * 1.9 * r, ball[1] + uy * 1.9 * r)
    corner = ((cue[0] + nx * r * 0.4, cue[1] + ny * r * 0.4),
              (cue[0] + (nx + ux) * r * 0.4, cue[1] + (ny + uy) * r * 0.4),
              (cue[0] + ux * r * 0.4, cue[1] + uy * r * 0.4))  # fmt: skip
    return [
        Stroke(
            roles.AIM_LINE, (((cue[0], cue[1] - 1.4 * r), (cue[0], cue[1] + 1.9 * r)),),
            pen * 0.8, ink.SOFT_INK, dash=(pen * 2, pen * 3), cap="butt",
        ),
        Stroke(roles.POTTING_LINE, ((cue, potted),), pen * 1.3, ink.INK),
        *_ball(c, ball, c.ball_radius, c.fill, c.letter, ball),
        Arc(roles.CONTACT, cue, r - pen / 2, 0, 360, pen, ink.INK, dash=(pen * 2.2, pen * 1.6)),
        Stroke(
            roles.NINETY_LINE, ((cue, (cue[0] + nx * 2.0 * r, cue[1] + ny * 2.0 * r)),), pen,
            ink.SOFT_INK, dash=(pen * 6, pen * 3, pen, pen * 3), cap="butt",
        ),
        Stroke(roles.NINETY_LINE, (corner,), pen * 0.9, ink.INK),
        Disc(roles.CONTACT, (cue[0] + ux * r, cue[1] + uy * r), pen * 2.0, ink.INK),
    ]  # fmt: skip


def _ball(
    c: _Contact, at: Point, radius: float, shade: ink.BallInk, letter: str, letter_at: Point
) -> list[Item]:
    edge = c.look.line_mm * 0.9
    items: list[Item] = [
        Disc(roles.BALL, at, radius - edge / 2, shade.fill, edge_colour=ink.INK, edge_mm=edge)
    ]
    if letter:
        items.append(Text(roles.BALL_LETTER, letter_at, letter, c.look.text_mm, shade.ink,
                          bold=True))  # fmt: skip
    return items


def _text(c: _Contact, at: Point, told: str, bold: bool = False) -> Text:
    size = max(c.look.least_text_mm, c.look.text_mm * 0.9)
    return Text(roles.CONTACT, at, told, size, ink.INK, bold=bold)


def _moved(item: Item, dx: float) -> Item:
    """The same item, `dx` to the right."""
    if isinstance(item, Stroke):
        return replace(item, lines=tuple(tuple((x + dx, y) for x, y in a) for a in item.lines))
    if isinstance(item, Text):
        return replace(item, at=(item.at[0] + dx, item.at[1]))
    if isinstance(item, Disc | Arc):
        return replace(item, centre=(item.centre[0] + dx, item.centre[1]))
    return replace(item, points=tuple((x + dx, y) for x, y in item.points))
