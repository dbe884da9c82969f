"""The letters of a question stand on the rim where each lane lands, or point there."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from designer.drawing import QUESTION_LAYERS, build_drawing, roles
from designer.drawing.look import SCREEN_LOOK
from designer.drawing.model import Drawing, Stroke, Text
from engine.answers import answer
from engine.results import RoutineAnswer
from engine.routine.values import LaneAsk, Routine
from engine.storage import load_routine

DEMO = Path(__file__).resolve().parents[3] / "layouts_demo" / "06-what-is-left-of-the-screw.json"
PAPER_LOOK = SCREEN_LOOK.at_scale(21.0)


def letters(drawing: Drawing) -> dict[str, tuple[float, float]]:
    return {i.text: i.at for i in drawing.with_roles(roles.LETTER) if isinstance(i, Text)}


def pointers(drawing: Drawing) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    strokes = [i for i in drawing.with_roles(roles.LETTER) if isinstance(i, Stroke)]
    return [(line[0], line[-1]) for stroke in strokes for line in stroke.lines]


def landings(found: RoutineAnswer) -> dict[str, float]:
    """How far up the right cushion each lane meets it."""
    places = {lane.label: lane.first_cushion_mm for lane in found.shots[0].lanes}
    return {label: at[1] for label, at in places.items() if at is not None}


@pytest.fixture
def routine() -> Routine:
    return load_routine(DEMO)


@pytest.mark.slow
def test_a_marked_stretch_of_cushion_does_not_push_the_letters_away(routine: Routine) -> None:
    found = answer(routine)
    for look in (SCREEN_LOOK, PAPER_LOOK):
        drawing = build_drawing(routine, found, QUESTION_LAYERS, look=look)
        places, lands = letters(drawing), landings(found)
        assert set(places) == set(lands) == {"A", "B", "C"}
        for label, (x, y) in places.items():
            assert x > 1778.0
            assert y == pytest.approx(lands[label], abs=0.5)
        assert pointers(drawing) == []


def test_a_letter_that_makes_way_points_at_its_place(routine: Routine) -> None:
    shot = routine.shots[0]
    twins = (LaneAsk("A", -0.45, 4.0), LaneAsk("B", -0.45, 4.1))
    crowded = replace(routine, shots=(replace(shot, lanes=twins),), gaps=(), claims=())
    found = answer(crowded)
    drawing = build_drawing(crowded, found, QUESTION_LAYERS, look=PAPER_LOOK)
    places, lands = letters(drawing), landings(found)
    assert places["A"][1] == pytest.approx(lands["A"], abs=0.5)
    assert places["B"][1] != pytest.approx(lands["B"], abs=50.0)
    ((start, end),) = pointers(drawing)
    assert start == places["B"]
    assert end == pytest.approx((1778.0, lands["B"]), abs=0.5)
