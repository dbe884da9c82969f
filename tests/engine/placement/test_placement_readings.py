"""Placement readings against the published marks, and the text table."""

import pytest

from engine.balls import Ball
from engine.placement import placement_text, placements
from engine.routine.values import Routine
from engine.tables import load_table

TABLE = load_table("snooker-12ft")


def reading(x, y, **parts):
    (found,) = placements(Routine(balls=(Ball("b", "red", x, y),), **parts))
    return found


# Source: Official Rules of Snooker, WPBSA, section 1: baulk line 737 mm (29 in) from the bottom
# face, D radius 292 mm, black 324 mm (12 3/4 in) from the top face, pink midway between blue and
# the top face, playing area 3569 x 1778 mm, ball diameter 52.5 mm.
@pytest.mark.parametrize(
    ("spot", "across", "along"),
    [
        ("black", ("left", 889.0), ("top", 324.0)),
        ("pink", ("left", 889.0), ("top", 892.25)),
        ("blue", ("left", 889.0), ("bottom", 1784.5)),
        ("brown", ("left", 889.0), ("bottom", 737.0)),
        ("yellow", ("right", 597.0), ("bottom", 737.0)),
        ("green", ("left", 597.0), ("bottom", 737.0)),
    ],
)
def test_colours_on_their_spots_read_as_published(spot, across, along):
    mark = TABLE.spot(spot)
    found = reading(mark.x_mm, mark.y_mm)
    assert (found.across.cushion, found.across.centre_mm) == across
    assert (found.along.cushion, found.along.centre_mm) == along
    assert found.across.edge_mm == across[1] - 26.25
    assert found.along.edge_mm == along[1] - 26.25
    assert found.spot == spot


def test_the_nearer_cushion_is_taken_each_way():
    found = reading(1778 - 30, 3569 - 40)
    assert (found.across.cushion, found.across.centre_mm) == ("right", 30)
    assert (found.along.cushion, found.along.centre_mm) == ("top", 40)


def test_a_ball_touching_a_cushion_reads_nought_at_its_edge():
    assert reading(26.25, 1000).across.edge_mm == 0


@pytest.mark.parametrize(("off", "spot"), [(0.5, "black"), (0.51, "")])
def test_a_spot_counts_within_half_a_millimetre(off, spot):
    assert reading(889 + off, 3245).spot == spot


def test_the_stated_radius_gives_the_edge():
    found = reading(500, 600, conditions={"ball_radius_mm": 25.0})
    assert (found.across.edge_mm, found.along.edge_mm) == (475, 575)


ROUTINE = Routine(
    title="Round the black",
    balls=(
        Ball("cue", "cue", 600.0, 1000.2),
        Ball("black", "black", 889.0, 3245.0),
        Ball("red-1", "red", 1500.0, 3300.0, label="1"),
    ),
)


def test_text_in_millimetres_lines_up():
    lines = placement_text(ROUTINE).splitlines()
    assert lines[0] == "Round the black"
    assert lines[3:] == [
        "ball   mark  from cushion  centre    edge  from cushion   centre    edge  spot",
        "cue    C     left          600 mm  574 mm  bottom        1000 mm  974 mm",
        "black  Bk    left          889 mm  863 mm  top            324 mm  298 mm  black spot",
        "red-1  1     right         278 mm  252 mm  top            269 mm  243 mm",
    ]


def test_text_in_inches_reads_as_the_rules_give_it():
    # 12 3/4 in from the top face: Official Rules of Snooker, WPBSA, section 1.
    black = placement_text(ROUTINE, "inch").splitlines()[5]
    assert black.split("  ")[0] == "black"
    assert '12 3/4"' in black
    assert '35"' in black
    baulk = placement_text(Routine(balls=(Ball("cue", "cue", 889.0, 737.0),)), "inch")
    assert ' 29"' in baulk


def test_text_without_balls_says_so():
    assert placement_text(Routine()).endswith("No balls placed yet.")
