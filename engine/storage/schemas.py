"""The published JSON Schemas, read from the package."""

from __future__ import annotations

import json
from copy import deepcopy
from functools import cache
from importlib.resources import files
from typing import Any


def routine_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a routine file, as a fresh copy."""
    return deepcopy(schema_named("routine"))


def measured_table_schema() -> dict[str, Any]:
    """The JSON Schema of a measured table's file, as a fresh copy."""
    return deepcopy(schema_named("measured-table"))


def conditions_schema() -> dict[str, Any]:
    """The JSON Schema of a conditions file, as a fresh copy."""
    return deepcopy(schema_named("conditions"))


def players_schema() -> dict[str, Any]:
    """The JSON Schema of a players file, as a fresh copy."""
    return deepcopy(schema_named("players"))


def photo_schema() -> dict[str, Any]:
    """The JSON Schema of a photo marks file, as a fresh copy."""
    return deepcopy(schema_named("photo"))


def plan_schema() -> dict[str, Any]:
    """The JSON Schema of lesson plans, as a fresh copy."""
    return deepcopy(schema_named("plan"))


def check_schema() -> dict[str, Any]:
    """The JSON Schema of what `check --json` prints, as a fresh copy."""
    return deepcopy(schema_named("check"))


def reach_schema() -> dict[str, Any]:
    """The JSON Schema of what `reach --json` prints, as a fresh copy."""
    return deepcopy(schema_named("reach"))


@cache
def schema_named(name: str) -> dict[str, Any]:
    """The schema in `schema/<name>.schema.json`; shared, so not to be changed."""
    source = files("engine.storage").joinpath("schema", f"{name}.schema.json")
    found: dict[str, Any] = json.loads(source.read_text(encoding="utf-8"))
    return found
