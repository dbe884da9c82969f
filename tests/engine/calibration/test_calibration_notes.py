"""What a calibration notes of its fit and its numbers, and what its conditions file holds."""

from types import SimpleNamespace

import numpy as np

from engine.calibration import Observation, own_conditions
from engine.calibration.judging import fit_notes, range_notes
from engine.calibration.parameters import pace_scale
from engine.calibration.values import Calibration, Finding
from engine.conditions import CONDITION_FACTS, Conditions
from engine.results import Note

ROLL = Observation("roll", {"distance_mm": 1500.0, "time_s": 2.0}, 7)
REBOUND = Observation("rebound", {"free_mm": 2000.0, "distance_mm": 900.0, "rest_mm": 400.0}, 9)
FOUND = Finding(
    "rolling_resistance", 0.0112, 0.0004, 0.0104, 0.012, (0.005, 0.015), 0.01, True,
)  # fmt: skip
PACE = Finding("speed_at_pace_3", 1.24, 0.3, 0.66, 1.86, None, 1.1, False)


def test_a_conditions_file_holds_the_numbers_and_the_remarks_given():
    found = Calibration(
        "snooker-12ft", "match", (FOUND, PACE), (), (), (Note("many-disagree"),), Conditions(),
        Conditions(), {"rolling_resistance": 0.0112},
    )  # fmt: skip
    own = own_conditions(found, ["Look again.", "And here."], "Thistlewharf")
    assert (own.title, own.table, own.preset) == ("Thistlewharf", "snooker-12ft", "match")
    assert own.conditions == {"rolling_resistance": 0.0112}
    assert own.notes == ("Look again.", "And here.")
    assert own.found["rolling_resistance"]["low_95"] == 0.0104
    assert [one["decided"] for one in own.found.values()] == [True, False]


def test_numbers_at_the_ends_of_what_can_be_are_noted():
    low = CONDITION_FACTS["rolling_resistance"].allowed[0]
    outside = Finding(
        "rolling_resistance", low, 1e-4, low, 2 * low, (0.005, 0.015), 0.01, True
    )  # fmt: skip
    name = "rolling_resistance"
    assert range_notes([outside, FOUND, PACE]) == [
        Note("hardly-likely", {"number": name, "value": low, "low": 0.005, "high": 0.015}),
        Note("at-the-end", {"number": name}),
    ], "nothing to say of a likely one, or of a pace"


def test_a_scale_without_measured_paces_is_the_one_there_was():
    assert pace_scale(Conditions(), {}) == Conditions().pace_speeds_m_s
    assert np.all(np.diff(pace_scale(Conditions(), {2.0: 0.9})) > 0.0)


def test_what_the_fit_as_a_whole_says_is_noted():
    rows = [ROLL, ROLL, ROLL, REBOUND]

    def noted(off, used=(True,) * 4, spread=0.0, widened=1.0):
        fit = SimpleNamespace(
            off=np.array(off), used=np.array(used), spread=spread, widened=widened
        )
        return fit_notes(fit, rows)

    even = [0.5, -0.4, 0.1, 0.2]
    assert noted(even) == []
    assert noted(even, spread=0.04) == [Note("strikes-differ", {"percent": 4.0})]
    assert noted(even, widened=1.7) == [Note("wide-scatter", {"times": 1.7})]
    (third,) = noted([0.5, -0.4, 9.0, 9.0], used=(True, True, False, False))
    assert third == Note("many-disagree")
    for sign, way in ((1.0, "read-too-low"), (-1.0, "read-too-high")):
        (lean,) = noted([sign * 3.0, sign * 3.0, sign * 3.0, 0.0])
        assert lean == Note(way, {"observations": "roll"})
