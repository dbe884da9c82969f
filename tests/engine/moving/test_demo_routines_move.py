"""Every demo routine on every table, by every way, with a full report; nothing may crash.

A share of the journeys runs by default; with BAIZEWRIGHT_FULL=1 in the environment all do.
"""

from functools import cache
from pathlib import Path

import pytest

from engine.answers import answer, reach_of, reach_to_json, to_json
from engine.moving import WAYS, Target, move, report
from engine.placement import placements
from engine.storage import dump_routine, load_routine, parse_routine
from engine.tables import table_ids
from tests.shares import FULL

DEMOS = sorted(Path(__file__).parents[3].joinpath("layouts_demo").glob("*.json"))
JOURNEYS = [
    (demo, table, by)
    for number, demo in enumerate(DEMOS)
    for place, table in enumerate(table_ids())
    for turn, by in enumerate(WAYS)
    if FULL or (number == place % len(DEMOS) and turn == place % len(WAYS))
]


@cache
def known(demo):
    routine = load_routine(demo)
    return routine, answer(routine)


def test_there_are_demo_routines_and_every_table_is_visited():
    assert len(DEMOS) >= 6
    assert {table for _, table, _ in JOURNEYS} == set(table_ids())


@pytest.mark.parametrize(
    ("demo", "table", "by"), JOURNEYS, ids=[f"{d.stem}-{t}-{b}" for d, t, b in JOURNEYS]
)
@pytest.mark.slow
def test_a_demo_routine_moves_with_a_report(demo, table, by):
    routine, before = known(demo)
    moved = move(routine, Target(table), by)
    found = report(routine, moved, before)
    assert len(found.claims) == len(routine.claims)
    assert found.old_table == "Snooker, full size (12 ft)"
    assert to_json(found.after, moved.routine, words=str)["table_id"] == table
    assert len(placements(moved.routine)) == len(moved.routine.balls)
    assert parse_routine(dump_routine(moved.routine)).balls == moved.routine.balls
    if FULL:
        reach_to_json(moved.routine, reach_of(moved.routine), words=str)


@pytest.mark.parametrize("by", WAYS)
def test_a_routine_moved_to_its_own_table_stays_as_it_is(by):
    for demo in DEMOS:
        routine = load_routine(demo)
        moved = move(routine, Target(routine.table, keep_conditions=True), by).routine
        for ours, old in zip(moved.balls, routine.balls, strict=True):
            assert ours.centre_mm == pytest.approx(old.centre_mm, abs=1e-6)
        assert moved.shots == routine.shots and moved.claims == routine.claims
