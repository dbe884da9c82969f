"""The order in which balls are set, and the second distances they are checked by."""

from __future__ import annotations

import math
import random

import pytest

from engine.balls import Ball
from engine.placement import checking_distances, placements, set_up_order
from engine.routine.values import Routine
from engine.tables import load_table

R = 26.25


def scattered(seed: int) -> Routine:
    rng = random.Random(seed)
    balls: list[Ball] = []
    while len(balls) < 10:
        x, y = rng.uniform(60, 1718), rng.uniform(60, 3509)
        if all(math.dist((x, y), b.centre_mm) > 2 * R for b in balls):
            balls.append(Ball(f"b{len(balls)}", "red" if balls else "cue", x, y))
    return Routine(balls=tuple(balls))


def test_spots_first_then_up_the_table_cue_ball_last():
    balls = (
        Ball("cue", "cue", 300.0, 1000.0),
        Ball("top", "red", 1400.0, 3000.0),
        Ball("low", "red", 1200.0, 900.0),
        Ball("black", "black", 889.0, 3245.0),
    )
    assert set_up_order(Routine(balls=balls)) == ("black", "low", "top", "cue")


def test_a_ball_in_the_way_of_a_tape_is_set_after():
    far = Ball("far", "red", 700.0, 3300.0)
    near = Ball("near", "red", 400.0, 3300.0 + R)
    assert set_up_order(Routine(balls=(near, far)))[0] == "far"
    aside = Ball("aside", "red", 400.0, 3200.0)
    assert set_up_order(Routine(balls=(aside, far)))[0] == "aside"


def test_a_ball_on_a_spot_waits_when_it_stands_in_a_tapes_way():
    black = Ball("black", "black", 889.0, 3245.0)
    below = Ball("red", "red", 892.0, 3100.0)  # measured from the top, past the black's place
    beside = Ball("red", "red", 960.0, 3100.0)
    assert set_up_order(Routine(balls=(black, below))) == ("red", "black")
    assert set_up_order(Routine(balls=(black, beside))) == ("black", "red")


def test_balls_in_each_others_way_are_still_all_set():
    pack = tuple(
        Ball(f"r{i}-{k}", "red", 300.0 + 53 * i, 300.0 + 53 * k) for i in range(4) for k in range(4)
    )
    order = set_up_order(Routine(balls=pack))
    assert sorted(order) == sorted(ball.id for ball in pack)


@pytest.mark.parametrize("seed", range(12))
def test_no_tape_runs_over_a_ball_already_set_unless_each_blocks_the_other(seed):
    routine = scattered(seed)
    table = load_table(routine.table)
    order = set_up_order(routine)
    assert sorted(order) == sorted(ball.id for ball in routine.balls)
    blocked = 0
    for index, ball_id in enumerate(order):
        x, y = routine.ball(ball_id).centre_mm
        for other_id in order[:index]:
            ox, oy = routine.ball(other_id).centre_mm
            side = ox < x if x <= table.width_mm / 2 else ox > x
            end = oy < y if y <= table.length_mm / 2 else oy > y
            blocked += (side and abs(oy - y) < R) or (end and abs(ox - x) < R)
    assert blocked == 0


@pytest.mark.parametrize("seed", range(12))
def test_second_distances_are_true_and_to_what_stands_already(seed):
    routine = scattered(seed)
    order, table = set_up_order(routine), load_table(routine.table)
    checks = checking_distances(routine)
    on_spot = {p.ball for p in placements(routine) if p.spot}
    assert [c.ball for c in checks] == [b for b in order if b not in on_spot]
    for check in checks:
        here = routine.ball(check.ball).centre_mm
        if check.kind == "ball":
            assert order.index(check.to) < order.index(check.ball)
            there, between = routine.ball(check.to).centre_mm, 2 * R
        else:
            spot = table.spot(check.to)
            there, between = (spot.x_mm, spot.y_mm), R
        assert check.centre_mm == pytest.approx(math.dist(here, there))
        assert check.edge_mm == pytest.approx(check.centre_mm - between)
        earlier = [routine.ball(b).centre_mm for b in order[: order.index(check.ball)]]
        nearest = min((math.dist(here, at) - 2 * R for at in earlier), default=math.inf)
        assert check.edge_mm <= nearest + 1e-9


def test_a_spot_under_a_ball_is_no_mark_to_measure_to():
    blue = Ball("blue", "blue", 889.0, 1784.5)
    red = Ball("red", "red", 950.0, 1784.5)
    (check,) = checking_distances(Routine(balls=(blue, red)))
    assert (check.kind, check.to) == ("ball", "blue")
    assert checking_distances(Routine()) == ()


def test_a_ball_over_the_only_spot_has_nothing_to_be_checked_by():
    """On a table of one spot, 10 mm off it: the ball covers the spot, and none stands before it."""
    table = load_table("uk-pool-7ft")
    (spot,) = table.spots
    over = Ball("cue", "cue", spot.x_mm + 10.0, spot.y_mm)
    assert checking_distances(Routine(table=table.id, balls=(over,))) == ()
    red = Ball("r", "red", spot.x_mm + 10.0, spot.y_mm - 200.0)
    # the cue ball is set last: the red is checked by the spot, the cue ball by the red alone
    first, last = checking_distances(Routine(table=table.id, balls=(over, red)))
    assert (first.ball, first.to) == ("r", "black")
    assert first.centre_mm == pytest.approx(math.hypot(10.0, 200.0))
    assert (last.ball, last.to, last.centre_mm) == ("cue", "r", pytest.approx(200.0))
