"""Every dial that makes a shot harder: what it moves, by how much, and where it ends.

Lengths are worked out by hand from the places the balls are given.
"""

import math
from dataclasses import replace

import pytest

from engine.balls import Ball
from engine.players import CLUB
from engine.playing import gap_width_mm
from engine.potting import pot
from engine.progressions import rate
from engine.progressions.changed import change_of, described
from engine.progressions.changes import can_change, changed
from engine.progressions.values import Rate
from engine.routine.context import conditions_of, table_of
from engine.routine.edits import lock_ball
from engine.routine.values import Gap, Routine, Shot

CUE, BLUE = Ball("cue", "cue", 700.0, 2900.0), Ball("blue", "blue", 500.0, 3150.0)
REDS = (Ball("r1", "red", 900.0, 2500.0), Ball("r2", "red", 1100.0, 2500.0))
SHOT = Shot("s", "blue", "top-left")
PAIR = Gap("pair", "ball-ball", ("r1", "r2"))
RAIL = Gap("rail", "ball-cushion", ("r2",), "right")
STRETCH = Gap("stretch", "cushion-stretch", cushion="top", from_mm=600.0, to_mm=900.0)
AREA = Gap("area", "cloth-area", points_mm=((600, 2800), (1000, 2800), (1000, 3400), (600, 3400)))
BOTH = Gap("both", "in-order", gaps=("pair", "area"))
CANNON = Gap("cannon", "cannon", ("r1",))
PLAN = Routine(
    balls=(CUE, BLUE, *REDS), shots=(SHOT,), gaps=(PAIR, RAIL, STRETCH, AREA, BOTH, CANNON)
)


def turned(gap, by, plan=PLAN, way="gap", grain=1.0):
    return changed(plan, "s", gap, way, by, grain)


def width(plan, gap):
    c = conditions_of(plan)
    return gap_width_mm(
        table_of(plan), plan.gap(gap), plan.balls, c.ball_radius_mm, c.cue_radius_mm
    )


@pytest.mark.parametrize("by", [40.0, -60.0])
@pytest.mark.parametrize("gap", ["pair", "rail"])
def test_balls_of_a_gap_come_nearer_by_what_the_dial_says(gap, by):
    made = turned(gap, by)
    assert width(made, gap) == pytest.approx(width(PLAN, gap) - by)
    assert made.ball("cue") == CUE and made.ball("blue") == BLUE


def test_both_balls_of_a_pair_move_alike_and_a_locked_one_not_at_all():
    made = turned("pair", 40.0)
    assert (made.ball("r1").x_mm, made.ball("r2").x_mm) == (920.0, 1080.0)
    held = turned("pair", 40.0, lock_ball(PLAN, "r2"))
    assert (held.ball("r1").x_mm, held.ball("r2").x_mm) == (940.0, 1100.0)
    assert turned("pair", 40.0, lock_ball(lock_ball(PLAN, "r1"), "r2")) is None
    assert turned("rail", 40.0, lock_ball(PLAN, "r2")) is None


@pytest.mark.parametrize(
    ("cushion", "place"),
    [("left", (1060.0, 2500.0)), ("bottom", (1100.0, 2460.0)), ("top", (1100.0, 2540.0))],
)
def test_a_ball_is_pushed_towards_its_own_cushion(cushion, place):
    plan = replace(PLAN, gaps=(replace(RAIL, cushion=cushion),))
    assert turned("rail", 40.0, plan).ball("r2").centre_mm == place


def test_a_stretch_shrinks_at_both_ends_until_nothing_is_left():
    made = turned("stretch", 50.0).gap("stretch")
    assert (made.from_mm, made.to_mm) == (625.0, 875.0)
    assert turned("stretch", 300.0) is None
    wider = turned("stretch", -50.0).gap("stretch")
    assert (wider.from_mm, wider.to_mm) == (575.0, 925.0)


def test_an_area_shrinks_about_its_middle_until_nothing_is_left():
    # 400 mm across: 100 mm less is three quarters of it, both ways
    made = turned("area", 100.0).gap("area").points_mm
    assert made == ((650.0, 2875.0), (950.0, 2875.0), (950.0, 3325.0), (650.0, 3325.0))
    assert turned("area", 396.0) is None
    flat = replace(AREA, points_mm=((600, 2800), (600, 3000), (600, 3400)))
    assert turned("area", 10.0, replace(PLAN, gaps=(flat,))) is None


def test_gaps_in_order_are_all_turned_or_none():
    made = turned("both", 40.0)
    assert width(made, "pair") == pytest.approx(width(PLAN, "pair") - 40.0)
    assert made.gap("area") != AREA
    assert turned("both", 40.0, lock_ball(lock_ball(PLAN, "r1"), "r2")) is None


def test_finer_grains_and_none():
    half = turned("pair", 41.0, grain=0.5)
    assert (half.ball("r1").x_mm, half.ball("r2").x_mm) == (920.5, 1079.5)
    exact = turned("pair", 0.125, grain=0.0)
    assert exact.ball("r1").x_mm == 900.0625
    assert turned("pair", 0.0) == PLAN, "nothing moves where nothing is asked"


def test_a_cannon_has_no_width_to_turn():
    assert not can_change(PLAN, "s", "cannon", "gap") and not can_change(PLAN, "s", "", "gap")
    assert can_change(PLAN, "s", "both", "gap") and can_change(PLAN, "s", "", "pot")
    assert turned("cannon", 10.0) is None
    free = replace(PLAN, shots=(Shot("s", aim_deg=90.0),))
    assert not can_change(free, "s", "pair", "distance")


def lengths(plan):
    answer = pot(table_of(plan), conditions_of(plan), plan.balls, plan.shots[0])
    return tuple(math.dist(*line) for line in (answer.aim_line_mm, answer.potting_line_mm))


def test_the_cue_ball_goes_back_along_its_own_line():
    made = turned("", 150.0, way="distance")
    assert lengths(made)[0] == pytest.approx(lengths(PLAN)[0] + 150.0, abs=1.0)
    assert lengths(made)[1] == pytest.approx(lengths(PLAN)[1])
    before, after = (
        pot(table_of(one), conditions_of(one), one.balls, SHOT).cut_deg for one in (PLAN, made)
    )
    assert after == pytest.approx(before, abs=0.3)
    assert turned("", -400.0, way="distance") is None, "it would come through the object ball"
    assert turned("", 50.0, lock_ball(PLAN, "cue"), way="distance") is None


def test_the_whole_pot_goes_back_from_the_pocket():
    made = turned("", 150.0, way="pot")
    assert lengths(made)[1] == pytest.approx(lengths(PLAN)[1] + 150.0, abs=1.5)
    assert math.dist(made.ball("cue").centre_mm, made.ball("blue").centre_mm) == pytest.approx(
        math.dist(CUE.centre_mm, BLUE.centre_mm), abs=1.5
    )
    assert turned("", -560.0, way="pot") is None, "the object ball would lie in the pocket’s mouth"
    assert turned("", 50.0, lock_ball(PLAN, "blue"), way="pot") is None


def test_what_cannot_be_set_up_or_potted_is_no_change():
    assert turned("pair", 160.0) is None, "the reds would overlap"
    # two reds beside the potting line, the nearer one 90 mm from it
    ux, uy = 0.642, 0.767
    reds = tuple(
        Ball(name, "red", 250.0 + off * ux, 3360.0 + off * uy) for name, off in
        (("r1", 90.0), ("r2", 180.0))
    )  # fmt: skip
    beside = replace(PLAN, balls=(CUE, BLUE, *reds))
    assert turned("pair", -20.0, beside) is not None
    assert turned("pair", -100.0, beside) is None, "40 mm from the line, r1 is in the blue's way"
    nobody = replace(PLAN, balls=(BLUE, *REDS))
    assert turned("", 40.0, nobody, way="distance") is None
    assert turned("nowhere", 40.0) is None


def test_a_direction_is_not_asked_for_a_pot():
    plan = replace(PLAN, shots=(Shot("s", aim_deg=60.0),))
    assert width(turned("pair", 40.0, plan), "pair") == pytest.approx(width(plan, "pair") - 40.0)


WAS = Rate(0.6, 0.58, 0.62, 0.2, 4.0, "high top")
NOW = Rate(0.45, 0.43, 0.47, -0.1, 3.5, "low screw")


@pytest.mark.parametrize(
    ("way", "gap", "by", "kind"),
    [
        ("gap", "pair", 40.0, "gap-narrowed"),
        ("gap", "pair", -60.0, "gap-widened"),
        ("distance", "", 150.0, "aim-longer"),
        ("distance", "", -50.0, "aim-shorter"),
        ("pot", "", 150.0, "pot-longer"),
        ("pot", "", -150.0, "pot-shorter"),
    ],
)
def test_every_way_is_told_with_its_lengths(way, gap, by, kind):
    made = turned(gap, by, way=way)
    told = change_of(PLAN, made, "s", gap, way)
    assert told.kind == kind
    at = {"distance": 0, "pot": 1}.get(way)
    was, now = (lengths(PLAN)[at], lengths(made)[at]) if at is not None else (147.5, 147.5 - by)
    assert (told.was_mm, told.mm) == pytest.approx((was, now), abs=1.0)


def test_the_made_routine_keeps_how_it_was_made():
    made = turned("", 150.0, way="pot")
    kept = described(made, replace(PLAN, title="Blue"), CLUB, "pot", NOW)
    about = kept.extra["progression"]
    assert kept.title == made.title and (about["from"], about["changed"]) == ("Blue", "pot")
    easier = described(made, PLAN, CLUB, "distance", WAS)
    about = easier.extra["progression"]
    assert (about["changed"], about["chance"]) == ("distance", 0.6)


def test_what_cannot_be_laid_out_has_no_rate():
    bare = replace(PLAN, gaps=(Gap("pair", "cushion-stretch", cushion="top"),))
    assert rate(bare, "s", "pair", CLUB) is None, "the stretch has no ends"
    assert rate(replace(PLAN, shots=(Shot("s"),)), "s", "", CLUB) is None, "no pot, no direction"
