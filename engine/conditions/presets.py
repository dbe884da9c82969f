"""Usual clothes by name: starting values with their ranges, sources and honest confidence.

A preset holds what cloth, balls and cushions do; sizes and masses of the balls and the height of
the cushion belong to the table (see `engine.conditions.usual`). The figures stand in
`data/presets.json`. No standard of table speed was found in any rule text.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from engine.errors import UnknownNameError


@dataclass(frozen=True, slots=True)
class PresetValue:
    """One figure: its likely range, where it comes from and how sure we are of it."""

    value: float
    low: float
    high: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class Preset:
    """A usual cloth: its figures by the names of `Conditions`."""

    id: str
    title: str
    note: str
    values: Mapping[str, PresetValue]

    @property
    def figures(self) -> dict[str, float]:
        """The bare figures by name."""
        return {name: one.value for name, one in self.values.items()}


def preset_ids() -> tuple[str, ...]:
    """The presets there are, in the order they are offered.

    >>> preset_ids()[:3]
    ('snooker-cloth', 'new-match-cloth', 'worn-club-cloth')
    """
    return tuple(_presets())


def preset(preset_id: str) -> Preset:
    """The preset of that id; `UnknownNameError` lists the ones there are.

    >>> preset("worn-club-cloth").values["rolling_resistance"].value
    0.015
    """
    known = _presets()
    if preset_id not in known:
        raise UnknownNameError("preset", preset_id, tuple(known))
    return known[preset_id]


@cache
def _presets() -> Mapping[str, Preset]:
    source = files("engine.conditions").joinpath("data", "presets.json")
    found = {}
    for entry in json.loads(source.read_text(encoding="utf-8"))["presets"]:
        values = {name: _value(figures) for name, figures in entry["values"].items()}
        found[entry["id"]] = Preset(
            entry["id"], entry["title"], entry["note"], MappingProxyType(values)
        )
    return MappingProxyType(found)


def _value(entry: Mapping[str, float | str]) -> PresetValue:
    return PresetValue(
        float(entry["value"]),
        float(entry["low"]),
        float(entry["high"]),
        str(entry["source"]),
        str(entry["confidence"]),
    )
