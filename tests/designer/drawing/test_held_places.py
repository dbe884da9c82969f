"""Letters and names stay beside what they name while a ball is dragged, but give way."""

from dataclasses import replace

import pytest

from designer.drawing import Layers, build_drawing, roles
from designer.drawing.look import SCREEN_LOOK
from designer.drawing.model import Text
from designer.drawing.placing import boxes_meet, circle_meets_box, text_box
from engine.answers import answer
from engine.balls import Ball
from engine.routine.edits import move_ball
from engine.routine.values import Routine

SMALL = replace(SCREEN_LOOK, text_mm=60.0, least_text_mm=50.0)
MEASURED = Layers(measurements=True)


@pytest.fixture
def routine(routine_with_gaps):
    """Five balls, three lanes and a gap between the reds and one beside a cushion."""
    return routine_with_gaps


def drawn(routine, held=None, layers=MEASURED):
    return build_drawing(routine, answer(routine), layers, look=SMALL, held=held)


def letters(drawing):
    found = [t for t in drawing.with_roles(roles.BALL_LETTER) if isinstance(t, Text)]
    return {text.text: text for text in found}


@pytest.mark.slow
def test_every_letter_and_name_that_looks_for_room_tells_where_it_stands(routine):
    names = set(drawn(routine).offsets)
    assert {"ball red-1", "ball cue", "lane 0", "lane 1", "lane 2", "gap between"} <= names


@pytest.mark.slow
def test_a_letter_goes_with_its_ball(routine):
    first = drawn(routine)
    moved = move_ball(routine, "red-1", 1150.0, 1330.0)
    then = drawn(moved, first.offsets)
    assert then.offsets["ball red-1"] == pytest.approx(first.offsets["ball red-1"])
    one, other = letters(first)["R1"], letters(then)["R1"]
    assert (other.at[0] - one.at[0], other.at[1] - one.at[1]) == pytest.approx((-30.0, 80.0))


def test_held_where_it_could_not_stand_it_gives_way(routine):
    """Every place told to be held lies on a ball, a pocket or outside the table."""
    first = drawn(routine)
    radius = 26.25
    bad = {
        "ball red-1": (240.0, -70.0),  # on red-2
        "ball red-2": (5000.0, 0.0),  # off the table
        "ball cue": (249.0, 364.5),  # on the blue
        "lane 0": (9000.0, 0.0),
        "gap between": (0.0, 9000.0),
    }
    then = drawn(routine, bad)
    for name, offset in bad.items():
        assert then.offsets[name] != pytest.approx(offset), name
    for text in letters(then).values():
        box = text_box(text)
        for ball in routine.balls:
            assert not circle_meets_box(ball.centre_mm, radius, box), text.text
    assert set(then.offsets) == set(first.offsets)


@pytest.mark.slow
def test_nothing_held_covers_another(routine):
    """Dragged in small steps through everything, held from one drawing to the next."""
    held = None
    for step in range(12):
        at = (1180.0 - 45.0 * step, 1250.0 + 60.0 * step)
        drawing = drawn(move_ball(routine, "red-1", *at), held)
        held = drawing.offsets
        texts = [text_box(text) for text in letters(drawing).values()]
        for index, one in enumerate(texts):
            assert not any(boxes_meet(one, other) for other in texts[index + 1 :]), step


def test_a_drawing_with_nothing_held_depends_on_nothing_before(routine):
    assert drawn(routine) == drawn(routine, {})


def test_seen_from_the_far_end_they_are_held_just_so(routine):
    far = replace(SMALL, far=True)
    first = build_drawing(routine, answer(routine), MEASURED, look=far)
    then = build_drawing(routine, answer(routine), MEASURED, look=far, held=first.offsets)
    assert {name: pytest.approx(off) for name, off in first.offsets.items()} == then.offsets
    assert letters(then) == letters(first)


def test_a_letter_led_from_afar_keeps_its_line():
    """A ball in the middle of a pack finds no room near it; its letter stands off with a line."""
    reds = tuple(
        Ball(f"r{i}{j}", "red", 700.0 + 54.0 * i, 2400.0 + 54.0 * j)
        for i in range(6)
        for j in range(6)
    )
    pack = Routine(balls=(Ball("cue", "cue", 300.0, 500.0), *reds))
    first = build_drawing(pack, None, Layers(), look=SMALL)
    led = [n for n, (x, y) in first.offsets.items() if x * x + y * y > 200.0**2]
    assert led, "no letter had to stand far off"
    then = build_drawing(pack, None, Layers(), look=SMALL, held=first.offsets)
    assert {name: then.offsets[name] for name in led} == {
        name: pytest.approx(first.offsets[name]) for name in led
    }
