"""Presets: honest figures with ranges, and the conditions every table starts from."""

from dataclasses import fields, replace

import pytest

from engine.conditions import (
    CONDITION_FACTS,
    Conditions,
    likely_ranges,
    preset,
    preset_ids,
    usual,
    usual_conditions,
)
from engine.errors import OutOfRangeError, UnknownNameError
from engine.routine.context import conditions_of
from engine.routine.values import Routine
from engine.tables import load_table, table_ids


@pytest.mark.parametrize("name", preset_ids())
def test_every_figure_has_a_range_a_source_and_a_confidence(name):
    known = {field.name for field in fields(Conditions)}
    found = preset(name)
    assert found.title and found.note
    assert {"sliding_friction", "rolling_resistance", "cushion_restitution"} <= set(found.values)
    for what, value in found.values.items():
        assert what in known
        assert value.low <= value.value <= value.high, what
        low, high = CONDITION_FACTS[what].allowed
        assert low <= value.low and value.high <= high, what
        assert value.source and value.confidence, what


def test_the_figures_of_the_physics_notes():
    # Mathavan, Jackson & Parkin 2009 and 2010 (figures from memory but e and friction); Alciatore,
    # physics FAQ, for pool
    snooker, pool = preset("snooker-cloth").values, preset("pool-worsted").values
    assert snooker["sliding_friction"].value == 0.21
    # the published range lies within the one we take as likely
    assert snooker["sliding_friction"].low <= 0.18 < 0.25 <= snooker["sliding_friction"].high
    assert snooker["rolling_resistance"].value == 0.0127
    assert (snooker["cushion_restitution"].value, snooker["cushion_friction"].value) == (0.98, 0.14)
    assert (pool["sliding_friction"].value, pool["rolling_resistance"].value) == (0.20, 0.010)
    assert (pool["sliding_friction"].low, pool["sliding_friction"].high) == (0.15, 0.40)
    assert (pool["cushion_restitution"].low, pool["cushion_restitution"].high) == (0.6, 0.9)


def test_a_full_size_table_starts_from_the_plain_conditions():
    assert usual_conditions(load_table("snooker-12ft")) == Conditions()
    assert conditions_of(Routine()) == Conditions()


def test_a_pool_table_starts_from_its_own_balls_cloth_and_nose():
    found = conditions_of(Routine(table="pool-9ft"))
    assert (found.ball_radius_mm, found.cue_radius_mm) == (28.575, 28.575)
    assert found.cushion_height_ratio == pytest.approx(1.27, abs=0.001)  # 63.5 % of the diameter
    assert found.cushion_restitution == 0.75
    stated = Routine(table="pool-9ft", conditions={"cushion_restitution": 0.8})
    assert conditions_of(stated).cushion_restitution == 0.8
    assert conditions_of(stated).ball_radius_mm == 28.575


@pytest.mark.parametrize("table_id", table_ids())
def test_every_table_has_a_preset_and_conditions(table_id):
    table = load_table(table_id)
    assert table.preset in preset_ids()
    found = usual_conditions(table)
    assert found.ball_radius_mm == table.values["ball_diameter_mm"].value / 2
    assert found.cushion_height_ratio * found.ball_radius_mm == pytest.approx(
        table.values["cushion_nose_mm"].value
    )
    assert set(likely_ranges(table)) == set(preset(table.preset).values)


def test_another_preset_can_be_asked_for():
    worn = usual_conditions(load_table("snooker-12ft"), "worn-club-cloth")
    assert worn.rolling_resistance == 0.015
    with pytest.raises(UnknownNameError, match="worn-club-cloth"):
        usual_conditions(load_table("snooker-12ft"), "felt")


def test_a_cue_ball_of_its_own():
    made = Conditions(ball_radius_mm=25.4, cue_ball_radius_mm=23.8, cushion_height_ratio=1.27)
    assert (made.cue_radius_mm, made.cue_ball_kg) == (23.8, made.ball_mass_kg)
    assert Conditions(cue_ball_radius_mm=None).cue_radius_mm == 26.25
    with pytest.raises(OutOfRangeError, match="cue_ball_radius_mm"):
        Conditions(cue_ball_radius_mm=19.0)  # the nose would stand at its very top
    with pytest.raises(OutOfRangeError, match="cue_ball_mass_kg"):
        Conditions(cue_ball_mass_kg=9.0)
    stated = Routine(conditions={"cue_ball_radius_mm": 26.0, "cue_ball_mass_kg": None})
    assert conditions_of(stated).cue_radius_mm == 26.0
    assert conditions_of(stated).cue_ball_kg == 0.142


def test_a_table_that_states_nothing_starts_from_the_plain_conditions():
    bare = replace(load_table("uk-pool-7ft"), values={}, preset="")
    assert usual_conditions(bare) == Conditions() and likely_ranges(bare) == {}
    assert usual_conditions(bare, "worn-club-cloth").rolling_resistance == 0.015
    assert likely_ranges(bare, "worn-club-cloth")


def test_only_some_tables_conditions_are_kept():
    table = load_table("snooker-12ft")
    first = usual_conditions(table)
    assert usual_conditions(table) is first
    others = [replace(table) for _ in range(usual._MOST_KEPT + 1)]
    assert all(usual_conditions(one) == first for one in others)
    assert len(usual._KEPT) <= usual._MOST_KEPT
    assert usual_conditions(table) == first
