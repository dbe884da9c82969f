"""Conditions files: format "baizewright-conditions", as a calibration writes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from engine.errors import Fault, RoutineFileError
from engine.routine.rules import condition_breaches
from engine.routine.values import Routine
from engine.storage.files import StrPath, read_text, save_text
from engine.storage.paths import touches, within, without
from engine.storage.shape import shape_faults
from engine.storage.text import read_json
from engine.storage.versions import brought_up_to_date
from engine.storage.write import json_text
from engine.storage.writing import SAVING, WriteRules

CONDITIONS_FORMAT, CONDITIONS_VERSION = "baizewright-conditions", 1


@dataclass(frozen=True, slots=True)
class OwnConditions:
    """The conditions of one table, and how they were found.

    `conditions` can be a routine's as they are. `found` holds, for each condition looked for, its
    value, standard error and 95 % interval, and whether the observations decided it.
    """

    conditions: Mapping[str, Any]
    title: str = ""
    table: str = ""
    preset: str = ""
    found: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    extra: Mapping[str, Any] = field(default_factory=dict, repr=False)


_KEYS = ("format", "version", "title", "table", "preset", "conditions", "found", "notes")


def parse_conditions(text: str, name: str = "conditions") -> OwnConditions:
    """The conditions in `text`; `RoutineFileError` lists every fault with its path."""
    data, faults, paths = read_json(text, name, "conditions file")
    data = brought_up_to_date(
        data,
        name,
        latest=CONDITIONS_VERSION,
        migrations={},
        form=(CONDITIONS_FORMAT, "conditions file"),
    )
    for path in paths:
        without(data, path)
    told = [fault.path for fault in faults]
    for path, fault in shape_faults(data, "conditions"):
        without(data, path)
        if not any(within(fault.path, other) for other in told):
            faults.append(fault)
    stated = data.get("conditions", {})
    faulty = [fault.path for fault in faults]
    routine = Routine(conditions=stated, **({"table": data["table"]} if data.get("table") else {}))
    faults += [
        Fault(breach.path, breach.message)
        for breach in condition_breaches(routine)
        if not touches(breach.path, faulty)
    ]
    if faults:
        raise RoutineFileError(name, faults)
    return OwnConditions(
        conditions=stated,
        title=data.get("title", ""),
        table=data.get("table", ""),
        preset=data.get("preset", ""),
        found=data.get("found", {}),
        notes=tuple(data.get("notes", ())),
        extra={key: value for key, value in data.items() if key not in _KEYS},
    )


def dump_conditions(own: OwnConditions) -> str:
    """The text of the conditions' file."""
    data: dict[str, Any] = {"format": CONDITIONS_FORMAT, "version": CONDITIONS_VERSION}
    for key in _KEYS[2:]:
        value = getattr(own, key)
        if value or key == "conditions":
            data[key] = list(value) if isinstance(value, tuple) else _plain(value)
    for key, value in own.extra.items():
        data.setdefault(key, value)
    return json_text(data)


def _plain(value: Any) -> Any:
    if hasattr(value, "items"):
        return {key: _plain(part) for key, part in value.items()}
    return list(value) if isinstance(value, tuple) else value


def load_conditions(path: StrPath) -> OwnConditions:
    """The conditions in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_conditions(read_text(path), str(path))


def save_conditions(own: OwnConditions, path: StrPath, rules: WriteRules = SAVING) -> None:
    """Write the conditions' file as safely as a routine's."""
    save_text(dump_conditions(own), path, "conditions", rules)
