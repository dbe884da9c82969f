"""Pocket windows against a sweep: every direction tried on shapes drawn by shapely."""

import math
import random

import numpy as np
import pytest
from shapely import LineString, Point, prepare, unary_union

from engine.conditions import usual_conditions
from engine.potting import pocket_window
from engine.tables import load_table
from tests.shares import FULL, share

PLACES = 40 if FULL else 3
STEP_DEG = 0.01 if FULL else 0.04


def rubber(table, pocket, radius_mm):
    """Where a ball's centre must not come: jaws, straight jaws and faces, widened by the ball."""
    parts = [Point(jaw).buffer(pocket.jaw_radius_mm + radius_mm, 256) for jaw in pocket.jaws_mm]
    lines = [(one.start_mm, one.end_mm) for one in pocket.facings]
    lines += [(face.start_mm, face.end_mm) for face in table.faces]
    parts += [LineString(line).buffer(radius_mm - 1e-6, 256, cap_style="flat") for line in lines]
    return unary_union(parts)


def swept(table, pocket, ball_mm, radius_mm, step_deg=STEP_DEG):
    """The widest run of clean directions (low, high), in degrees; None if there is none."""
    closed = rubber(table, pocket, radius_mm)
    prepare(closed)
    fall = Point(pocket.fall_mm).buffer(pocket.fall_radius_mm, 256)
    base = math.degrees(math.atan2(pocket.fall_mm[1] - ball_mm[1], pocket.fall_mm[0] - ball_mm[0]))
    runs, begun = [], None
    for turn in np.arange(-25.0, 25.0 + step_deg, step_deg):
        angle = math.radians(base + turn)
        far = (ball_mm[0] + 9000.0 * math.cos(angle), ball_mm[1] + 9000.0 * math.sin(angle))
        within = LineString([ball_mm, far]).intersection(fall)
        clean = False
        if not within.is_empty:
            entry = within.coords[0]
            clean = not closed.intersects(LineString([ball_mm, entry]))
        if clean and begun is None:
            begun = turn
        if not clean and begun is not None:
            runs.append((base + begun, base + turn - step_deg))
            begun = None
    return max(runs, key=lambda run: run[1] - run[0], default=None)


@pytest.mark.parametrize(
    "table_id", share(["snooker-12ft", "pool-8ft", "uk-pool-7ft", "pool-9ft"], 2)
)
@pytest.mark.slow
def test_the_window_is_what_a_sweep_finds(table_id):
    table, dice = load_table(table_id), random.Random(9)
    radius = usual_conditions(table).ball_radius_mm
    clean = 0
    for number in range(PLACES):
        pocket = table.pockets[number % len(table.pockets)]
        ball = (
            dice.uniform(2 * radius, table.width_mm - 2 * radius),
            dice.uniform(2 * radius, table.length_mm - 2 * radius),
        )
        found, window = swept(table, pocket, ball, radius), pocket_window(pocket, ball, radius)
        if found is None:
            assert math.degrees(window.half_width_rad) < STEP_DEG
            continue
        clean += 1
        low = math.degrees(window.direction_rad - window.half_width_rad)
        high = math.degrees(window.direction_rad + window.half_width_rad)
        off = ((found[0] - low + 180.0) % 360.0 - 180.0, (found[1] - high + 180.0) % 360.0 - 180.0)
        assert max(map(abs, off)) <= 2.5 * STEP_DEG, (pocket.id, ball, off)
    assert clean >= PLACES // 2, "most places have a way into the pocket"


def beside(table, pocket, radius_mm):
    """Places near each face that ends at a pocket: a straight way to the fall leads into rubber."""
    inward = {"left": (1, 0), "right": (-1, 0), "bottom": (0, 1), "top": (0, -1)}
    for face in table.faces:
        for near, far in ((face.start_mm, face.end_mm), (face.end_mm, face.start_mm)):
            if math.dist(near, pocket.throat_mm) > 120.0:
                continue
            long, (nx, ny) = math.dist(near, far), inward[face.cushion]
            ux, uy = (far[0] - near[0]) / long, (far[1] - near[1]) / long
            for along, off in ((300.0, radius_mm + 5.0), (240.0, radius_mm + 40.0)):
                yield near[0] + along * ux + off * nx, near[1] + along * uy + off * ny


@pytest.mark.parametrize("table_id", share(("snooker-12ft", "pool-9ft"), 1))
@pytest.mark.slow
def test_beside_a_face_the_rubber_is_no_way_in(table_id):
    table, step = load_table(table_id), 0.02 if FULL else 0.1
    radius, thin = usual_conditions(table).ball_radius_mm, 0
    for pocket in table.pockets:
        for ball in beside(table, pocket, radius):
            found = swept(table, pocket, ball, radius, step)
            window = pocket_window(pocket, ball, radius)
            if found is None:
                thin += 1
                assert math.degrees(window.half_width_rad) < step, (pocket.id, ball)
                continue
            low = math.degrees(window.direction_rad - window.half_width_rad)
            off = (found[0] - low + 180.0) % 360.0 - 180.0
            assert 0.0 <= off + 1e-6 <= 2.0 * step, (pocket.id, ball, off)
            wide = math.degrees(2.0 * window.half_width_rad)
            assert wide == pytest.approx(found[1] - found[0], abs=2.5 * step), (pocket.id, ball)
    straight = bool(table.pockets[0].facings)
    assert (thin >= 12) is straight, "behind a straight jaw about half of them show no opening"
