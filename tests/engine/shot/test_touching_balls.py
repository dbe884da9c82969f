"""Balls that touch at the start: plants, a split triangle, a touching ball, the break-off."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from engine.balls import Ball
from engine.shot import Strike, Trace, play
from tests.engine.shot.measuring import all_finite, dense_times, energies, least_gap, least_room
from tests.engine.shot.random_shots import CONDITIONS, RADIUS, pocketless, regulation
from tests.shares import share

UP = math.pi / 2
MIDDLE = 889.0


def played(balls, strike, direction=UP, table=None) -> Trace:
    return play(table or pocketless(), CONDITIONS, balls, strike, direction)


def in_line(*gaps_mm: float) -> list[Ball]:
    """The cue ball and reds up the middle of the table, that far apart (0 touches)."""
    balls, y = [Ball("cue", "cue", MIDDLE, 900.0)], 900.0
    for k, gap in enumerate(gaps_mm, 1):
        y += 2 * RADIUS + gap
        balls.append(Ball(f"red-{k}", "red", MIDDLE, y))
    return balls


def assert_sound(trace: Trace, table=None, overlap_mm: float = 1e-4) -> None:
    """It ends, in numbers, with no ball in another or in a cushion and no energy gained."""
    times = dense_times(trace)
    assert not trace.cut_short
    assert all_finite(trace, times)
    assert least_gap(trace, times, CONDITIONS) > -overlap_mm
    assert least_room(trace, times, table or pocketless(), CONDITIONS) > -1e-4
    total = energies(trace, times, CONDITIONS)
    assert np.diff(total).max(initial=0.0) <= 1e-9 * total[0]


def speeds_after_contacts(trace: Trace, at_s: float) -> list[float]:
    return [float(np.hypot(*trace.velocities(ball_id, at_s + 1e-9))) for ball_id in trace.ids]


@pytest.mark.parametrize("speed", [800.0, 2500.0])
@pytest.mark.parametrize("tip", [-0.3, 0.0])
def test_a_touching_plant_goes_straight(speed, tip):
    # common practice, no source: two touching balls in line with the cue ball: the far one goes
    trace = played(in_line(300.0, 0.0), Strike(speed, tip))
    assert_sound(trace)
    times = dense_times(trace)
    for ball_id in trace.ids:
        assert np.abs(trace.positions(ball_id, times)[:, 0] - MIDDLE).max() < 1e-6
    first = next(event.t_s for event in trace.events if event.kind == "ball")
    cue, near, far = speeds_after_contacts(trace, first)
    arriving = float(np.hypot(*trace.velocities("cue", first - 1e-9)))
    # each contact hands (1 + e)/2 on
    share = (1 + CONDITIONS.ball_restitution) / 2
    assert far == pytest.approx(share**2 * arriving, rel=0.01)
    assert near < 0.05 * arriving and cue < 0.05 * arriving


def test_a_plant_pots_the_far_ball_along_the_line_of_the_two():
    # common practice, no source: a touching plant sends the far ball down the line of centres
    table = regulation()
    pocket = table.pocket("top-left")
    far = np.array([500.0, 3000.0])
    line = (np.array(pocket.throat_mm) - far) / math.dist(pocket.throat_mm, far)
    near = far - 2 * RADIUS * line
    cue = near - 400.0 * line
    balls = [
        Ball("cue", "cue", *cue), Ball("red-1", "red", *near), Ball("red-2", "red", *far),
    ]  # fmt: skip
    trace = played(balls, Strike(2000.0, -0.2), math.atan2(line[1], line[0]), table)
    assert trace.potted.get("red-2") == "top-left"
    assert "cue" not in trace.potted


@pytest.mark.parametrize("tip", [0.0, -0.3])
@pytest.mark.parametrize("speed", [1000.0, 4000.0])
def test_a_triangle_of_touching_balls_splits_evenly(tip, speed):
    # the two behind the apex part as mirror images; the others stay on the middle line
    y = 1300.0
    row = RADIUS * math.sqrt(3.0)
    balls = [
        Ball("cue", "cue", MIDDLE, 900.0),
        Ball("red-1", "red", MIDDLE, y),
        Ball("red-2", "red", MIDDLE - RADIUS, y + row),
        Ball("red-3", "red", MIDDLE + RADIUS, y + row),
    ]
    trace = played(balls, Strike(speed, tip))
    assert_sound(trace, overlap_mm=2e-4)
    times = dense_times(trace)
    left, right = trace.positions("red-2", times), trace.positions("red-3", times)
    assert np.abs(left[:, 0] + right[:, 0] - 2 * MIDDLE).max() < 1e-6
    assert np.abs(left[:, 1] - right[:, 1]).max() < 1e-6
    for ball_id in ("cue", "red-1"):
        assert np.abs(trace.positions(ball_id, times)[:, 0] - MIDDLE).max() < 1e-6
    assert left[-1, 0] < MIDDLE - 50.0


@pytest.mark.parametrize("away_deg", [0.0, 60.0, 90.0])
def test_a_cue_ball_sent_away_from_the_ball_it_touches_leaves_it_still(away_deg):
    # the rules of snooker: a touching ball is played away from without moving it
    cue, red = in_line(0.0)
    trace = played([cue, red], Strike(1500.0, 0.2), -UP + math.radians(away_deg))
    assert_sound(trace)
    until = next((event.t_s for event in trace.events if event.kind == "cushion"), 0.0)
    assert until > 0.0
    assert np.ptp(trace.positions("red-1", np.linspace(0, until, 50)), axis=0).max() == 0.0


@pytest.mark.parametrize("tip", [-0.4, 0.0, 0.4])
@pytest.mark.parametrize("off_deg", [0.0, 30.0, 70.0])
def test_a_cue_ball_sent_into_the_ball_it_touches_drives_it_down_the_line(tip, off_deg):
    cue, red = in_line(0.0)
    trace = played([cue, red], Strike(1500.0, tip), UP + math.radians(off_deg))
    assert_sound(trace)
    contact = trace.events[1]
    assert (contact.kind, contact.t_s) == ("ball", 0.0)
    away = trace.velocities("red-1", 1e-9)
    off_line = math.degrees(math.atan2(-away[0], away[1]))
    assert abs(off_line) < 6.0  # throw
    share = (1 + CONDITIONS.ball_restitution) / 2
    assert away[1] == pytest.approx(share * 1500.0 * math.cos(math.radians(off_deg)), rel=0.02)


@pytest.mark.parametrize("side", [-0.3, 0.0, 0.3])
@pytest.mark.parametrize("tip", [-0.35, 0.0, 0.35])
@pytest.mark.parametrize("off", [-1e-9, 0.0, 1e-9, 1e-4])
@pytest.mark.parametrize("table", [pocketless(), regulation()], ids=["no pockets", "pockets"])
def test_a_ball_struck_along_the_cushion_it_touches_stays_on_the_bed(table, tip, side, off):
    cue = Ball("cue", "cue", RADIUS, 400.0)
    for elevation in (0.0, 25.0):
        trace = played([cue], Strike(1200.0, tip, side, elevation), UP + off, table)
        assert_sound(trace, table)


@pytest.mark.parametrize("tip", [-0.4, 0.0, 0.4])
@pytest.mark.parametrize("angle_deg", [0.0, 20.0, 50.0])
def test_a_ball_frozen_on_the_cushion_is_hit_and_stays_on_the_bed(tip, angle_deg):
    angle = math.radians(angle_deg)
    red = Ball("red-1", "red", RADIUS, 1500.0)
    apart = 400.0
    cue = Ball("cue", "cue", RADIUS + apart * math.cos(angle), 1500.0 - apart * math.sin(angle))
    trace = played([cue, red], Strike(1500.0, tip), math.pi - angle)
    assert_sound(trace)


def starting_position(apart_mm: float = 0.0) -> list[Ball]:
    """The 21 balls as the rules set them: reds touching in a triangle, apex 1 mm behind pink.

    Official Rules of Snooker, WPBSA, section 3: colours on their spots, the triangle as near pink
    as possible without touching. Rows are √3 radii apart; `apart_mm` loosens the triangle.
    """
    table = regulation()
    balls = [Ball(spot.id, spot.id, spot.x_mm, spot.y_mm) for spot in table.spots]
    step = 2 * RADIUS + apart_mm
    apex = table.spot("pink").y_mm + 2 * RADIUS + 1.0
    for row in range(5):
        for k in range(row + 1):
            x = MIDDLE + (k - row / 2) * step
            balls.append(
                Ball(f"red-{len(balls) - 5}", "red", x, apex + row * step * math.sqrt(0.75))
            )
    return balls


def break_off(apart_mm: float, aim_mm: tuple[float, float], strike: Strike) -> Trace:
    """Play from the D at the triangle."""
    cue = Ball("cue", "cue", 1050.0, 637.0)
    direction = math.atan2(aim_mm[1] - cue.y_mm, aim_mm[0] - cue.x_mm)
    return played([cue, *starting_position(apart_mm)], strike, direction, regulation())


BREAKS = [
    ((1030.0, 2916.0), Strike(2500.0, 0.2, 0.2)),  # thin off the end red, as players do
    ((1008.0, 2916.0), Strike(3500.0, 0.1)),
    ((930.0, 2780.0), Strike(5000.0, 0.3)),  # into the side of the triangle
    ((780.0, 2850.0), Strike(6000.0, 0.5)),
]


@pytest.mark.parametrize("apart_mm", [0.0, 0.01, 0.1])
@pytest.mark.parametrize(("aim", "strike"), share(BREAKS, 2))
@pytest.mark.slow
def test_the_break_off_ends_with_no_overlap(apart_mm, aim, strike):
    trace = break_off(apart_mm, aim, strike)
    assert any(event.kind == "ball" for event in trace.events)
    assert len(trace.ids) == 22
    assert_sound(trace, regulation(), overlap_mm=2e-4)


PRESSING = [
    (in_line(0.0, 0.0), Strike(1100.0, 0.4)),  # two touching, the cue ball touching too
    (in_line(300.0, 0.0), Strike(1500.0, 0.4)),  # a plant with follow
    (in_line(300.0, 0.0, 0.0), Strike(2500.0, 0.5)),
]


@pytest.mark.parametrize(("balls", "strike"), PRESSING)
def test_topspin_pressing_on_a_plant_ends(balls, strike):
    # the cue ball's top presses it on the ball in front while both roll on
    trace = played(balls, strike)
    assert_sound(trace, overlap_mm=2e-4)
    times = dense_times(trace)
    for ball_id in trace.ids:
        assert np.abs(trace.positions(ball_id, times)[:, 0] - MIDDLE).max() < 1e-3


@pytest.mark.slow
def test_a_ball_driven_by_anothers_topspin_moves_as_newton_says():
    """Two balls in line, the rear one spinning forward faster than it moves.

    Derived: the friction of both at the cloth moves them as one, f = mu g forward on the rear ball
    and back on the front one while that slides; a rolling ball answers a push with 5/7 of it.
    Integrated here by solve_ivp on its own, from the state just after the impacts.
    """
    trace = played(in_line(300.0, 0.0), Strike(2500.0, 0.5))
    radius, grip = RADIUS, CONDITIONS.sliding_friction * 9810.0
    drag = CONDITIONS.rolling_resistance * 9810.0
    start = max(e.t_s for e in trace.events if e.kind == "ball" and e.t_s < 0.2) + 1e-6
    front = next(e for e in trace.events if e.kind == "rolling" and e.ball == "red-1")
    assert front.t_s > start
    together = 2 * RADIUS
    gap = trace.positions("red-1", start)[1] - trace.positions("cue", start)[1]
    assert gap == pytest.approx(together, abs=1e-4)

    def rates(_t, y):
        _, v, cue_rim, red_rim = y
        rear = -grip * np.sign(v - cue_rim)
        if red_rim < v - 1e-6:  # the front ball slides: both frictions, two masses
            common, red_turn = (rear - grip) / 2.0, 2.5 * grip
        else:  # it rolls and weighs 7/5
            common = (rear - 1.4 * drag) / 2.4
            red_turn = common
        return [v, common, -2.5 * rear, red_turn]

    y0 = [
        trace.positions("cue", start)[1],
        trace.velocities("cue", start)[1],
        -radius * trace.spins("cue", start)[0],
        -radius * trace.spins("red-1", start)[0],
    ]
    times = np.linspace(start, start + 0.25, 60)
    found = solve_ivp(
        rates, (start, times[-1]), y0, t_eval=times, max_step=1e-4, rtol=1e-8, atol=1e-8
    )
    cue, red = trace.positions("cue", times)[:, 1], trace.positions("red-1", times)[:, 1]
    assert np.abs(cue - found.y[0]).max() < 0.02
    assert np.abs(red - found.y[0] - together).max() < 0.02
    assert np.abs(trace.velocities("cue", times)[:, 1] - found.y[1]).max() < 0.5
    # without the push it would have been far ahead of where it is
    assert y0[1] < 0.3 * found.y[1][-1]
