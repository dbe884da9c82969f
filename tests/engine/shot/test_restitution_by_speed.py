"""A cushion whose restitution falls with the speed across it: whole shots against the reference.

The reference has the same law in a line of its own (`reference_forces.off_cushion`).
"""

import math
from dataclasses import replace

import numpy as np
import pytest

from engine.balls import Ball
from engine.conditions import Conditions
from engine.motion.cushion import restitution_at
from engine.routine.context import conditions_of
from engine.routine.values import Routine
from engine.shot import Strike, play
from engine.storage import dump_routine, parse_routine
from tests.engine.shot.random_shots import pocketless, shot
from tests.engine.shot.reference import reference, strike_state
from tests.engine.shot.reference_forces import yardstick_rebound
from tests.engine.shot.test_against_solve_ivp import furthest_rest, order
from tests.shares import share

FALLING = Conditions(
    cushion_restitution_slow=0.97, cushion_restitution=0.9, cushion_restitution_fast=0.75
)
SLOPED = {"cushion_restitution_slow": 0.96, "cushion_restitution_fast": 0.8}


def played(one, conditions):
    return play(one.table, conditions, one.balls, one.strike, one.direction)


@pytest.mark.slow
@pytest.mark.parametrize("number", share(range(5000, 5060), 3))
def test_shots_off_such_cushions_agree_with_the_reference(number):
    one = shot(number, 1, pocketless())
    strike = one.strike
    struck = strike_state(
        one.balls[0], FALLING, strike.speed_mm_s, strike.tip_height, strike.side, one.direction
    )
    theirs = reference(one.table, FALLING, one.balls, struck, rebound=yardstick_rebound)
    ours = played(one, FALLING)
    assert order(ours) == theirs.events
    assert furthest_rest(ours, theirs) < 0.2
    if any(event.kind == "cushion" for event in ours.events):
        plain = played(one, replace(FALLING, cushion_restitution_fast=None,
                                    cushion_restitution_slow=None))  # fmt: skip
        assert furthest_rest(plain, theirs) > 1.0, "the law matters"


@pytest.mark.parametrize("speed", [300.0, 500.0, 1500.0, 2500.0, 3750.0, 5000.0, 6000.0])
def test_a_stunned_ball_comes_back_by_the_restitution_of_its_speed(speed):
    """Square on, without spin and from close by, on cushions and cloth that do not rub."""
    smooth = replace(FALLING, cushion_friction=0.0, sliding_friction=0.01, cushion_height_ratio=1.0)
    table = pocketless()
    ball = Ball("cue", "cue", 800.0, table.length_mm - smooth.cue_radius_mm - 1.0)
    trace = play(table, smooth, (ball,), Strike(speed, 0.0), math.pi / 2)
    met = next(event for event in trace.events if event.kind == "cushion")
    before = trace.velocities("cue", met.t_s - 1e-9)[1]
    after = -trace.velocities("cue", met.t_s + 1e-9)[1]
    wanted = np.interp(before, [500.0, 2500.0, 5000.0], [0.97, 0.9, 0.75])
    assert after / before == pytest.approx(wanted, abs=1e-4)


def test_a_cushion_alike_at_all_speeds_plays_as_one_that_says_nothing():
    stated = replace(Conditions(), cushion_restitution_slow=0.98, cushion_restitution_fast=0.98)
    for number in range(4000, 4020):
        one = shot(number, 2, pocketless())
        assert played(one, stated).rests() == played(one, Conditions()).rests()


def test_the_law_has_no_steps():
    speeds = np.linspace(0.0, 7000.0, 7001)
    values = [restitution_at(speed, 0.97, 0.9, 0.75) for speed in speeds]
    assert np.abs(np.diff(values)).max() < 1e-4
    assert (values[0], values[500], values[2500], values[-1]) == (0.97, 0.97, 0.9, 0.75)


def test_a_file_may_state_it():
    routine = Routine(conditions={**SLOPED, "cushion_restitution": 0.9})
    read = parse_routine(dump_routine(routine))
    assert read.conditions == routine.conditions
    assert conditions_of(read).cushion_restitutions == (0.96, 0.9, 0.8)
    left_out = Routine(conditions={"cushion_restitution_slow": None})
    assert conditions_of(left_out).cushion_restitutions == (0.98, 0.98, 0.98)
