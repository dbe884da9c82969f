"""The cards of a step: shuffled the same way each time, saying nothing by their order."""

from collections import Counter

import pytest

from designer.lesson.question import parts_of
from engine.routine.shuffling import shuffled_lanes
from engine.routine.values import LaneAsk, Routine, Shot

ROUTINE = Routine(id="routine")
LANES = tuple(LaneAsk(label) for label in "ABC")


@pytest.mark.quick
def test_the_order_belongs_to_the_step_and_not_to_the_list_of_lanes():
    shot = Shot("shot-1", lanes=LANES)
    order = shuffled_lanes(ROUTINE, shot)
    assert order == shuffled_lanes(ROUTINE, Shot("shot-1", lanes=LANES[::-1]))
    assert sorted(order) == list("ABC")


def test_no_letter_has_a_place_of_its_own():
    """Over many steps each letter comes as each card about as often: chi squared, 4 degrees of
    freedom, is beyond 18.5 once in a thousand; the steps are always the same, so it never is."""
    steps = [shuffled_lanes(ROUTINE, Shot(f"shot-{n}", lanes=LANES)) for n in range(600)]
    counts = Counter((place, label) for order in steps for place, label in enumerate(order))
    assert len(counts) == 9
    assert sum((count - 200) ** 2 / 200 for count in counts.values()) < 18.5


@pytest.mark.parametrize(
    ("text", "asked", "more"),
    [
        ("", "", ""),
        ("Which?", "Which?", ""),
        ("At pace 4.5 it goes. Where? And why?", "Where?", "At pace 4.5 it goes. And why?"),
        ("Say it\nat once", "Say it\nat once", ""),
    ],
)
def test_the_sentence_that_asks_is_found(text, asked, more):
    assert parts_of(text) == (asked, more)
