"""Placement readings against the published marks."""

import pytest

from engine.balls import Ball
from engine.placement import placements
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
