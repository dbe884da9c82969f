"""Cueing over a ball behind: the lowest tip against the distance of a point from a line in space.

The cue's axis and the ball's centre are laid out in space and their distance taken by the vector
product: at the lowest tip the two surfaces just touch, a little higher they are apart.
"""

import math

import numpy as np
import pytest

from engine.balls import Ball
from engine.conditions import Conditions
from engine.potting import lowest_tip
from engine.results import Fact
from engine.tables import load_table

TABLE, CONDITIONS = load_table("snooker-12ft"), Conditions()
R = CONDITIONS.ball_radius_mm
CUE = (889.0, 1500.0)
SLOPE = math.radians(8.0)


def between_surfaces_mm(tip: float, back_mm: float, aside_mm: float) -> float:
    """Room between a straight cue at 8 degrees and a ball so far behind and aside; cloth at 0."""
    # the cue ball's centre is the origin; x behind it, y aside, z up
    axis = np.array([math.cos(SLOPE), 0.0, math.sin(SLOPE)])
    up = np.array([-math.sin(SLOPE), 0.0, math.cos(SLOPE)])
    struck = R * (math.sqrt(1.0 - tip * tip) * axis + tip * up)
    away = np.array([back_mm, aside_mm, 0.0]) - struck
    along = float(away @ axis)
    # common practice, no source: 9.5 mm at the tip, 29 mm at the butt, 1470 mm long
    thick = 4.75 + (14.5 - 4.75) * along / 1470.0
    return float(np.linalg.norm(np.cross(away, axis))) - R - thick


@pytest.mark.parametrize(("back_mm", "aside_mm"), [(250.0, 0.0), (120.0, 12.0), (180.0, 0.0),
                                                   (150.0, 8.0), (150.0, -8.0)])  # fmt: skip
def test_at_the_lowest_tip_cue_and_ball_just_touch(back_mm, aside_mm):
    behind = Ball("r1", "red", CUE[0] + aside_mm, CUE[1] - back_mm)
    tip, reason = lowest_tip(TABLE, CONDITIONS, CUE, math.pi / 2, [behind])
    assert -0.5 < tip < 0.5 and (reason.kind, reason.ball) == ("ball-behind", "r1")
    assert between_surfaces_mm(tip, back_mm, aside_mm) == pytest.approx(0.0, abs=0.06)
    assert between_surfaces_mm(tip - 0.02, back_mm, aside_mm) < 0.0
    assert between_surfaces_mm(tip + 0.02, back_mm, aside_mm) > 0.0


def test_a_ball_under_the_middle_of_the_cue_does_not_limit():
    """At 400 mm the axis stands 56 mm higher than at the tip, so even the lowest tip is free."""
    assert between_surfaces_mm(-0.5, 400.0, 0.0) > 0.0
    far = Ball("r1", "red", CUE[0], CUE[1] - 400.0)
    assert lowest_tip(TABLE, CONDITIONS, CUE, math.pi / 2, [far]) == (-0.5, None)


def test_of_two_balls_behind_the_one_that_limits_more_is_named():
    near, far = (
        Ball(name, "red", CUE[0], CUE[1] - y) for name, y in (("r1", 130.0), ("r2", 150.0))
    )
    alone = lowest_tip(TABLE, CONDITIONS, CUE, math.pi / 2, [near])
    for balls in ([near, far], [far, near]):
        assert lowest_tip(TABLE, CONDITIONS, CUE, math.pi / 2, balls) == alone
    assert alone[1] == Fact("ball-behind", ball="r1")


@pytest.mark.parametrize("turn_deg", [0.0, 40.0, 90.0, 200.0])
def test_the_room_over_a_ball_turns_with_the_stroke(turn_deg):
    turn = math.radians(turn_deg)
    place = (CUE[0] - 130.0 * math.cos(turn) - 12.0 * math.sin(turn),
             CUE[1] - 130.0 * math.sin(turn) + 12.0 * math.cos(turn))  # fmt: skip
    tip, _ = lowest_tip(TABLE, CONDITIONS, CUE, turn, [Ball("r1", "red", *place)])
    assert between_surfaces_mm(tip, 130.0, 12.0) == pytest.approx(0.0, abs=0.06)


def test_a_ball_right_behind_leaves_hardly_any_room():
    """Even the highest tip would touch it: the answer is that limit, with the ball named."""
    assert between_surfaces_mm(0.5, 2 * R, 0.0) < 0.0
    touching = Ball("r1", "red", CUE[0], CUE[1] - 2 * R)
    found = lowest_tip(TABLE, CONDITIONS, CUE, math.pi / 2, [touching])
    assert found == (0.5, Fact("ball-behind", ball="r1"))
