"""A full table on every kind of sheet that sets one: no ball is left out, nor what sets it."""

from __future__ import annotations

import math
import random
import re
from dataclasses import replace
from functools import cache

import pytest

from designer.handouts import handout_pdf
from designer.handouts.clusters import clusters
from designer.words.names import printed_letters
from engine.answers import answer
from engine.balls import Ball
from engine.routine.values import STUN, LaneAsk, Routine, Shot
from engine.tables import load_table
from engine.units import length_text
from tests.designer.handouts.ledger import flat, text_of
from tests.designer.pdf_pages import page_texts
from tests.shares import mixed

R = 26.25
KINDS = [("full", "coach"), ("full", "player"), ("steps", "coach"), ("steps", "player"),
         ("card", "player")]  # fmt: skip
PAPERS = [("mm", "a4"), ("mm", "letter"), ("inch", "a4"), ("inch", "letter")]
LANES = (LaneAsk("A", 0.4, 4.0), LaneAsk("B", STUN, 4.0), LaneAsk("C", -0.4, 4.0))


def racked() -> Routine:
    """The opening of a frame: six colours on their spots, fifteen reds in their triangle."""
    spots = {spot.id: spot for spot in load_table("snooker-12ft").spots}
    balls = [Ball("cue", "cue", 1000.0, 700.0)]
    for kind in ("yellow", "green", "brown", "blue", "pink", "black"):
        balls.append(Ball(kind, kind, spots[kind].x_mm, spots[kind].y_mm))
    pink = spots["pink"]
    reds = [(row, at) for row in range(5) for at in range(row + 1)]
    balls += [
        Ball(f"red-{number}", "red", pink.x_mm + (at - row / 2) * 2.02 * R,
             pink.y_mm + 2 * R + 1 + row * 1.77 * R)
        for number, (row, at) in enumerate(reds, start=1)
    ]  # fmt: skip
    shot = Shot("shot-1", "blue", "top-right", lanes=LANES, question="Which way off the blue?")
    return Routine("The whole frame", balls=tuple(balls), shots=(shot,), coach="Wren Ashgrove")


def spread(seed: int) -> Routine:
    """The same 22 balls anywhere on the table."""
    rng, placed = random.Random(seed), []
    for ball in racked().balls:
        while True:
            at = (round(rng.uniform(60, 1718)), round(rng.uniform(60, 3509)))
            if all(math.dist(at, other.centre_mm) > 56.0 for other in placed):
                break
        placed.append(replace(ball, x_mm=float(at[0]), y_mm=float(at[1])))
    return replace(racked(), balls=tuple(placed))


def huddled() -> Routine:
    """The same 22 balls in a loose crowd near the right cushion: one cluster, several pieces."""
    rng = random.Random(7)
    placed = [
        replace(ball, x_mm=1250.0 + 100.0 * (index % 5) + rng.uniform(-14, 14),
                y_mm=900.0 + 100.0 * (index // 5) + rng.uniform(-14, 14))
        for index, ball in enumerate(racked().balls)
    ]  # fmt: skip
    return replace(racked(), balls=tuple(placed))


@cache
def case(name: str):
    made = {"racked": racked, "huddled": huddled}
    routine = made[name]() if name in made else spread(int(name))
    (shot,) = routine.shots
    # to whichever pocket the blue can be struck
    for pocket in load_table(routine.table).pockets:
        tried = replace(routine, shots=(replace(shot, pocket=pocket.id),))
        found = answer(tried)
        if found.shots[0].lanes:
            break
    assert len(routine.balls) == 22 and found.shots[0].lanes and not found.problems
    return tried, found


def told_of(routine, found, place, unit) -> str:
    """What must be told of one ball, one after the other: its letter, then readings or spot.

    A reading stands before its cushion in a table, behind it in a list.
    """
    letter = re.escape(printed_letters(routine)[place.ball])
    readings = []
    for reading in (place.across, place.along):
        length = re.escape(length_text(reading.centre_mm, unit).removesuffix(" mm"))
        readings.append(rf"(?:{reading.cushion} {length}(?![\d/])|{length} from {reading.cushion})")
    set_by = rf"{readings[0]}.{{0,22}}?{readings[1]}"
    if place.spot:
        set_by = rf"(?:on the )?{place.spot.removesuffix(' spot')} spot"
    return rf"(?<!\w){letter} {set_by}"


def missing(data, routine, found, unit) -> list[str]:
    text = text_of(data)
    assert len(found.placements) == 22
    return [
        place.ball
        for place in found.placements
        if not re.search(told_of(routine, found, place, unit), text)
    ]


@pytest.mark.parametrize(
    ("kind", "landscape", "paper", "name"),
    mixed(KINDS, (False, True), PAPERS, ("racked", "huddled", "1"), usual=3),
)
@pytest.mark.slow
def test_every_ball_is_named_with_what_sets_it(kind, landscape, paper, name):
    routine, found = case(name)
    sheet, audience = kind
    unit, size = paper
    data = handout_pdf([(routine, found)], size, audience, unit, sheet=sheet, landscape=landscape)
    assert missing(data, routine, found, unit) == []
    assert "see the player" not in text_of(data)


@pytest.mark.parametrize(("paper", "name"), mixed(PAPERS, ("racked", "huddled"), usual=3))
@pytest.mark.slow
def test_every_ball_of_a_cluster_is_on_a_strip(paper, name):
    routine, found = case(name)
    unit, size = paper
    text = text_of(handout_pdf([(routine, found)], size, "player", unit, sheet="strip"))
    places = {place.ball: place for place in found.placements}
    clustered = [ball for group in clusters(routine) for ball in group]
    assert len(clustered) > 15
    for ball in clustered:
        place = places[ball.id]
        assert re.search(rf"(?<!\w){printed_letters(routine)[ball.id]}(?!\w)", text)
        for reading in (place.across, place.along):
            length = length_text(reading.centre_mm, unit).removesuffix(" mm")
            assert f"{reading.cushion} {length}" in text, (ball.id, reading)


def pages_of(data):
    return [flat(text) for text in page_texts(data)]


def test_a_card_goes_on_with_the_next(name="racked"):
    """The first card asks and draws; the next says what it belongs to and goes on."""
    routine, found = case(name)
    (page,) = pages_of(handout_pdf([(routine, found)], "a4", "player", sheet="card"))
    assert page.count("card 1 of 2") == page.count("card 2 of 2") == 2
    assert page.count("Which way off the blue?") == 2 and page.count("The whole frame") == 4
    assert len(re.findall(r"\d+ more on card 2", page)) == 2


def test_cards_that_hold_everything_are_as_they_were():
    routine, _ = case("racked")
    few = replace(routine, balls=routine.balls[:8])
    (page,) = pages_of(handout_pdf([(few, answer(few))], "a4", "player", sheet="card"))
    assert page.count("The whole frame") == 4 and "card 1" not in page and "more" not in page


@pytest.mark.slow
def test_cards_of_several_routines_follow_each_other():
    routine, found = case("racked")
    few = replace(routine, balls=routine.balls[:8], title="The few")
    pairs = [(few, answer(few)), (routine, found), (few, answer(few)), (routine, found)]
    pages = pages_of(handout_pdf(pairs, "a4", "player", sheet="card"))
    assert len(pages) == 2
    assert [pages[0].count(t) for t in ("The few", "card 1 of 2", "card 2 of 2")] == [2, 1, 1]
    assert [pages[1].count(t) for t in ("The few", "card 1 of 2", "card 2 of 2")] == [0, 1, 1]


def test_steps_of_few_balls_need_no_list():
    routine, _ = case("racked")
    few = replace(routine, balls=routine.balls[:6])
    text = text_of(handout_pdf([(few, answer(few))], "a4", "player", sheet="steps"))
    assert "Set up, in this order" not in text


@pytest.mark.slow
def test_steps_of_a_crowd_list_what_their_drawings_cannot_name():
    """Few balls, but so near each other that their letters would lie on one another."""
    routine, _ = case("racked")
    crowd = replace(routine, balls=tuple(
        ball for ball in routine.balls if ball.kind in ("cue", "blue", "red")
    )[:14])  # fmt: skip
    found = answer(crowd)
    text = text_of(handout_pdf([(crowd, found)], "a4", "player", sheet="steps"))
    for place in found.placements:
        assert re.search(told_of(crowd, found, place, "mm"), text), place.ball
