"""The 90-degree line runs square to the potting line, the way the cue ball goes, to a cushion."""

import pytest

from engine.balls import Ball
from engine.conditions import Conditions
from engine.potting import pot
from engine.routine.values import Shot
from engine.tables import load_table

TABLE, CONDITIONS = load_table("snooker-12ft"), Conditions()
R = 26.25


@pytest.mark.parametrize(
    ("cue_mm", "object_mm", "pocket", "cushion"),
    [
        # potted up the table, cut to the left: the cue ball goes off to the right, and mirrored
        ((800.0, 1500.0), (900.0, 2000.0), "top-left", "right"),
        ((978.0, 1500.0), (878.0, 2000.0), "top-right", "left"),
        # potted across into a middle pocket: off up the table, and down it
        ((1300.0, 1500.0), (1000.0, 1784.5), "middle-left", "top"),
        ((1300.0, 2069.0), (1000.0, 1784.5), "middle-left", "bottom"),
    ],
)
def test_it_ends_where_the_cue_ball_meets_that_cushion(cue_mm, object_mm, pocket, cushion):
    balls = (Ball("cue", "cue", *cue_mm), Ball("black", "black", *object_mm))
    found = pot(TABLE, CONDITIONS, balls, Shot("s", "black", pocket))
    (cx, cy), (ex, ey) = found.ninety_line_mm
    rim = {"left": (ex, R), "right": (ex, 1778.0 - R),
           "bottom": (ey, R), "top": (ey, 3569.0 - R)}[cushion]  # fmt: skip
    assert rim[0] == pytest.approx(rim[1], abs=1e-6)
    assert R - 1e-6 <= ex <= 1778.0 - R + 1e-6 and R - 1e-6 <= ey <= 3569.0 - R + 1e-6
    (ax, ay), (bx, by) = found.potting_line_mm
    assert (bx - ax) * (ex - cx) + (by - ay) * (ey - cy) == pytest.approx(0.0, abs=1e-3)
    # what the cue ball keeps of its way is its part across the line of centres
    assert (cx - cue_mm[0]) * (ex - cx) + (cy - cue_mm[1]) * (ey - cy) > 0.0
