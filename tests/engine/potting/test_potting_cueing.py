"""Cueing room: trade facts (common practice, no source) and the geometry behind the limit."""

import math

import pytest

from engine.balls import Ball
from engine.conditions import Conditions
from engine.potting import lowest_tip
from engine.potting.cueing import PLAIN_ELEVATION_DEG, TIP_RADIUS_MM, cue_radius_mm
from engine.tables import load_table

TABLE, CONDITIONS = load_table("snooker-12ft"), Conditions()
UP = math.pi / 2


def test_open_cloth_leaves_the_whole_range():
    assert lowest_tip(TABLE, CONDITIONS, (889.0, 1500.0), UP, []) == (-0.5, None)


def test_nearer_the_cushion_the_tip_cannot_go_as_low():
    tips = [lowest_tip(TABLE, CONDITIONS, (889.0, y), UP, [])[0] for y in (26.25, 60, 100, 150)]
    assert tips == sorted(tips, reverse=True)
    assert tips[0] > 0.0, "from under the cushion only the upper half can be struck"
    found = lowest_tip(TABLE, CONDITIONS, (889.0, 60.0), UP, [])[1]
    assert found is not None and found.kind == "cushion-behind"


def test_found_tip_just_passes_over_the_nose():
    """Independent arithmetic: at the limit the cue's underside is level with the nose."""
    y, radius = 100.0, CONDITIONS.ball_radius_mm
    tip, _ = lowest_tip(TABLE, CONDITIONS, (889.0, y), UP, [])
    slope = math.radians(PLAIN_ELEVATION_DEG)
    inward = math.sqrt(1 - tip**2)
    back = radius * (inward * math.cos(slope) - tip * math.sin(slope))
    height = radius * (1 + tip * math.cos(slope) + inward * math.sin(slope))
    level = y - back
    under = (
        height + level * math.tan(slope) - cue_radius_mm(level / math.cos(slope)) / math.cos(slope)
    )
    assert under == pytest.approx(1.4 * radius, abs=0.01)
    assert cue_radius_mm(0.0) == TIP_RADIUS_MM


def test_ball_behind_limits_and_a_ball_beside_does_not():
    behind = Ball("r1", "red", 889.0, 1420.0)
    tip, reason = lowest_tip(TABLE, CONDITIONS, (889.0, 1500.0), UP, [behind])
    assert tip > 0.0 and reason.ball == "r1"
    beside = Ball("r1", "red", 989.0, 1420.0)
    assert lowest_tip(TABLE, CONDITIONS, (889.0, 1500.0), UP, [beside])[0] == -0.5
    ahead = Ball("r1", "red", 889.0, 1600.0)
    assert lowest_tip(TABLE, CONDITIONS, (889.0, 1500.0), UP, [ahead])[0] == -0.5
