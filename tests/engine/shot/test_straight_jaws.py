"""Straight jaws of pool tables: met where geometry says, left as off a cushion, never entered."""

import math

import numpy as np
import pytest

from engine.balls import Ball
from engine.conditions import usual_conditions
from engine.motion.cushion import cushion_impact
from engine.potting.pockets import pocket_window
from engine.shot import Strike, play, play_many
from engine.tables import load_table

TABLE = load_table("pool-9ft")
CONDITIONS = usual_conditions(TABLE)
R = CONDITIONS.ball_radius_mm


def rolled(x, y, angle, speed=800.0):
    return play(TABLE, CONDITIONS, (Ball("cue", "cue", x, y),), Strike(speed, 0.4), angle)


def offset(facing, place):
    """Distance of a place off the facing's line, and how far along it the foot lies (0 to 1)."""
    (ax, ay), (bx, by), (nx, ny) = facing.start_mm, facing.end_mm, facing.into_mm
    ux, uy = bx - ax, by - ay
    px, py = place[0] - ax, place[1] - ay
    return nx * px + ny * py, (ux * px + uy * py) / (ux * ux + uy * uy)


@pytest.mark.parametrize(("pocket_id", "index"), [("bottom-left", 0), ("middle-right", 1)])
def test_a_ball_on_a_straight_jaw_leaves_as_off_a_cushion_turned_that_way(pocket_id, index):
    facing = TABLE.pocket(pocket_id).facings[index]
    nx, ny = facing.into_mm
    (ax, ay), (bx, by) = facing.start_mm, facing.end_mm
    goal = (0.8 * ax + 0.2 * bx + R * nx, 0.8 * ay + 0.2 * by + R * ny)
    middle = (TABLE.width_mm / 2, TABLE.length_mm / 2)
    start = (0.6 * goal[0] + 0.4 * middle[0], 0.6 * goal[1] + 0.4 * middle[1])
    if pocket_id == "bottom-left":
        start = (goal[0] + 500.0 * math.cos(0.5), goal[1] + 500.0 * math.sin(0.5))
    angle = math.atan2(goal[1] - start[1], goal[0] - start[0])
    trace = rolled(*start, angle)
    hit = next(event for event in trace.events if event.kind in ("jaw", "cushion", "potted"))
    assert (hit.kind, hit.other) == ("jaw", pocket_id)
    off, along = offset(facing, hit.at_mm)
    assert off == pytest.approx(R, abs=1e-6) and 0.0 < along < 1.0
    before = trace.velocities("cue", hit.t_s - 1e-9)
    speed = float(np.hypot(*before))
    ux, uy = before / speed
    expected = cushion_impact(
        *before, -uy * speed / R, ux * speed / R, 0.0, -nx, -ny, R,
        CONDITIONS.cushion_restitution, CONDITIONS.cushion_friction,
        CONDITIONS.cushion_height_ratio, CONDITIONS.sliding_friction,
    )  # fmt: skip
    assert trace.velocities("cue", hit.t_s) == pytest.approx(expected[:2], abs=1e-3)
    assert trace.spins("cue", hit.t_s) == pytest.approx(expected[2:], abs=1e-3)


def test_no_ball_ends_within_a_straight_jaw():
    rng = np.random.default_rng(11)
    count = 4000
    corner = np.column_stack([rng.uniform(60, 400, count), rng.uniform(60, 400, count)])
    goal = rng.uniform(-30, 120, (count, 2))
    way = np.arctan2(*(goal - corner).T[::-1])
    shots = play_many(
        TABLE, CONDITIONS, (Ball("cue", "cue", 0.0, 0.0),), rng.uniform(200, 5000, count), way,
        tip_height=rng.uniform(-0.4, 0.4, count), places_mm=corner[:, None, :],
    )  # fmt: skip
    assert not shots.cut_short.any()
    potted = (shots.potted[:, 0] >= 0).mean()
    assert 0.2 < potted < 0.95
    rests = shots.rests_mm[shots.potted[:, 0] < 0, 0]
    for pocket in TABLE.pockets:
        for facing in pocket.facings:
            for place in rests:
                off, along = offset(facing, place)
                assert off >= R - 1e-4 or not 0.0 <= along <= 1.0 or off < -60.0


@pytest.mark.parametrize("pocket_id", ["bottom-left", "top-right", "middle-left"])
@pytest.mark.parametrize(("dx", "dy"), [(420.0, 300.0), (250.0, 700.0), (560.0, 90.0)])
def test_the_clean_window_is_what_the_played_ball_finds(pocket_id, dx, dy):
    pocket = TABLE.pocket(pocket_id)
    x = dx if pocket_id.endswith("left") else TABLE.width_mm - dx
    y = {"bottom": dy, "middle": TABLE.length_mm / 2 - dy, "top": TABLE.length_mm - dy}[
        pocket_id.split("-")[0]
    ]
    window = pocket_window(pocket, (x, y), R)
    if not window.is_clean:
        trace = rolled(x, y, window.direction_rad, 2500.0)
        first = next(event for event in trace.events if event.kind in ("jaw", "cushion", "potted"))
        assert first.kind != "potted"
        return
    for share, clean in ((-1.02, False), (-0.98, True), (0.0, True), (0.98, True), (1.02, False)):
        way = window.direction_rad + share * window.half_width_rad
        trace = rolled(x, y, way, 2500.0)
        first = next(event for event in trace.events if event.kind in ("jaw", "cushion", "potted"))
        assert (first.kind == "potted" and first.other == pocket_id) is clean, share


def test_straight_jaws_narrow_the_way_in():
    # the facings converge behind the mouth: 7 degrees a side at a corner cut of 142 degrees (WPA)
    from dataclasses import replace

    pocket = TABLE.pocket("bottom-left")
    place = (500.0, 500.0)
    bare = replace(pocket, facings=())
    with_facings = pocket_window(pocket, place, R).half_width_rad
    assert 0.0 < with_facings < pocket_window(bare, place, R).half_width_rad
