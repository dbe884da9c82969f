"""A calibration's report: what every outcome and every piece of advice says."""

from types import SimpleNamespace

import numpy as np
import pytest

from engine.calibration import Observation, own_conditions, report_text
from engine.calibration.judging import fit_notes, range_notes
from engine.calibration.report import _advice, _finding, _places, _unused
from engine.calibration.unknowns import pace_scale
from engine.calibration.values import Calibration, Finding, Judged, More
from engine.conditions import CONDITION_FACTS, Conditions

ROLL = Observation("roll", {"distance_mm": 1500.0, "time_s": 2.0}, 7)
REBOUND = Observation("rebound", {"free_mm": 2000.0, "distance_mm": 900.0, "rest_mm": 400.0}, 9)
FOUND = Finding(
    "rolling_resistance", "Rolling resistance", "", 0.0112, 0.0004, 0.0104, 0.012,
    (0.005, 0.015), 0.01, True,
)  # fmt: skip
PACE = Finding("speed_at_pace_3", "Speed at pace 3", "m/s", 1.24, 0.3, 0.66, 1.86, None, 1.1, False)


def whole(judged=(), more=(), notes=()):
    return Calibration(
        "snooker-12ft", "match", (FOUND, PACE), tuple(judged), tuple(more), tuple(notes),
        Conditions(), Conditions(), {"rolling_resistance": 0.0112},
    )  # fmt: skip


@pytest.mark.parametrize(
    ("error", "places"), [(5.0, 0), (0.3, 1), (0.02, 2), (0.0004, 4), (1e-9, 6)]
)
def test_figures_are_told_as_finely_as_they_are_known(error, places):
    assert _places(error) == places


def test_a_finding_tells_value_interval_and_what_it_was_before():
    assert _finding(FOUND) == (
        "Rolling resistance: 0.0112 ± 0.0004 (95 %: 0.0104 to 0.0120; before 0.01)"
    )
    told = _finding(PACE)
    assert told.startswith("Speed at pace 3: 1.2 ± 0.3 m/s (95 %: 0.7 to 1.9; before 1.1)")
    assert told.endswith("not decided by these observations"), "a pace has no preset to keep"
    undecided = Finding(*(getattr(FOUND, n) for n in FOUND.__slots__[:-1]), False)
    assert _finding(undecided).endswith(": the preset's value is kept")


def test_every_observation_not_used_says_why():
    time = Judged(ROLL, "disagrees", 2.0, 2.53, 0.1, 5.3)
    assert _unused(time) == (
        f"{ROLL.name} disagrees with the rest: measured 2.00 s, the model has 2.53 s, "
        "5.3 standard errors off."
    )
    length = Judged(REBOUND, "disagrees", 400.0, 512.0, 10.0, -11.2)
    assert "measured 400 mm, the model has 512 mm, 11.2 standard errors off." in _unused(length)
    lost = Judged(REBOUND, "disagrees", reason="the model's ball never comes back")
    assert _unused(lost).endswith("disagrees with the rest: the model's ball never comes back.")
    never = Judged(ROLL, "impossible", reason="time_s is 0, wanted more than 0")
    assert _unused(never) == f"{ROLL.name} is impossible: time_s is 0, wanted more than 0."
    own = own_conditions(whole([time, never, Judged(ROLL, "used")], notes=["Look again."]))
    assert own.notes == ("Look again.", _unused(time), _unused(never))


def test_advice_tells_how_many_more_and_of_what():
    struck = Observation("up-and-down", {"pace": 3.0, "start_mm": 700.0}, 0)
    cases = (
        (None, ROLL, "no observation at these paces brings it soon."),
        (1, None, "playing the form's whole set once would do, no single row does."),
        (3, None, "playing the form's whole set 3 times would do, no single row does."),
        (1, ROLL, f"1 more observation like {ROLL.name} would do."),
        (4, struck, "4 more observations of kind up-and-down at pace 3 would do."),
    )
    for count, row, words in cases:
        told = _advice(More("a", 0.02, 0.01, count, row))
        assert told == f"± 0.01 is wanted, it is ± 0.02; {words}"


def test_the_whole_report_holds_every_part_that_there_is():
    name = FOUND.name
    bare = report_text(whole([Judged(ROLL, "used")]))
    assert "1 of 1 observations used." in bare and "Not used" not in bare
    assert "precis" not in bare
    precise = report_text(whole(more=[More(name, 0.0004, 0.001, 0, None)]))
    assert precise.endswith("Every number is as precise as wanted.")
    lacking = report_text(
        whole(
            [Judged(ROLL, "impossible", reason="it ran backwards")],
            [More(name, 0.0004, 0.0001, 12, ROLL), More(PACE.name, 0.3, 0.5, 0, None)],
            ["Strikes differ."],
        )
    )
    assert "\nStrikes differ.\n" in lacking and "0 of 1 observations used" in lacking
    assert f"Not used:\n  {ROLL.name} is impossible: it ran backwards." in lacking
    assert "What more precision takes:\n  Rolling resistance: ± 0.0001 is wanted" in lacking
    assert "Speed at pace 3: ±" not in lacking.split("takes:")[1], "that one is precise enough"


def test_numbers_at_the_ends_of_what_can_be_are_noted():
    low = CONDITION_FACTS["rolling_resistance"].allowed[0]
    outside = Finding(
        "rolling_resistance", "Rolling resistance", "", low, 1e-4, low, 2 * low, (0.005, 0.015),
        0.01, True,
    )  # fmt: skip
    notes = range_notes([outside, FOUND, PACE])
    assert len(notes) == 2, "nothing to say of a likely one, or of a pace"
    assert "outside its likely range of 0.005 to 0.015" in notes[0]
    assert "runs to the end of what is possible" in notes[1]


def test_a_scale_without_measured_paces_is_the_one_there_was():
    assert pace_scale(Conditions(), {}) == Conditions().pace_speeds_m_s
    assert np.all(np.diff(pace_scale(Conditions(), {2.0: 0.9})) > 0.0)


def test_what_the_fit_as_a_whole_says_is_noted():
    rows = [ROLL, ROLL, ROLL, REBOUND]

    def fit(off, used=(True,) * 4, spread=0.0, widened=1.0):
        return SimpleNamespace(
            off=np.array(off), used=np.array(used), spread=spread, widened=widened
        )

    assert fit_notes(fit([0.5, -0.4, 0.1, 0.2]), rows) == []
    (differ,) = fit_notes(fit([0.5, -0.4, 0.1, 0.2], spread=0.04), rows)
    assert "differ by some 4 % in speed" in differ
    (wide,) = fit_notes(fit([0.5, -0.4, 0.1, 0.2], widened=1.7), rows)
    assert "scatter 1.7 times as much" in wide
    (third,) = fit_notes(fit([0.5, -0.4, 9.0, 9.0], used=(True, True, False, False)), rows)
    assert "More than a third of the observations disagree" in third
    for sign, way in ((1.0, "too low"), (-1.0, "too high")):
        (lean,) = fit_notes(fit([sign * 3.0, sign * 3.0, sign * 3.0, 0.0]), rows)
        assert f"All observations of kind roll read {way} for the model" in lean
