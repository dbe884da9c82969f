"""Gaps: hand-made ways across gaps of every kind."""

import math

import numpy as np
import pytest

from engine.balls import Ball
from engine.errors import OutOfRangeError, UnknownNameError
from engine.judging.passes import gap_pass
from engine.judging.way import Way
from engine.playing import gap_width_mm
from engine.results import Fact
from engine.routine.values import Gap
from engine.tables import load_table

TABLE = load_table("snooker-12ft")
R = 26.25
A, B = Ball("a", "red", 800.0, 1500.0), Ball("b", "red", 1000.0, 1500.0)
PAIR = Gap("g", "ball-ball", ("a", "b"))


def way(*legs, balls=(A, B), **more):
    arrays = tuple(np.array(leg, dtype=float) for leg in legs)
    stops = tuple(arrays[-1][-1]) if arrays else None
    return Way("L", arrays, tuple(balls), R, **{"stops_mm": stops, **more})


def up(x, start=1000.0, end=2000.0, **more):
    return way([(x, start), (x, end)], **more)


def judged(gap, asked, balls=(A, B)):
    return gap_pass(TABLE, (gap,), balls, asked, asked)


def test_middle_of_a_ball_gap():
    """Centres 200 apart, the way midway: 100 − 52.5 to either edge."""
    found = judged(PAIR, up(900.0))
    assert found.threads and found.margin_mm == pytest.approx(47.5)
    assert gap_width_mm(TABLE, PAIR, (A, B), R) == pytest.approx(147.5)


def test_margin_is_to_the_nearer_ball():
    found = judged(PAIR, up(930.0))
    assert found.margin_mm == pytest.approx(17.5) and found.reason.ball == "b"


def test_crossing_that_touches_has_a_negative_margin():
    found = judged(PAIR, up(960.0))
    assert not found.threads and found.margin_mm == pytest.approx(-12.5)
    assert (found.reason.kind, found.reason.ball) == ("touches-edge", "b")


LOW, HIGH = Gap("low", "ball-ball", ("a", "b")), Gap("high", "ball-ball", ("c", "d"))
#: Two pairs one above the other, and the ways up through both and up and back again.
FOUR = (A, B, Ball("c", "red", 800.0, 2500.0), Ball("d", "red", 1000.0, 2500.0))
ONCE = up(900.0, 1000.0, 3000.0, balls=FOUR)
BACK = way([(890.0, 1000.0), (900.0, 3500.0)], [(900.0, 3500.0), (910.0, 1200.0)], balls=FOUR)


def in_order(asked, *parts):
    return gap_pass(TABLE, parts, FOUR, asked, asked, "both")


def test_gaps_one_after_another_on_one_straight_way():
    found = in_order(ONCE, LOW, HIGH)
    assert found.threads and found.along_mm == pytest.approx(1500.0)
    assert found.margin_mm == pytest.approx(47.5)
    swapped = in_order(ONCE, HIGH, LOW)
    assert not swapped.threads and swapped.reason == Fact("before-its-turn", gap="low")


def test_a_way_that_comes_back_may_take_them_the_other_way_round():
    """Up through both, then down through the lower: 2500 + 2000 mm of way, within the slant."""
    assert in_order(BACK, LOW, HIGH).threads
    found = in_order(BACK, HIGH, LOW)
    assert found.threads and found.along_mm == pytest.approx(2500.0 + 2000.0, abs=0.1)
    again = in_order(BACK, HIGH, LOW, HIGH)
    assert not again.threads and again.reason == Fact("before-its-turn", gap="high")


def test_a_cushion_then_a_gap_between_balls():
    """The pair stands behind the cushion's bounce on the way: it has its turn after the stretch."""
    bounced = way(
        [(600.0, 3000.0), (900.0, 3542.75)], [(900.0, 3542.75), (900.0, 1200.0)],
        balls=FOUR, first_cushion="top", first_cushion_mm=(900.0, 3542.75),
    )  # fmt: skip
    stretch = Gap("bank", "cushion-stretch", cushion="top", from_mm=800.0, to_mm=1000.0)
    assert in_order(bounced, stretch, HIGH).threads
    early = in_order(bounced, HIGH, stretch)
    assert not early.threads and early.reason == Fact("before-its-turn", gap="bank")


def test_miss_outside_the_gap_needs_the_whole_ball_more():
    found = judged(PAIR, up(1100.0))
    assert not found.threads and found.margin_mm == pytest.approx(-(100 + 52.5))


def test_way_that_stops_short():
    found = judged(PAIR, up(900.0, end=1380.0))
    assert not found.threads and found.margin_mm == pytest.approx(-120.0)
    assert found.reason.kind == "stops-short-of-gap"
    assert found.reason.mm == pytest.approx(120.0)


def test_touch_after_the_gap_does_not_count_but_one_before_does():
    after = Ball("c", "red", 900.0, 1900.0)
    found = judged(PAIR, up(900.0, balls=(A, B, after)), (A, B, after))
    assert found.threads
    before = Ball("c", "red", 900.0, 1200.0)
    found = judged(PAIR, up(900.0, balls=(A, B, before)), (A, B, before))
    assert not found.threads and found.reason == Fact("meets-before-gap", ball="c")


def test_second_crossing_counts_when_the_first_touches():
    bent = way([(980.0, 1000.0), (980.0, 1800.0)], [(980.0, 1800.0), (820.0, 1200.0)])
    found = judged(PAIR, bent)
    assert found.margin_mm < 0.0, "it has to get past ball b first, and does not"


def test_gap_of_a_ball_that_is_played_is_gone():
    found = judged(PAIR, up(900.0, balls=(A,), object_ball="b"))
    assert not found.threads and math.isnan(found.margin_mm)
    assert found.reason == Fact("edge-played", ball="b")


def test_ball_and_cushion():
    """Ball 300 from the left face; the way 150 from it: 97.5 to the ball, 123.75 to the face."""
    ball = Ball("a", "red", 300.0, 1500.0)
    gap = Gap("g", "ball-cushion", ("a",), "left")
    found = judged(gap, up(150.0, balls=(ball,)), (ball,))
    assert found.threads and found.margin_mm == pytest.approx(97.5)
    found = judged(gap, up(100.0, balls=(ball,)), (ball,))
    assert found.margin_mm == pytest.approx(100 - R) and found.reason.cushion == "left"
    assert gap_width_mm(TABLE, gap, (ball,), R) == pytest.approx(300 - R)
    found = judged(gap, up(400.0, balls=(ball,)), (ball,))
    assert not found.threads and found.margin_mm == pytest.approx(-(100 + 52.5))


@pytest.mark.parametrize(
    ("x", "margin", "threads"), [(950.0, 50.0, True), (910.0, 10.0, True), (880.0, -20.0, False)]
)
def test_stretch_of_cushion(x, margin, threads):
    gap = Gap("g", "cushion-stretch", cushion="top", from_mm=1100.0, to_mm=900.0)
    asked = up(x, balls=(), first_cushion="top", first_cushion_mm=(x, TABLE.length_mm - R))
    found = judged(gap, asked)
    assert found.threads is threads and found.margin_mm == pytest.approx(margin)


def test_stretch_on_another_cushion_first():
    gap = Gap("g", "cushion-stretch", cushion="left", from_mm=900.0, to_mm=1100.0)
    asked = up(950.0, balls=(), first_cushion="top", first_cushion_mm=(950.0, 3542.75))
    found = judged(gap, asked)
    assert (
        not found.threads
        and found.margin_mm < 0.0
        and found.reason == Fact("other-cushion-first", cushion="top")
    )


SQUARE = Gap("g", "cloth-area", points_mm=((800, 1900), (1000, 1900), (1000, 2100), (800, 2100)))


def test_finish_in_an_area():
    found = judged(SQUARE, up(870.0, balls=()))
    assert found.threads and found.margin_mm == pytest.approx(70.0)
    found = judged(SQUARE, up(770.0, balls=()))
    assert not found.threads and found.margin_mm == pytest.approx(-30.0)
    found = judged(SQUARE, up(870.0, balls=(), stops_mm=None))
    assert not found.threads and found.reason == Fact("goes-in-off")


@pytest.mark.parametrize(
    ("side", "x", "margin", "threads"),
    [("either", 780.0, 32.5, True), ("left", 780.0, 20.0, True), ("right", 780.0, -20.0, False),
     ("right", 830.0, 22.5, True)],
)  # fmt: skip
def test_cannon_on_a_side(side, x, margin, threads):
    """Ball at x = 800: a way at 780 meets it on its left, 20 mm from its middle."""
    gap = Gap("g", "cannon", ("a",), side=side)
    found = judged(gap, up(x, balls=(A,)), (A,))
    assert found.threads is threads and found.margin_mm == pytest.approx(margin)


def test_cannon_missed_or_forestalled():
    gap = Gap("g", "cannon", ("a",))
    found = judged(gap, up(900.0, balls=(A,)), (A,))
    assert not found.threads and found.margin_mm == pytest.approx(-47.5)
    first = Ball("c", "red", 800.0, 1200.0)
    found = judged(gap, up(790.0, balls=(A, first)), (A, first))
    assert not found.threads and found.reason == Fact("meets-first", ball="c")


def test_unfinished_gaps_are_refused_in_words():
    with pytest.raises(OutOfRangeError, match="both from_mm and to_mm"):
        judged(Gap("g", "cushion-stretch", cushion="top"), up(900.0))
    with pytest.raises(UnknownNameError, match="no cushion called"):
        judged(Gap("g", "ball-cushion", ("a",), "middle"), up(900.0))
    with pytest.raises(OutOfRangeError, match="three or more"):
        judged(Gap("g", "cloth-area"), up(900.0))
    with pytest.raises(UnknownNameError, match="kind of gap"):
        judged(Gap("g", "hole"), up(900.0))
