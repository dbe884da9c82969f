"""Conditions files: format "baizewright-conditions", as a calibration writes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from engine.routine.rules import condition_breaches
from engine.routine.values import Routine
from engine.storage.document import Form, read_document
from engine.storage.files import save_text
from engine.storage.parse import add_breaches
from engine.storage.reading import StrPath, read_text
from engine.storage.write import json_text
from engine.storage.writing import SAVING, WriteRules

FORM = Form("baizewright-conditions", 1, "conditions file", "conditions")


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
    data, findings = read_document(text, name, FORM)
    stated = data.get("conditions", {})
    routine = Routine(conditions=stated, **({"table": data["table"]} if data.get("table") else {}))
    add_breaches(condition_breaches(routine), findings)
    findings.hold()
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
    data: dict[str, Any] = {"format": FORM.format, "version": FORM.version}
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
    return parse_conditions(read_text(path, kind=FORM.word), str(path))


def save_conditions(own: OwnConditions, path: StrPath, rules: WriteRules = SAVING) -> None:
    """Write the conditions' file as safely as a routine's."""
    save_text(dump_conditions(own), path, "conditions", rules)
