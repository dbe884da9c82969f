"""Problems: everything unplayable or unfinished is told at once, and never raises."""

import pytest

from engine.balls import Ball
from engine.problems import problems_of
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot

CUE = Ball("cue", "cue", 600.0, 700.0)
BLACK = Ball("black", "black", 889.0, 3245.0)
LANES = (LaneAsk("A"),)


def found(*balls, **parts):
    return problems_of(Routine(balls=(CUE, BLACK, *balls), **parts))


def kinds(*balls, **parts):
    return [problem.kind for problem in found(*balls, **parts)]


def test_a_sound_routine_has_none():
    assert found(shots=(Shot("s", "black", "top-left", lanes=LANES),)) == ()


def test_no_cue_ball():
    (problem,) = problems_of(Routine(balls=(BLACK,)))
    assert problem.kind == "no-cue-ball"


def test_overlaps_name_both_balls_and_by_how_much():
    (problem,) = found(Ball("red-1", "red", 600.0, 750.0))
    assert (problem.kind, problem.balls) == ("overlap", ("cue", "red-1"))
    assert problem.fact.mm == pytest.approx(2.5)


def test_touching_balls_are_no_problem():
    assert found(Ball("red-1", "red", 652.5, 700.0)) == ()
    assert found(Ball("red-1", "red", 652.495, 700.0)) == ()


@pytest.mark.parametrize(
    ("place", "kind"),
    [
        ((20.0, 1000.0), ["off-bed"]),  # over the left cushion face
        ((26.25, 1000.0), []),  # touching it
        ((-300.0, 1000.0), ["off-bed"]),
        ((889.0, 3560.0), ["off-bed"]),
        ((5.0, 1784.5), []),  # in the mouth of the middle pocket
        ((-55.0, 1784.5), ["in-pocket"]),
        ((2.0, 2.0), ["in-pocket"]),
        ((5.0, 1720.0), ["off-bed"]),  # through a jaw
    ],
)
def test_balls_off_the_bed(place, kind):
    assert kinds(Ball("red-1", "red", *place)) == kind


def test_the_stated_ball_radius_counts():
    near = Ball("red-1", "red", 24.0, 1000.0)
    assert kinds(near) == ["off-bed"]
    assert kinds(near, conditions={"ball_radius_mm": 23.8}) == []


def test_unfinished_shots():
    shots = (Shot("a"), Shot("b", aim_deg=90.0, lanes=LANES), Shot("c", "black", lanes=LANES))
    problems = found(shots=shots)
    assert [(p.kind, p.shot) for p in problems] == [
        ("no-object-ball", "a"),
        ("no-pocket", "a"),
        ("no-lanes", "a"),
        ("no-pocket", "c"),
    ]


SQUARE = ((100.0, 100.0), (200.0, 100.0), (200.0, 200.0))


@pytest.mark.parametrize(
    ("gap", "kind", "told"),
    [
        (Gap("g", "ball-ball", ("black",)), "gap-incomplete", "gap-needs-two-balls"),
        (Gap("g", "ball-ball", ("black", "black")), "gap-incomplete", "gap-needs-two-balls"),
        (Gap("g", "ball-ball", ("black", "cue")), "gap-incomplete", "gap-needs-other-balls"),
        (Gap("g", "ball-cushion", ("black",)), "gap-incomplete", "gap-needs-cushion"),
        (Gap("g", "ball-cushion", cushion="left"), "gap-incomplete", "gap-needs-one-ball"),
        (Gap("g", "cannon"), "gap-incomplete", "gap-needs-one-ball"),
        (Gap("g", "cushion-stretch", cushion="left"), "gap-incomplete", "gap-needs-both-ends"),
        (Gap("g", "cushion-stretch", (), "left", 5.0, 5.0), "gap-incomplete", "gap-needs-two-ends"),
        (Gap("g", "cloth-area", points_mm=SQUARE[:2]), "gap-incomplete", "gap-needs-corners"),
        (Gap("g", "cloth-area", points_mm=(SQUARE[0],) * 3), "gap-incomplete", "gap-needs-corners"),
        (Gap("g", "cushion-stretch", (), "top", 5.0, 1800.0), "gap-off-bed", "gap-off-bed"),
        (Gap("g", "cloth-area", points_mm=(*SQUARE, (0.0, -9.0))), "gap-off-bed", "gap-off-bed"),
    ],
)
def test_gaps_that_cannot_be_asked_for(gap, kind, told):
    (problem,) = found(gaps=(gap,))
    assert (problem.kind, problem.gap) == (kind, "g")
    assert problem.fact.kind == told


def test_gaps_that_can():
    gaps = (
        Gap("a", "ball-cushion", ("black",), "top"),
        Gap("b", "cannon", ("black",)),
        Gap("c", "cushion-stretch", (), "left", 3000.0, 2000.0),
        Gap("d", "cloth-area", points_mm=SQUARE),
    )
    assert found(gaps=gaps) == ()


def test_claims_must_say_what_they_are_about():
    shots = (Shot("s", "black", "top-left", lanes=LANES),)
    claims = (Claim("pot-on", "s"), Claim("lane-contacts", "s", lane="A"), Claim("pot-on", ""))
    problems = found(shots=shots, claims=claims)
    assert [(p.kind, p.claim) for p in problems] == [
        ("claim-incomplete", 1),
        ("claim-incomplete", 2),
    ]
    assert problems[0].fact.names == ("ball",)


def test_a_routine_that_breaks_rules_is_told_of_and_does_not_raise():
    problems = problems_of(
        Routine(
            balls=(CUE, Ball("cue", "mauve", float("nan"), 0.0)),
            table="none",
            conditions={"ball_restitution": 7, "sliding_friction": "low"},
            shots=(Shot("s", "blue", "top", lanes=(LaneAsk("A", 0.9),)),),
            claims=(Claim("wins", "t"),),
        )
    )
    told = [problem.kind for problem in problems]
    assert told.count("conditions") == 2
    assert told.count("table") == 1
    assert told.count("rule") >= 6
