"""Edits: what each changes, what goes with it, and what it refuses."""

import pytest

from engine.balls import Ball
from engine.errors import BaizewrightError, OutOfRangeError, UnknownNameError
from engine.routine import edits
from engine.routine.document import Document
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot

BASE = Routine(
    balls=(
        Ball("cue", "cue", 600.0, 700.0),
        Ball("black", "black", 889.0, 3245.0),
        Ball("red-1", "red", 500.0, 2000.0),
    ),
    shots=(
        Shot("s1", "black", "top-left", lanes=(LaneAsk("A", 0.3), LaneAsk("B", "stun"))),
        Shot("s2", "red-1", "middle-left", lanes=(LaneAsk("A"),)),
    ),
    gaps=(
        Gap("g1", "ball-ball", ("black", "red-1")),
        Gap("g2", "cushion-stretch", cushion="left", from_mm=100.0, to_mm=300.0),
    ),
    claims=(
        Claim("lane-clears", "s1", lane="A", ball="red-1"),
        Claim("gap-reachable", "s1", gap="g1"),
        Claim("gap-reachable", "s2", gap="g2"),
        Claim("pot-on", "s2"),
        Claim("lane-clears", "s1", lane="B"),
    ),
)


def test_the_base_is_left_as_it_was_by_every_edit():
    before = repr(BASE)
    edits.remove_ball(BASE, "red-1")
    edits.rename_ball(BASE, "black", "b")
    edits.set_condition(BASE, "ball_restitution", 1.0)
    assert repr(BASE) == before


def test_place_and_move():
    made = edits.place_ball(BASE, Ball("pink", "pink", 889, 2676.75))
    assert made.ball("pink").y_mm == 2676.75
    made = edits.move_ball(made, "pink", 100, 200)
    assert made.ball("pink").centre_mm == (100.0, 200.0)
    made = edits.move_balls(made, {"pink": (1, 2), "black": (3, 4)})
    assert (made.ball("pink").centre_mm, made.ball("black").centre_mm) == ((1, 2), (3, 4))
    assert made.ball("red-1") is BASE.ball("red-1")


def test_removing_a_ball_takes_what_refers_to_it_along_in_one_undoable_step():
    document = Document(BASE)
    document.apply("take off the red", lambda r: edits.remove_ball(r, "red-1"))
    made = document.routine
    assert [ball.id for ball in made.balls] == ["cue", "black"]
    assert made.shot("s2").object_ball == ""
    assert made.shot("s1").object_ball == "black"
    assert [gap.id for gap in made.gaps] == ["g2"]
    assert made.claims == BASE.claims[2:]
    document.undo()
    assert document.routine == BASE


def test_renaming_a_ball_renames_it_everywhere():
    made = edits.rename_ball(BASE, "red-1", "marker")
    assert made.ball("marker").kind == "red"
    assert made.shot("s2").object_ball == "marker"
    assert made.gap("g1").balls == ("black", "marker")
    assert made.claims[0].ball == "marker"
    assert edits.rename_ball(made, "marker", "red-1") == BASE


def test_lock_and_label():
    made = edits.relabel_ball(edits.lock_ball(BASE, "black"), "black", "7")
    assert made.ball("black").locked
    assert made.ball("black").letter == "7"
    assert edits.relabel_ball(edits.lock_ball(made, "black", False), "black", "") == BASE


def test_shots():
    made = edits.add_shot(BASE, Shot("s3"), at=0)
    assert [shot.id for shot in made.shots] == ["s3", "s1", "s2"]
    made = edits.move_shot(made, "s3", 99)
    assert [shot.id for shot in made.shots] == ["s1", "s2", "s3"]
    made = edits.set_pocket(edits.set_object_ball(made, "s3", "black"), "s3", "top-right")
    assert (made.shot("s3").object_ball, made.shot("s3").pocket) == ("black", "top-right")
    made = edits.remove_shot(made, "s1")
    assert [claim.shot for claim in made.claims] == ["s2", "s2"]
    assert edits.set_object_ball(made, "s3", "").shot("s3").object_ball == ""


def test_replacing_a_shot_keeps_the_claims_that_still_make_sense():
    made = edits.set_shot(BASE, "s1", Shot("first", "black", lanes=(LaneAsk("A"),)))
    assert [(claim.kind, claim.shot, claim.lane) for claim in made.claims] == [
        ("lane-clears", "first", "A"),
        ("gap-reachable", "first", ""),
        ("gap-reachable", "s2", ""),
        ("pot-on", "s2", ""),
    ]


def test_lanes():
    made = edits.add_lane(BASE, "s1", LaneAsk("C", -0.3), at=0)
    assert [lane.label for lane in made.shot("s1").lanes] == ["C", "A", "B"]
    made = edits.move_lane(made, "s1", "C", 2)
    assert [lane.label for lane in made.shot("s1").lanes] == ["A", "B", "C"]
    made = edits.set_lane(made, "s1", "A", LaneAsk("T", 0.5, 7.0))
    assert made.shot("s1").lane("T").pace == 7
    assert made.claims[0].lane == "T"
    made = edits.remove_lane(made, "s1", "T")
    assert [claim.lane for claim in made.claims if claim.lane] == ["B"]
    assert made.shot("s2") == BASE.shot("s2")


def test_gaps_and_claims():
    made = edits.add_gap(BASE, Gap("g3", "cannon", ("black",)))
    made = edits.set_gap(made, "g1", Gap("between", "ball-ball", ("red-1", "black")))
    assert made.claims[1].gap == "between"
    made = edits.remove_gap(made, "between")
    assert [gap.id for gap in made.gaps] == ["g2", "g3"]
    assert len(made.claims) == 4
    made = edits.add_claim(made, Claim("pot-off", "s1"), at=1)
    made = edits.set_claim(made, 0, Claim("pot-on", "s1"))
    assert [claim.kind for claim in made.claims[:2]] == ["pot-on", "pot-off"]
    assert edits.remove_claim(made, 1).claims[0].kind == "pot-on"


def test_the_sheet():
    made = edits.set_title(BASE, "Round the black")
    made = edits.set_coach(made, "Edda Quill")
    made = edits.set_club(made, "Marram Street Cue Club")
    made = edits.set_notes(edits.set_level(made, 4), "slowly")
    assert (made.title, made.coach, made.club, made.level, made.notes) == (
        "Round the black",
        "Edda Quill",
        "Marram Street Cue Club",
        4,
        "slowly",
    )


def test_table_and_conditions():
    made = edits.set_condition(BASE, "ball_restitution", 1.0)
    made = edits.set_pocket_opening(made, "top-left", 86.0)
    assert made.conditions == {"ball_restitution": 1.0}
    assert made.pocket_openings_mm == {"top-left": 86.0}
    made = edits.set_pocket_opening(made, "top-left", None)
    assert edits.set_condition(made, "ball_restitution", None) == BASE
    assert edits.set_conditions(made, {}) == BASE


def test_free_names():
    assert edits.free_ball_id(BASE, "red") == "red-2"
    assert edits.free_ball_id(BASE, "black") == "black-1"
    assert edits.free_ball_id(BASE, "pink") == "pink"
    assert edits.free_shot_id(BASE) == "shot-1"
    assert edits.free_gap_id(BASE) == "gap-1"
    assert edits.free_lane_label(BASE.shot("s1")) == "C"
    many = Shot("s", lanes=tuple(LaneAsk(chr(65 + n)) for n in range(26)))
    assert edits.free_lane_label(many) == "AA"


NAN = float("nan")
UNKNOWN = [
    lambda r: edits.move_ball(r, "blue", 1, 2),
    lambda r: edits.remove_ball(r, "blue"),
    lambda r: edits.rename_ball(r, "blue", "b"),
    lambda r: edits.lock_ball(r, "blue"),
    lambda r: edits.set_object_ball(r, "s1", "blue"),
    lambda r: edits.set_object_ball(r, "s9", "black"),
    lambda r: edits.remove_shot(r, "s9"),
    lambda r: edits.remove_lane(r, "s1", "Z"),
    lambda r: edits.set_lane(r, "s1", "Z", LaneAsk("Z")),
    lambda r: edits.remove_gap(r, "g9"),
]
REFUSED = [
    (lambda r: edits.place_ball(r, Ball("black", "red", 1, 2)), "ball id"),
    (lambda r: edits.place_ball(r, Ball("", "red", 1, 2)), "ball id"),
    (lambda r: edits.place_ball(r, Ball("c2", "cue", 1, 2)), "only one cue ball"),
    (lambda r: edits.place_ball(r, Ball("x", "mauve", 1, 2)), "kind of ball"),
    (lambda r: edits.move_ball(r, "black", NAN, 2), "x_mm of ball black is not a number"),
    (lambda r: edits.rename_ball(r, "black", "cue"), "ball id"),
    (lambda r: edits.set_object_ball(r, "s1", "cue"), "other than the cue ball"),
    (lambda r: edits.set_pocket(r, "s1", "top"), "pocket of shot s1"),
    (lambda r: edits.add_shot(r, Shot("s1")), "shot id"),
    (lambda r: edits.add_lane(r, "s1", LaneAsk("A")), "lane letter in shot s1"),
    (lambda r: edits.add_lane(r, "s1", LaneAsk("C", 0.7)), "miscue"),
    (lambda r: edits.add_lane(r, "s1", LaneAsk("C", pace=11.0)), "pace of lane C"),
    (lambda r: edits.add_lane(r, "s1", LaneAsk("C", speed_m_s=NAN)), "speed of lane C"),
    (lambda r: edits.add_gap(r, Gap("g1", "ball-ball")), "gap id"),
    (lambda r: edits.add_gap(r, Gap("g", "ball-ball", ("blue",))), "ball of gap g"),
    (lambda r: edits.add_claim(r, Claim("pot-on", "s9")), "shot of claim 6"),
    (lambda r: edits.add_claim(r, Claim("lane-clears", "s1", "Z")), "lane of claim 6"),
    (lambda r: edits.add_claim(r, Claim("pot-on", "s1", pace_min=5, pace_max=2)), "pace_max"),
    (lambda r: edits.remove_claim(r, 5), "number of the claim is 5"),
    (lambda r: edits.set_level(r, 6), "level is 6"),
    (lambda r: edits.set_condition(r, "ball_restitution", 1.5), "ball_restitution is 1.5"),
    (lambda r: edits.set_condition(r, "cloth", 1.5), "known condition"),
    (lambda r: edits.set_condition(r, "tip_limit", 0.2), "miscue"),
    (lambda r: edits.set_pocket_opening(r, "top-left", 10.0), "opening of pocket top-left"),
]


@pytest.mark.parametrize("edit", UNKNOWN)
def test_unknown_names_are_told(edit):
    with pytest.raises(UnknownNameError, match="known here"):
        edit(BASE)


@pytest.mark.parametrize(("edit", "told"), REFUSED, ids=[told for _, told in REFUSED])
def test_what_no_routine_may_hold_is_refused(edit, told):
    with pytest.raises(OutOfRangeError, match=told) as caught:
        edit(BASE)
    assert isinstance(caught.value, BaizewrightError)
    assert "wanted" in str(caught.value)


def test_replacing_the_cue_ball_by_a_ball_in_use_as_object_ball_is_refused():
    loose = edits.set_object_ball(edits.remove_ball(BASE, "cue"), "s1", "black")
    made = edits.place_ball(loose, Ball("cue", "cue", 1, 1))
    assert made.cue_ball is not None
    with pytest.raises(OutOfRangeError):
        edits.rename_ball(made, "cue", "black")
