"""Conditions files, and the schemas of tables and conditions: in step with the engine."""

import json

import pytest
from jsonschema import Draft202012Validator

from engine.conditions import CONDITION_FACTS
from engine.errors import RoutineFileError
from engine.storage import (
    OwnConditions,
    conditions_schema,
    dump_conditions,
    load_conditions,
    measured_table_schema,
    own_conditions,
    own_tables,
    parse_conditions,
    routine_schema,
    save_conditions,
)
from engine.tables.measured import MEASURABLE

OWN = OwnConditions(
    {"rolling_resistance": 0.0111, "cue_ball_mass_kg": None},
    "Thistlewharf, table 2",
    "snooker-12ft",
    "worn-club-cloth",
    {"rolling_resistance": {"value": 0.0111, "standard_error": 0.0003, "decided": True}},
    ("one note",),
    {"by": "Maren"},
)


def test_the_schemas_are_valid_and_in_step_with_the_engine():
    for schema in (conditions_schema(), measured_table_schema()):
        Draft202012Validator.check_schema(schema)
    conditions = conditions_schema()["properties"]
    assert conditions["format"]["const"] == own_conditions.FORM.format
    assert conditions["version"]["const"] == own_conditions.FORM.version
    stated = conditions["conditions"]["properties"]
    assert set(stated) == {*CONDITION_FACTS, "pace_speeds_m_s"}
    assert stated == routine_schema()["properties"]["conditions"]["properties"]
    table = measured_table_schema()["properties"]
    form = own_tables.FORM
    assert (table["format"]["const"], table["version"]["const"]) == (form.format, form.version)
    assert set(table["values"]["properties"]) == set(MEASURABLE)
    embedded = routine_schema()["$defs"]["measured_table"]["properties"]
    assert embedded == {k: v for k, v in table.items() if k not in ("format", "version", "table")}


def test_conditions_are_written_and_read_back(tmp_path):
    path = tmp_path / "c.json"
    save_conditions(OWN, path)
    assert load_conditions(path) == OWN
    text = dump_conditions(OWN)
    assert list(Draft202012Validator(conditions_schema()).iter_errors(json.loads(text))) == []


@pytest.mark.parametrize(
    ("body", "fault"),
    [
        ('"conditions": {"rolling_resistance": 9}', "conditions.rolling_resistance: is 9"),
        ('"conditions": {"rolling": 0.01}', "conditions.rolling: is"),
        ('"conditions": {"ball_radius_mm": null}', "conditions.ball_radius_mm: is null"),
        ('"conditions": {"cue_ball_radius_mm": 14}', "conditions.cue_ball_radius_mm: is 14"),
        ('"conditions": []', "conditions: is an empty list"),
        ('"title": "none"', "conditions: is missing"),
        ('"conditions": {}, "notes": "one"', 'notes: is "one", wanted a list of texts'),
    ],
)
def test_a_faulty_conditions_file_tells_where(body, fault):
    text = '{"format": "baizewright-conditions", "version": 1, ' + body + "}"
    with pytest.raises(RoutineFileError) as told:
        parse_conditions(text, "c.json")
    assert f"c.json: {fault}" in str(told.value)


def test_what_is_no_conditions_file_is_refused():
    with pytest.raises(RoutineFileError, match="no conditions file of Baizewright"):
        parse_conditions('{"format": "baizewright-table", "version": 1}')
    with pytest.raises(RoutineFileError, match="is empty, wanted a conditions file"):
        parse_conditions("")
