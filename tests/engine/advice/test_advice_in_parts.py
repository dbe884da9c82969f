"""The parts of the advice on set-ups of our own: proofs that fail, places, pairs, words."""

from dataclasses import replace

import numpy as np
import pytest

from engine.advice import Move, Wish
from engine.advice.proving import proved
from engine.advice.search import _smaller
from engine.advice.tries import Try, pairs, possible, singles, tried
from engine.advice.values import Advice
from engine.balls import Ball
from engine.playing import laid_out_of
from engine.routine.values import Gap, LaneAsk, Routine, Shot
from tests.engine.reach.scenes import CUE, NEAR, SHOT, routine

WISH = Wish("s", "near", 3.0, 7.0)
PLAN = routine(NEAR)
SCENE = laid_out_of(PLAN, "s", ("near",))


def to(ball, x, y):
    start = PLAN.ball(ball)
    far = float(np.hypot(x - start.x_mm, y - start.y_mm))
    return Move(ball, start.centre_mm, (float(x), float(y)), far)


def test_a_proof_stands_on_the_pot_and_on_a_gap_that_is_whole():
    assert proved(PLAN, WISH, ()) is not None
    # the red comes to lie on the potting line
    assert proved(PLAN, WISH, (to("r1", 450.0, 3400.0),)) is None
    lost = replace(PLAN, gaps=(Gap("near", "ball-ball", ("r1",)),))
    assert proved(lost, WISH, ()) is None
    assert proved(PLAN, replace(WISH, margin_mm=900.0), ()) is None


@pytest.mark.slow
def test_lanes_too_near_each_other_grant_no_wish_for_lanes_apart():
    lanes = (LaneAsk("A", 0.1, 4), LaneAsk("B", 0.12, 4))
    alike = replace(PLAN, shots=(replace(SHOT, lanes=lanes),))
    assert proved(alike, replace(WISH, apart_mm=300.0), ()) is None
    one = proved(PLAN, replace(WISH, apart_mm=300.0), ())
    assert one is not None and one.apart_mm is None, "one lane has none to be apart from"


@pytest.mark.parametrize(("x", "y"), [(1300.0, 2500.0), (1200.0, 2440.0), (1150.0, 2520.0)])
def test_a_move_that_grants_the_wish_is_proved(x, y):
    one = proved(PLAN, WISH, (to("r1", x, y),))
    assert isinstance(one, Advice) and one.moves[0].to_mm == (x, y) and one.margin_mm > 0.0


@pytest.mark.slow
def test_without_a_strike_that_threads_there_is_no_proof():
    far = replace(PLAN, gaps=(replace(NEAR, kind="cushion-stretch", balls=(), cushion="bottom",
                                      from_mm=200.0, to_mm=210.0),))  # fmt: skip
    assert proved(far, WISH, ()) is None
    assert proved(PLAN, WISH, (), hint=(0.1, 4.0)) is not None
    assert proved(PLAN, WISH, (), hint=(-0.9, 4.0)) is not None, "a tip nobody can play is left out"


def test_a_ball_alone_may_lie_anywhere_on_the_bed():
    alone = Routine(balls=(CUE,), shots=(Shot("s", aim_deg=90.0),))
    spots = np.array([[100.0, 100.0], [5.0, 900.0], [-40.0, 900.0]])
    there = np.array([CUE.centre_mm])
    assert possible(alone, there, 0, spots).tolist() == [True, False, False]
    two = possible(PLAN, SCENE.places_mm, 0, np.array([[900.0, 3200.0], [600.0, 600.0]]))
    assert two.tolist() == [False, True], "the first spot is on the black"


def attempt(*places_of, room=-20.0):
    """A try with balls moved to places, that left so much room."""
    places, moves = SCENE.places_mm, tuple(to(*one) for one in places_of)
    for ball, x, y in places_of:
        places[[one.id for one in SCENE.balls].index(ball)] = (x, y)
    return Try(places, moves, room, 0.1, 4.0)


def test_pairs_are_of_two_balls_that_do_not_overlap():
    ones = [
        attempt(("r1", 1260.0, 2500.0), room=-5.0),
        attempt(("r1", 1300.0, 2500.0), room=-6.0),
        attempt(("r2", 860.0, 2500.0), room=-7.0),
        attempt(("r2", 1280.0, 2520.0), room=-8.0),
    ]
    made = {tuple(move.to_mm for move in one.moves) for one in pairs(PLAN, SCENE, WISH, ones)}
    # r2 on top of either place of r1 cannot be
    assert made == {((1260.0, 2500.0), (860.0, 2500.0)), ((1300.0, 2500.0), (860.0, 2500.0))}
    assert pairs(PLAN, SCENE, WISH, ones[:2]) == [], "both move the same ball"
    assert tried(SCENE, WISH, []) == []


def test_a_ball_walled_in_has_no_places_to_be_moved_to():
    spots = {(round(x), round(y)) for x in np.arange(27, 1778, 54) for y in np.arange(27, 3569, 54)}
    wall = tuple(Ball(f"w{k}", "red", float(x), float(y)) for k, (x, y) in enumerate(sorted(spots)))
    full = Routine(balls=(CUE, *wall), shots=(Shot("s", aim_deg=90.0),), gaps=(
        Gap("near", "cloth-area", points_mm=((0, 0), (9, 0), (9, 9))),))  # fmt: skip
    scene = laid_out_of(full, "s", ("near",))
    assert singles(full, scene, WISH, [0], lambda share: True) == []


@pytest.mark.slow
def test_only_a_single_move_that_grants_the_wish_nearer_is_made_smaller():
    both = attempt(("r1", 1260.0, 2500.0), ("r2", 860.0, 2500.0), room=90.0)
    assert both.distance_mm == pytest.approx(100.0)
    assert _smaller(PLAN, SCENE, WISH, both) is None
    # 20 mm of room more than there is are had by less than the 200 mm tried
    wish = replace(WISH, margin_mm=proved(PLAN, WISH, ()).margin_mm + 20.0)
    far = attempt(("r1", 1400.0, 2500.0), room=wish.margin_mm + 40.0)
    nearer = _smaller(PLAN, SCENE, wish, far)
    assert nearer.distance_mm < far.distance_mm and nearer.margin_mm >= wish.margin_mm
    assert nearer.moves[0].to_mm[1] == 2500.0, "on the same line"
    hopeless = replace(WISH, margin_mm=1500.0)
    assert _smaller(PLAN, SCENE, hopeless, far) is None
