"""What the lesson says of its cards, in sentences."""

from dataclasses import replace
from pathlib import Path

import pytest

from designer.words.lesson import card_told, lesson_verdict, threaded
from designer.words.wording import Wording
from engine.answers import answer_shot
from engine.storage import load_routine

DEMOS = sorted(Path(__file__).parents[3].glob("layouts_demo/*.json"))


def of(number, shot=0):
    routine = load_routine(DEMOS[number - 1])
    found = answer_shot(routine, routine.shots[shot].id)
    return Wording(routine), found, [lane.label for lane in found.lanes][::-1]


@pytest.mark.quick
def test_the_card_that_goes_through_with_its_room():
    wording, found, cards = of(4)
    (passed,) = [one for one in found.passes if one.threads]
    number, room = cards.index(passed.lane) + 1, round(passed.margin_mm)
    expected = f"Card {number} goes through gap “between the reds”, {room} mm to spare."
    assert lesson_verdict(wording, found, cards) == expected
    lane = next(one for one in found.lanes if one.label == passed.lane)
    assert card_told(wording, found, lane, number).endswith(expected.partition("goes")[2])


def test_the_card_that_comes_nearest_where_none_does_it():
    wording, found, cards = of(10)
    told = lesson_verdict(wording, found, cards)
    best = max(found.passes, key=lambda one: one.margin_mm)
    assert told.startswith(f"No card does it; card {cards.index(best.lane) + 1} comes nearest: ")


def test_which_letter_each_card_is():
    wording, found, cards = of(1)
    told = lesson_verdict(wording, found, cards, by_letter=True)
    assert told == "Card 1 is C, card 2 is B and card 3 is A."


def test_several_cards_each_at_its_own_place():
    wording, found, cards = of(1)
    told = lesson_verdict(wording, found, cards)
    assert told.count(";") == 2 and told.startswith("Card 1: meets the cushion ")
    assert all(f"(gap “{name}”)" in told for name in ("left", "middle", "right"))


def test_only_what_is_claimed_counts_as_done():
    """A lane may roll through a gap long after it did what was asked."""
    wording, found, _ = of(12)
    firm = next(lane for lane in found.lanes if lane.pace == 9)
    through = [one.gap for one in found.passes if one.lane == firm.label and one.threads]
    assert len(through) > 1
    assert [one.gap for one in threaded(wording.routine, found, firm)] == ["between"]
    unclaimed = replace(wording.routine, claims=())
    assert [one.gap for one in threaded(unclaimed, found, firm)] == through


def test_without_gaps_each_card_is_told_by_the_balls():
    wording, found, cards = of(4)
    found = replace(found, passes=())
    told = lesson_verdict(wording, found, cards)
    assert told.count("ard ") == 4 and "touches red R2" in told and "clears red" in told


def test_a_shot_that_cannot_be_played_says_why():
    wording, found, cards = of(4)
    refused = replace(found, lanes=(), passes=(), refusals=found.refusals or (_no_pot(),))
    told = lesson_verdict(wording, refused, cards)
    assert told.startswith("This shot cannot be played: ") and told.endswith(".")


def _no_pot():
    from engine.results import Fact

    return Fact("nothing-chosen")
