"""Laws that hold in every shot: energy, momentum, symmetry, no overlap, a potted ball stays out."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from engine.balls import Ball
from engine.errors import OutOfRangeError
from engine.shot import Strike, Trace, play, play_many
from tests.engine.shot.layouts import (
    happenings,
    mirrored,
    mirrored_name,
    shots,
    time_of_contact,
)
from tests.engine.shot.measuring import (
    all_finite,
    dense_times,
    energies,
    fell_at,
    least_gap,
    least_room,
)
from tests.engine.shot.random_shots import CONDITIONS, pocketless, regulation
from tests.shares import FULL

# the default run repeats the same examples, so that it never fails for one machine alone
tried = settings(
    max_examples=1500 if FULL else 60,
    deadline=None,
    derandomize=not FULL,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


@tried
@given(shots())
@pytest.mark.slow
def test_energy_never_rises(one):
    trace = one.played()
    total = energies(trace, dense_times(trace), CONDITIONS)
    assert np.diff(total).max(initial=0.0) <= 1e-9 * total[0]
    for ball_id in trace.ids:
        assert np.abs(trace.velocities(ball_id, trace.duration_s)).max() == 0.0


@tried
@given(shots())
@pytest.mark.slow
def test_no_overlap_no_ball_through_a_cushion_and_an_end(one):
    trace = one.played()
    times = dense_times(trace)
    assert not trace.cut_short
    assert all_finite(trace, times)
    assert least_gap(trace, times, CONDITIONS) > -1e-4
    assert least_room(trace, times, one.table, CONDITIONS) > -1e-4


@tried
@given(shots())
def test_momentum_is_kept_between_balls(one):
    trace = one.played()
    times = np.array([event.t_s for event in trace.events])
    seen = 0
    for event in trace.events:
        if event.kind != "ball" or np.sum(np.abs(times - event.t_s) < 1e-6) > 1:
            continue
        before, after = event.t_s - 1e-9, event.t_s
        pair = (event.ball, event.other)
        total = sum(trace.velocities(b, after) - trace.velocities(b, before) for b in pair)
        # friction at the cloth takes 2e-6 mm/s in a thousandth of a microsecond
        assert np.abs(total).max() < 1e-4
        changed = trace.velocities(event.ball, after) - trace.velocities(event.ball, before)
        seen += bool(np.abs(changed).max() > 1e-3)
        # the change of either ball: along the line of centres, save friction
        line = trace.positions(event.other, after) - trace.positions(event.ball, after)
        line /= np.hypot(*line)
        across = abs(changed[0] * line[1] - changed[1] * line[0])
        assert across <= 0.12 * abs(changed @ line) + 1e-4


def grazes_a_jaw(trace: Trace) -> bool:
    """Whether a ball brushes a jaw: the last digit decides whether one that rolls along a face,
    touching it, also touches the arc that continues it."""
    for event in trace.events:
        if event.kind == "jaw":
            before, after = (trace.velocities(event.ball, event.t_s - dt) for dt in (1e-9, 0.0))
            if np.abs(before - after).max() < 1.0:
                return True
    return False


@pytest.mark.parametrize("axis", ["across", "along"])
@tried
@given(shots())
def test_a_mirrored_shot_is_the_shot_mirrored(axis, one):
    trace, image = one.played(), mirrored(one, axis).played()
    assume(not grazes_a_jaw(trace) and not grazes_a_jaw(image))
    until = time_of_contact(trace, 4)  # every contact multiplies the last digit's difference
    for ball_id in trace.ids:
        swapped = [
            (kind, mirrored_name(other, axis) if kind != "ball" else other)
            for kind, other in happenings(trace, ball_id, until - 1e-6)
        ]
        assert swapped == happenings(image, ball_id, until - 1e-6)
        times = np.linspace(0.0, until, 200)
        there = trace.positions(ball_id, times)
        k, size = (0, one.table.width_mm) if axis == "across" else (1, one.table.length_mm)
        there[:, k] = size - there[:, k]
        assert np.abs(there - image.positions(ball_id, times)).max() < 1e-5


@tried
@given(st.lists(shots(most_balls=3), min_size=2, max_size=4))
@pytest.mark.slow
def test_one_shot_and_many_are_the_same(found):
    # the shots of each number of balls and table together: every strike, each its own places
    for one in found:
        alike = [s for s in found if (len(s.balls), s.pockets) == (len(one.balls), one.pockets)]
        many = play_many(
            one.table, CONDITIONS, one.balls,
            [s.strike.speed_mm_s for s in alike], [s.direction for s in alike],
            tip_height=[s.strike.tip_height for s in alike],
            side=[s.strike.side for s in alike],
            elevation_deg=[s.strike.elevation_deg for s in alike],
            places_mm=np.array([[ball.centre_mm for ball in s.balls] for s in alike]),
        )  # fmt: skip
        for k, alone in enumerate(s.played() for s in alike):
            rests = alone.rests()
            for index, ball_id in enumerate(alone.ids):
                assert (many.potted[k, index] >= 0) == (ball_id in alone.potted)
                if rests[ball_id] is not None:
                    assert np.abs(many.rests_mm[k, index] - rests[ball_id]).max() < 1e-9
            assert many.durations_s[k] == alone.duration_s
            assert not many.cut_short[k]


@tried
@given(shots(), st.randoms(use_true_random=False))
@pytest.mark.slow
def test_the_order_of_the_balls_means_nothing(one, chance):
    assume(len(one.balls) > 1)
    shuffled = list(one.balls)
    chance.shuffle(shuffled)
    trace, other = one.played(), replace(one, balls=tuple(shuffled)).played()
    until = time_of_contact(trace, 5)
    times = np.linspace(0.0, until, 200)
    for ball_id in trace.ids:
        assert happenings(trace, ball_id, until - 1e-6) == happenings(other, ball_id, until - 1e-6)
        apart = trace.positions(ball_id, times) - other.positions(ball_id, times)
        assert np.abs(apart).max() < 1e-6


@tried
@given(
    st.floats(300.0, 3000.0), st.sampled_from([p.id for p in regulation().pockets]),
    st.floats(-0.5, 0.5), st.floats(0.3, 0.7),
)  # fmt: skip
def test_a_ball_sent_at_a_pocket_falls_and_stays_out(speed, pocket_id, tip, share):
    # an in-off is told like any other ball that falls
    table = regulation()
    fall = np.array(table.pocket(pocket_id).fall_mm)
    middle = np.array([table.width_mm, table.length_mm]) / 2.0
    x, y = fall + (middle - fall) * share
    line = fall - (x, y)
    ball = Ball("cue", "cue", float(x), float(y))
    trace = play(
        table, CONDITIONS, [ball], Strike(2000.0 + speed, tip), float(np.arctan2(*line[::-1]))
    )
    assert trace.potted == {"cue": pocket_id}
    assert trace.rests() == {"cue": None}
    fell = fell_at(trace)["cue"]
    assert [event.kind for event in trace.events][-1] == "potted"
    after = np.linspace(fell, fell + 5.0, 20)
    assert np.ptp(trace.positions("cue", after), axis=0).max() == 0.0
    assert np.abs(trace.velocities("cue", after)).max() == 0.0


@tried
@given(shots(most_balls=5))
def test_a_potted_ball_takes_no_more_part(one):
    trace = one.played()
    for ball_id, fell in fell_at(trace).items():
        later = [e for e in trace.events if e.t_s > fell and ball_id in (e.ball, e.other)]
        assert not later
        assert (fell < np.inf) == (ball_id in trace.potted)


def test_a_ball_may_pass_where_another_was_potted():
    # the object ball falls; the cue ball follows it in: both are reported, neither hits the other
    table = regulation()
    pocket = table.pocket("top-right")
    aim = np.array(pocket.throat_mm) - (1400.0, 3190.0)
    aim /= np.hypot(*aim)
    red = Ball("red-1", "red", 1400.0, 3190.0)
    cue = Ball("cue", "cue", *(np.array([1400.0, 3190.0]) - 300.0 * aim))
    direction = float(np.arctan2(aim[1], aim[0]))
    trace = play(table, CONDITIONS, [cue, red], Strike(2500.0, 0.4), direction)
    assert trace.potted == {"cue": "top-right", "red-1": "top-right"}
    assert sum(event.kind == "ball" for event in trace.events) == 1


@pytest.mark.parametrize("table", [regulation(), pocketless()], ids=["pockets", "no pockets"])
@pytest.mark.parametrize("speed", [1e-9, 1e-6, 1e-3, 0.5, 20_000.0])
@pytest.mark.parametrize(("tip", "side"), [(0.0, 0.0), (0.5, 0.0), (-0.5, 0.0), (0.0, 0.5)])
def test_the_slowest_and_the_fastest(table, speed, tip, side):
    balls = [Ball("cue", "cue", 889.0, 600.0), Ball("red-1", "red", 900.0, 1700.0)]
    for direction in (1.56, 0.3):
        trace = play(table, CONDITIONS, balls, Strike(speed, tip, side), direction)
        times = dense_times(trace)
        assert not trace.cut_short
        assert all_finite(trace, times)
        assert least_gap(trace, times, CONDITIONS) > -1e-4
        assert least_room(trace, times, table, CONDITIONS) > -1e-4
        total = energies(trace, times, CONDITIONS)
        assert np.diff(total).max(initial=0.0) <= 1e-9 * total[0]


@pytest.mark.parametrize("speed", [0.0, -1.0, 20_001.0, float("nan"), float("inf")])
def test_a_speed_no_ball_could_have_is_refused(speed):
    with pytest.raises(OutOfRangeError, match="speed"):
        play(regulation(), CONDITIONS, [Ball("cue", "cue", 889.0, 600.0)], Strike(speed), 0.0)
