"""The published schema: valid as a schema, in step with the value classes and the conditions."""

from dataclasses import fields

import pytest
from jsonschema import Draft202012Validator

from engine.balls import KINDS, Ball
from engine.conditions import CONDITION_FACTS
from engine.routine.values import CLAIM_KINDS, GAP_KINDS, Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import dump_routine, routine_schema
from engine.storage.versions import FORMAT, VERSION
from engine.tables import CUSHIONS


@pytest.fixture(scope="module")
def schema():
    return routine_schema()


def test_it_is_a_valid_schema_of_the_2020_12_draft(schema):
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)


def names(kind):
    return {field.name for field in fields(kind)} - {"extra"}


def test_its_keys_are_the_field_names(schema):
    parts = schema["$defs"]
    assert set(schema["properties"]) == names(Routine) | {"format", "version", "revision"}
    for name, kind in (("ball", Ball), ("shot", Shot), ("lane", LaneAsk), ("gap", Gap)):
        assert set(parts[name]["properties"]) == names(kind)
    assert set(parts["claim"]["properties"]) == names(Claim)


def test_its_choices_are_the_engines(schema):
    parts, top = schema["$defs"], schema["properties"]
    assert parts["ball"]["properties"]["kind"]["enum"] == list(KINDS)
    assert parts["gap"]["properties"]["kind"]["enum"] == list(GAP_KINDS)
    assert parts["gap"]["properties"]["cushion"]["enum"] == ["", *CUSHIONS]
    assert parts["claim"]["properties"]["kind"]["enum"] == list(CLAIM_KINDS)
    assert (top["format"]["const"], top["version"]["const"]) == (FORMAT, VERSION)


def test_its_condition_limits_are_the_engines(schema):
    stated = schema["properties"]["conditions"]["properties"]
    assert set(stated) == {*CONDITION_FACTS, "pace_speeds_m_s"}
    for name, fact in CONDITION_FACTS.items():
        assert (stated[name]["minimum"], stated[name]["maximum"]) == fact.allowed


def test_every_part_is_described_and_says_what_is_wanted(schema):
    def parts(node, where):
        if not isinstance(node, dict):
            return
        if "$ref" not in node and {"type", "enum", "const", "anyOf"} & set(node):
            yield where, node
        for key in ("properties", "$defs"):
            for name, child in node.get(key, {}).items():
                yield from parts(child, f"{where}.{name}")
        for key in ("items", "additionalProperties"):
            yield from parts(node.get(key), f"{where}.{key}")

    found = list(parts(schema, "top"))
    assert len(found) > 60
    for where, node in found:
        assert node.get("x-wanted"), where
        if not where.endswith((".items", ".additionalProperties")):
            assert node.get("description"), where


def test_it_accepts_what_is_written(schema):
    import json

    data = json.loads(dump_routine(Routine(balls=(Ball("cue", "cue", 1.0, 2.0),))))
    assert list(Draft202012Validator(schema).iter_errors(data)) == []


def test_the_copy_given_out_is_ones_own(schema):
    routine_schema()["title"] = "changed"
    assert routine_schema()["title"] == schema["title"]
