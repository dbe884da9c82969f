"""The shape of files: what the engine's own functions find is what a validator finds."""

import json
import math
import random

import pytest
from jsonschema import Draft202012Validator

from engine.storage.schemas import schema_named
from engine.storage.shape import _compiled, misfits
from tests.fuzz.damage import damaged
from tests.fuzz.readers import readers

SCHEMAS = {
    "routine": "routine", "table": "measured-table", "conditions": "conditions",
    "players": "players", "plan": "plan", "photo": "photo",
}  # fmt: skip


def found_by_a_validator(data, schema):
    """The places a full validator tells, a missing key by the place it should have."""
    places = set()
    for error in Draft202012Validator(schema).iter_errors(data):
        where = tuple(error.absolute_path)
        if error.validator == "required":
            places |= {(*where, key) for key in error.validator_value if key not in error.instance}
        else:
            places.add(where)
    return places


def finite(value):
    """The value with numbers that are none left out: they are told before the shape is."""
    if isinstance(value, dict):
        return {key: finite(one) for key, one in value.items()}
    if isinstance(value, list):
        return [finite(one) for one in value]
    return 0 if isinstance(value, float) and not math.isfinite(value) else value


@pytest.mark.parametrize("name", SCHEMAS)
@pytest.mark.slow
def test_what_is_found_in_damaged_files_is_what_a_validator_finds(name):
    schema = schema_named(SCHEMAS[name])
    samples = next(reader.samples for reader in readers() if reader.name == name)
    dice, faulty = random.Random(f"shape of {name}"), 0
    for _ in range(300):
        text = damaged(dice, dice.choice(samples), True)
        try:
            data = finite(json.loads(text))
        except (ValueError, RecursionError):
            continue
        if not isinstance(data, dict):
            continue
        places = [path for path, _, _ in misfits(data, SCHEMAS[name])]
        assert len(places) == len(set(places)), "each place once"
        assert set(places) == found_by_a_validator(data, schema), text
        faulty += bool(places)
    assert faulty > 50


def test_a_keyword_that_nobody_looks_after_is_not_passed_over():
    for schema in (
        {"type": "array", "uniqueItems": True},
        {"properties": {"a": {"multipleOf": 2}}},
        {"anyOf": [{"items": {}}]},
        {"additionalProperties": False},
    ):
        with pytest.raises((NotImplementedError, TypeError)):
            _compiled(schema, {})
