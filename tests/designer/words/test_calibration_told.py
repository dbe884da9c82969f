"""A calibration's report: what every outcome and every piece of advice says."""

import pytest

from designer.words.calibration import (
    OBSERVATIONS,
    _finding,
    _places,
    _unused,
    _way_there,
    how_to_measure,
    remarks,
    report,
)
from designer.words.notes import note, note_told
from engine.calibration import KINDS, Observation
from engine.calibration.plausibility import impossible
from engine.calibration.values import Calibration, Finding, Judged, More
from engine.conditions import Conditions
from engine.results import Note
from tests.engine.calibration.test_calibration_notes import FOUND, PACE, REBOUND, ROLL
from tests.engine.calibration.test_impossible_observations import CASES, TABLE

NEVER = Note("not-above-zero", {"column": "time_s", "value": 0.0})


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
        "rolling resistance: 0.0112 ± 0.0004 (95 %: 0.0104 to 0.0120; before 0.01)"
    )
    told = _finding(PACE)
    assert told.startswith("speed at pace 3: 1.2 ± 0.3 m/s (95 %: 0.7 to 1.9; before 1.1)")
    assert told.endswith("not decided by these observations"), "a pace has no preset to keep"
    undecided = Finding(*(getattr(FOUND, n) for n in FOUND.__slots__[:-1]), False)
    assert _finding(undecided).endswith("hardly known from these observations")


@pytest.mark.parametrize(("kind", "cells", "reason", "told"), CASES)
def test_why_an_observation_is_impossible_is_told(kind, cells, reason, told):
    found = impossible(Observation(kind, cells), TABLE, Conditions())
    assert found.kind == reason and told in note(found)


def test_every_observation_not_used_says_why():
    time = Judged(ROLL, "disagrees", 2.0, 2.53, 0.1, 5.3)
    assert _unused(time) == (
        "line 7 (roll) disagrees with the rest: measured 2.00 s, the model has 2.53 s, "
        "5.3 standard errors off."
    )
    length = Judged(REBOUND, "disagrees", 400.0, 512.0, 10.0, -11.2)
    assert "measured 400 mm, the model has 512 mm, 11.2 standard errors off." in _unused(length)
    lost = Judged(REBOUND, "disagrees", 400.0, None, 10.0, None)
    assert _unused(lost).endswith(
        "disagrees with the rest: the model does not have it happen at all."
    )
    never = Judged(ROLL, "impossible", reason=NEVER)
    assert _unused(never) == "line 7 (roll) is impossible: time_s is 0, wanted more than 0."
    found = whole([time, never, Judged(ROLL, "used")], notes=[Note("many-disagree")])
    first = note_told(Note("many-disagree"))
    assert first.startswith("More than a third of the observations disagree with the rest: ")
    assert tuple(remarks(found)) == (first, _unused(time), _unused(never))


def test_advice_tells_how_many_more_and_of_what():
    struck = Observation("up-and-down", {"pace": 3.0, "start_mm": 700.0}, 0)
    cases = (
        (None, ROLL, "no observation at these paces brings it soon."),
        (1, None, "playing the form’s whole set once would do, no single row does."),
        (3, None, "playing the form’s whole set 3 times would do, no single row does."),
        (1, ROLL, "1 more observation like line 7 (roll) would do."),
        (4, struck, "4 more observations of kind up-and-down at pace 3 would do."),
    )
    for count, row, words in cases:
        asked = More("rolling_resistance", 0.02, 0.01, count, row)
        assert _way_there(asked) == words
        line = f"  rolling resistance: ± 0.01 is wanted, it is ± 0.02; {words}"
        assert report(whole(more=[asked])).endswith(line)


def test_the_whole_report_holds_every_part_that_there_is():
    name = FOUND.name
    bare = report(whole([Judged(ROLL, "used")]))
    assert "1 of 1 observations used." in bare and "Not used" not in bare
    assert "precis" not in bare
    precise = report(whole(more=[More(name, 0.0004, 0.001, 0, None)]))
    assert precise.endswith("Every number is as precise as wanted.")
    lacking = report(
        whole(
            [Judged(ROLL, "impossible", reason=NEVER)],
            [More(name, 0.0004, 0.0001, 12, ROLL), More(PACE.name, 0.3, 0.5, 0, None)],
            [Note("wide-scatter", {"times": 1.7})],
        )
    )
    assert "\nThe observations scatter 1.7 times as much as the stated errors: " in lacking
    assert "0 of 1 observations used" in lacking
    assert "Not used:\n  line 7 (roll) is impossible: time_s is 0, wanted more than 0." in lacking
    assert "What more precision takes:\n  rolling resistance: ± 0.0001 is wanted" in lacking
    assert "speed at pace 3: ±" not in lacking.split("takes:")[1], "that one is precise enough"


def test_what_is_to_be_known_of_the_whole_is_told():
    cases = (
        (Note("strikes-differ", {"percent": 4.0}), "Strikes at one pace differ by some 4 % in"),
        (Note("read-too-low", {"observations": "roll"}),
         "All observations of kind roll read too low for the model"),
        (Note("read-too-high", {"observations": "roll"}),
         "All observations of kind roll read too high for the model"),
        (Note("hardly-likely",
              {"number": "rolling_resistance", "value": 0.1, "low": 0.005, "high": 0.015}),
         "Rolling resistance comes out at 0.1, outside its likely range of 0.005 to 0.015: "),
        (Note("at-the-end", {"number": "rolling_resistance"}),
         "Rolling resistance runs to the end of what is possible: "),
        (Note("none-usable"), "No observation could be used: the conditions are the preset’s, "),
        (Note("paces-do-not-rise"), "The speeds found do not rise from pace to pace: "),
    )  # fmt: skip
    for found, words in cases:
        assert note_told(found).startswith(words) and note_told(found).endswith(".")


def test_every_kind_of_observation_has_its_name_and_how_it_is_made():
    assert set(OBSERVATIONS) == set(KINDS) == set(how_to_measure())
    assert all(how.endswith(".") for how in how_to_measure().values())
