"""Crowded tables on paper: 22 balls, most of them packed, on every size of drawing sheets have.

Every ball is named, in it or nearest to it, on the table's drawing or on an inset of its own; no
ball is drawn too small to be seen but where an inset shows it larger; all middles are true. Twelve
packs run by default, with BAIZEWRIGHT_FULL=1 all 200.
"""

from __future__ import annotations

import itertools
import math
import random

import pytest

from designer.drawing import PLACEMENT_LAYERS, QUESTION_LAYERS, Look, build_drawing, roles
from designer.drawing.crowds import crowded_balls, crowds_of, pack_drawing
from designer.drawing.look import LEAST_BALL_MM
from designer.drawing.model import Disc, Text
from designer.drawing.placing import boxes_meet, circle_meets_box, text_box
from designer.fonts.metrics import CAP_HEIGHT
from designer.handouts.figure import Figure
from designer.handouts.insets import inset_story
from designer.handouts.sheet import Sheet
from designer.words.names import printed_letters
from engine.balls import Ball
from engine.placement import placements
from engine.results import RoutineAnswer
from engine.routine.values import Routine
from engine.tables import load_table
from engine.units import MM_PER_INCH
from tests.shares import share

R = 26.25
POINTS = 72.0 / MM_PER_INCH
#: Drawings as large as those on a set-up page, on a page of one shot, on half a page, on a card.
SIZES = {"set-up": (103, 190), "one page": (92, 165), "half a page": (49, 100), "card": (50, 95)}


def pack(seed: int) -> Routine:
    """Fifteen reds in one to four clumps, touching or nearly, the colours on spots or near them."""
    rng = random.Random(seed)
    spots = {spot.id: (spot.x_mm, spot.y_mm) for spot in load_table("snooker-12ft").spots}
    places: list[tuple[float, float]] = []

    def free(at: tuple[float, float], near: float = 2.0 * R) -> bool:
        inside = 30.0 < at[0] < 1748.0 and 30.0 < at[1] < 3539.0
        return inside and all(math.dist(at, one) >= near - 1e-9 for one in places)

    clumps = [(rng.uniform(300, 1478), rng.uniform(300, 3269)) for _ in range(rng.randint(1, 4))]
    for kind in ("yellow", "green", "brown", "blue", "pink", "black"):
        at = spots[kind]
        while rng.random() < 0.4 or not free(at):
            at = (rng.uniform(60, 1718), rng.uniform(60, 3509))
        places.append(at)
    for centre in itertools.islice(itertools.cycle(clumps), 15):
        at = centre
        while not free(at):
            start = rng.choice([*places, centre])
            turn, far = rng.uniform(0, 2 * math.pi), 2 * R + rng.choice((0.0, 0.0, 3.0, 20.0, 45.0))
            at = (start[0] + far * math.cos(turn), start[1] + far * math.sin(turn))
            if math.dist(at, centre) > 420.0:
                at = centre
        places.append(at)
    cue = next(at for at in iter(lambda: (rng.uniform(60, 1718), rng.uniform(60, 3509)), 0)
               if free(at))  # fmt: skip
    names = ["yellow", "green", "brown", "blue", "pink", "black", *["red"] * 15]
    balls = [Ball(f"ball-{index}", kind, *at)
             for index, (kind, at) in enumerate(zip(names, places, strict=True))]  # fmt: skip
    return Routine(f"Pack {seed}", balls=(Ball("cue", "cue", *cue), *balls))


def drawn(routine: Routine, size: str, measured: bool, turned: bool) -> Figure:
    answer = RoutineAnswer("test", (), (), (), (), placements(routine))
    layers = PLACEMENT_LAYERS if measured else QUESTION_LAYERS
    wide, high = SIZES[size][::-1] if turned else SIZES[size]
    return Figure(
        lambda look: build_drawing(routine, answer, layers, look=look),
        wide * POINTS, high * POINTS, Look(turned=turned),
    )  # fmt: skip


def own_and_others(routine: Routine, text: Text) -> tuple[float, float]:
    """How far a name's middle lies from its own ball's, and from the nearest other ball's."""
    letters = printed_letters(routine)
    apart = {ball.id: math.dist(ball.centre_mm, text.at) for ball in routine.balls}
    (own,) = [ball_id for ball_id, printed in letters.items() if printed == text.text]
    return apart.pop(own), min(apart.values())


@pytest.mark.parametrize("seed", share(range(200), 12))
@pytest.mark.slow
def test_a_pack_is_named_and_seen(seed):
    routine = pack(seed)
    size = list(SIZES)[seed % len(SIZES)]
    turned, measured = seed % 3 == 0, size in ("set-up", "one page")
    figure = drawn(routine, size, measured, turned)
    drawing, scale = figure.drawing, figure.scale
    discs = [i for i in drawing.with_roles(roles.BALL) if isinstance(i, Disc)]
    assert [disc.centre for disc in discs] == [ball.centre_mm for ball in routine.balls]
    across = [2.0 * disc.radius_mm + disc.edge_mm for disc in discs]
    for (one, a), (other, b) in itertools.combinations(zip(discs, across, strict=True), 2):
        assert math.dist(one.centre, other.centre) >= (a + b) / 2.0 - 0.1
    for ball, wide in zip(routine.balls, across, strict=True):
        assert wide >= LEAST_BALL_MM * scale * 0.99 or ball.id in drawing.crowded
    names = [i for i in drawing.with_roles(roles.BALL_LETTER) if isinstance(i, Text)]
    for text in names:
        own, other = own_and_others(routine, text)
        assert own < other, (text.text, own, other)
    boxes = [text_box(text) for text in names]
    assert not any(boxes_meet(one, other) for one, other in itertools.combinations(boxes, 2))
    told = {text.text for text in names}
    inset = insets_of(routine, drawing.crowded)
    assert told | inset == set(printed_letters(routine).values())
    for text, box in zip(names, boxes, strict=True):
        for disc in discs:
            inside = math.dist(disc.centre, text.at) < 1e-6
            assert inside or not circle_meets_box(disc.centre, disc.radius_mm * 0.9, box), text.text


def insets_of(routine: Routine, crowded) -> set[str]:
    """The names that the insets carry, each inside its ball, the balls large enough to be seen."""
    sheet = Sheet(routine, RoutineAnswer("test", (), (), (), (), placements(routine)), "mm")
    story = inset_story(sheet, crowded, 79.0 * POINTS)
    figures = [part for part in story if isinstance(part, Figure)]
    figures += [part for stack in story for part in getattr(stack, "story", [])
                if isinstance(part, Figure)]  # fmt: skip
    assert len(figures) == len(crowds_of(routine, crowded))
    told = set()
    for figure in figures:
        discs = {i.centre: i for i in figure.drawing.with_roles(roles.BALL) if isinstance(i, Disc)}
        for text in figure.drawing.with_roles(roles.BALL_LETTER):
            assert isinstance(text, Text)
            disc = discs.pop(text.at)
            assert 2.0 * disc.radius_mm >= LEAST_BALL_MM * figure.scale
            assert math.hypot(text.width_mm, CAP_HEIGHT * text.size_mm) <= 2.0 * disc.radius_mm
            told.add(text.text)
        assert not discs, "every ball of an inset has its name in it"
    return told


def test_balls_that_have_room_are_drawn_larger_and_those_that_touch_are_not():
    routine = Routine(balls=(Ball("a", "red", 500.0, 500.0), Ball("b", "blue", 552.5, 500.0),
                             Ball("c", "pink", 900.0, 900.0)))  # fmt: skip
    assert crowded_balls(routine, 70.0) == ("a", "b")
    assert crowds_of(routine, ("a", "b")) == [("a", "b")]
    assert len(pack_drawing(routine, ("a", "b")).with_roles(roles.BALL)) == 2
    assert crowded_balls(routine, 50.0) == ()
