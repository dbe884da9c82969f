"""What a coach measures found again; what disagrees is told, not fitted.

How often the intervals hold is tried in `test_hidden_tables.py`.
"""

import itertools
from functools import cache

import numpy as np
import pytest

from engine.calibration import Observation, own_conditions
from engine.calibration.calibrate import calibrate
from engine.calibration.model import Bench, Rows, measured_value
from engine.calibration.parameters import FITTED, pace_scale
from engine.conditions import Conditions, usual_conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.routine.context import conditions_of
from engine.routine.values import Routine
from engine.storage import dump_conditions, load_conditions, parse_conditions, save_conditions
from engine.tables import load_table, table_ids
from tests.engine.calibration.club import Club, spoiled, true_value
from tests.engine.calibration.test_impossible_observations import CASES
from tests.shares import share


@cache
def calibrated(seed):
    club = Club(seed)
    return club, calibrate(club.observations(), club.table)


@pytest.mark.slow
def test_predictions_are_what_the_table_does():
    # readings without errors, played one at a time, against the batch's predictions
    club = Club(3)
    club.tape_mm = club.watch_s = 0.0
    rows = club.observations()
    speeds = [
        float(club.truth.speed_mm_s(one.number("pace"), one.number("tip")))
        if "pace" in one.cells
        else 0.0
        for one in rows
    ]
    laid = Rows(Bench.of(club.table), rows, club.truth)
    found = laid.predict(club.truth, np.array(speeds))
    for one, value in zip(rows, found, strict=True):
        wanted = measured_value(one, club.table, club.truth.cue_radius_mm)
        room = 0.002 if one.kind in ("roll", "pace-time") else 0.5
        assert value == pytest.approx(wanted, abs=room), one


@pytest.mark.parametrize(
    ("kind", "change"),
    share(
        [
            ("roll", {"time_s": 1.2}),
            ("rebound", {"rest_mm": -120.0}),
            ("lane", {"at_mm": 60.0}),
            ("bank", {"then_mark_mm": 200.0}),
            ("stun", {"distance_mm": 150.0}),
            ("up-and-down", {"cushions": 1.0}),
        ],
        1,
    ),
)
@pytest.mark.slow
def test_one_biased_observation_is_told_and_set_aside(kind, change):
    club, clean = calibrated(1)
    rows = Club(1).observations()
    line = next(one.line for one in rows if one.kind == kind)
    found = calibrate(spoiled(rows, line, **change), club.table)
    judged = {one.row.line: one for one in found.judged}
    assert judged[line].verdict == "disagrees"
    assert abs(judged[line].off) > 4.0
    for one, other in zip(found.findings, clean.findings, strict=True):
        assert abs(one.value - other.value) < 2.5 * other.standard_error, one.name
    assert not found.all_agree


@pytest.mark.parametrize(
    ("kind", "change"),
    share(
        [
            ("pace-time", {"time_s": 0.6}),
            ("roll", {"time_s": 1.0}),
            ("rebound", {"rest_mm": 150.0}),
            ("lane", {"at_mm": 80.0}),
        ],
        1,
    ),
)
@pytest.mark.slow
def test_a_slip_common_to_a_kind_does_not_pass_silently(kind, change):
    club, clean = calibrated(1)
    rows = Club(1).observations()
    for line in [one.line for one in rows if one.kind == kind]:
        rows = spoiled(rows, line, **change)
    found = calibrate(rows, club.table)
    assert found.notes or not found.all_agree
    assert not clean.notes and clean.all_agree


@pytest.mark.slow
def test_strikes_that_differ_are_counted_in():
    shaky = Club(1)
    level = shaky._speed
    shaky._speed = lambda cells: level(cells) * (1.0 + shaky.rng.normal(0.0, 0.05))
    found = calibrate(shaky.observations(), shaky.table)
    assert "strikes-differ" in [note.kind for note in found.notes]
    steady = {one.name: one.standard_error for one in calibrated(1)[1].findings}
    wider = [one.standard_error > steady[one.name] for one in found.findings if "pace" in one.name]
    assert all(wider)
    assert sum(one.verdict == "used" for one in found.judged) >= 0.8 * len(found.judged)


@pytest.mark.slow
def test_what_no_observation_speaks_of_stays_with_the_preset():
    club, rows = Club(2), Club(2).observations()
    found = calibrate([one for one in rows if one.kind == "roll"], club.table)
    by = {one.name: one for one in found.findings}
    assert set(by) == set(FITTED)
    assert by["rolling_resistance"].decided
    for name in set(FITTED) - {"rolling_resistance"}:
        assert not by[name].decided
        assert by[name].value == pytest.approx(getattr(Conditions(), name), rel=1e-4)


@pytest.mark.slow
def test_more_of_what_is_advised_brings_the_precision_wanted():
    club = Club(5)
    rows = [one for one in club.observations() if one.kind in ("roll", "rebound")][:5]
    wanted = {"rolling_resistance": 0.0004}
    found = calibrate(rows, club.table, wanted=wanted)
    more = next(one for one in found.more if one.name == "rolling_resistance")
    assert more.wanted == 0.0004 < more.standard_error
    assert more.count and more.row is not None
    extra = [
        Observation(more.row.kind, club.read(Observation(more.row.kind, more.row.cells)), 100 + k)
        for k in range(more.count)
    ]
    again = calibrate([*rows, *extra], club.table, wanted=wanted)
    error = next(o.standard_error for o in again.findings if o.name == "rolling_resistance")
    assert error < 1.15 * 0.0004


def test_a_coachs_pace_scale_passes_through_the_measured_speeds():
    scale = pace_scale(Conditions(), {3.0: 1.2, 5.0: 2.3, 8.0: 4.4})
    found = Conditions(pace_speeds_m_s=scale)
    assert [found.speed_mm_s(pace, 0.0) for pace in (3, 5, 8)] == pytest.approx([1200, 2300, 4400])
    assert all(a < b for a, b in itertools.pairwise(scale))
    half = Conditions(pace_speeds_m_s=pace_scale(Conditions(), {4.5: 2.0}))
    assert half.speed_mm_s(4.5, 0.0) == pytest.approx(2000.0)


@pytest.mark.slow
def test_lengths_by_eye_calibrate_a_pace():
    # "my three runs one length and a half": a table length in decimals stands for a measured rest
    club = Club(4)
    rows = [one for one in club.observations() if one.kind in ("roll", "rebound")]
    planned = {"pace": 3.0, "start_mm": 710.0}
    travel = measured_value(
        Observation("up-and-down", {**planned, **club._up_and_down(planned)}), club.table, 26.25
    )
    told = Observation("up-and-down", {**planned, "lengths": travel / club.table.length_mm}, 50)
    found = calibrate([*rows, told], club.table)
    pace = next(one for one in found.findings if one.name == "speed_at_pace_3")
    assert pace.low <= true_value(club.truth, pace.name) <= pace.high
    assert pace.decided


def test_paces_that_do_not_rise_leave_the_scale_alone():
    cells = {"distance_mm": 1000.0}
    rows = [
        Observation("pace-time", {**cells, "pace": 3.0, "time_s": 0.3, "error_s": 0.01}, 2),
        Observation("pace-time", {**cells, "pace": 4.0, "time_s": 0.6, "error_s": 0.01}, 3),
    ]
    found = calibrate(rows, load_table("snooker-12ft"))
    assert "paces-do-not-rise" in [note.kind for note in found.notes]
    assert found.after.pace_speeds_m_s == Conditions().pace_speeds_m_s
    assert "pace_speeds_m_s" not in found.stated


def test_conditions_found_can_be_a_routines(tmp_path):
    club, found = calibrated(0)
    own = own_conditions(found, ["Look again."], "Thistlewharf, table 2")
    routine = Routine(conditions=own.conditions)
    assert conditions_of(routine) == found.after
    path = tmp_path / "conditions.json"
    save_conditions(own, path)
    assert load_conditions(path) == parse_conditions(dump_conditions(own))
    assert load_conditions(path).conditions == dict(own.conditions)
    assert found.before == usual_conditions(club.table)
    assert found.after != found.before


@pytest.mark.slow
def test_a_start_from_another_preset_is_stated_in_full():
    club = Club(2)
    rows = [one for one in club.observations() if one.kind == "roll"]
    found = calibrate(rows, club.table, "worn-club-cloth")
    assert found.after.sliding_friction == 0.25  # the preset's, as nothing was measured of it
    assert conditions_of(Routine(conditions=found.stated)) == found.after


@pytest.mark.parametrize("table_id", share(table_ids(), 2))
@pytest.mark.slow
def test_every_table_can_be_calibrated(table_id):
    table = load_table(table_id)
    club = Club(7, table)
    club.truth = usual_conditions(table)
    # lanes and banks are planned for a snooker table's pockets: the straight ones do everywhere
    planned = [one for one in club.observations() if one.kind not in ("lane", "bank")]
    found = calibrate(planned, table)
    rolling = next(one for one in found.findings if one.name == "rolling_resistance")
    assert rolling.decided
    off = abs(rolling.value - club.truth.rolling_resistance)
    assert off < 4.0 * rolling.standard_error
    assert found.after.ball_radius_mm == club.truth.ball_radius_mm


def test_what_cannot_be_asked_is_refused():
    table = load_table("snooker-12ft")
    row = Observation("roll", {"distance_mm": 1500.0, "time_s": 4.0})
    with pytest.raises(OutOfRangeError, match="number of observations"):
        calibrate([], table)
    with pytest.raises(UnknownNameError, match="snooker-cloth"):
        calibrate([row], table, "felt")
    with pytest.raises(UnknownNameError, match="rolling_resistance"):
        calibrate([row], table, wanted={"rolling": 0.1})
    with pytest.raises(OutOfRangeError, match="more than 0"):
        calibrate([row], table, wanted={"rolling_resistance": 0.0})


@pytest.mark.slow
def test_impossible_observations_are_never_fitted():
    club, clean = calibrated(1)
    rows = Club(1).observations()
    wrong = [Observation(kind, cells, 90 + k) for k, (kind, cells, *_) in enumerate(CASES[:8])]
    found = calibrate([*rows, *wrong], club.table)
    assert [one.value for one in found.findings] == [one.value for one in clean.findings]
    told = [one for one in found.judged if one.verdict == "impossible"]
    assert {one.row.line for one in told} == set(range(90, 98))
    assert all(one.reason and one.predicted is None for one in told)
    assert not found.all_agree
