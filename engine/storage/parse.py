"""From the text of a routine file to the routine, or to all its faults at once.

The text is looked at in three rounds: is it JSON, has it the shape of the schema, and do its
names and numbers make sense. What one round found faulty is set aside for the next, so that
every fault is told once and none hides another.
"""

from __future__ import annotations

import re
from typing import Any

from engine.errors import Fault, RoutineFileError
from engine.routine.rules import breaches
from engine.routine.values import Routine
from engine.storage.build import build_routine
from engine.storage.paths import touches, within, without
from engine.storage.shape import shape_faults
from engine.storage.text import MAX_BYTES, read_json, too_large
from engine.storage.versions import brought_up_to_date

#: Faults at these places leave open which names there are in that family.
_NAMING = re.compile(r"(balls|shots|gaps)(\[\d+\](\.id|\.lanes.*)?)?")


def parse_routine(text: str, name: str = "routine") -> Routine:
    """The routine written in `text`; `name` is the file's, for messages.

    `RoutineFileError` lists every fault, each with its path such as `balls[2].x_mm`.

    >>> parse_routine('{"format": "baizewright-routine", "version": 1, "title": "Black"}').title
    'Black'
    """
    if len(text) > MAX_BYTES:
        raise too_large(len(text), name)
    data, faults, paths = read_json(text, name)
    data = brought_up_to_date(data, name)
    for path in paths:
        without(data, path)
    told = [fault.path for fault in faults]
    for path, fault in shape_faults(data):
        without(data, path)
        # A value set aside above is now missing or an empty object: that is told already.
        if not any(within(fault.path, other) for other in told):
            faults.append(fault)
    routine = build_routine(_sound(data))
    faults += _sense_faults(routine, [fault.path for fault in faults])
    if faults:
        raise RoutineFileError(name, faults)
    return routine


def _sense_faults(routine: Routine, faulty: list[str]) -> list[Fault]:
    """Faults of sense, but none that follows from a fault already told."""
    matches = [_NAMING.fullmatch(path) for path in faulty]
    unsure = {match.group(1) for match in matches if match}
    return [
        Fault(breach.path, breach.message)
        for breach in breaches(routine)
        if breach.refers not in unsure and not touches(breach.path, faulty)
    ]


def _sound(data: dict[str, Any]) -> dict[str, Any]:
    """The data with what `without` left behind made fit to build a routine of."""
    for key in ("balls", "shots", "gaps", "claims", "cloth_marks"):
        data[key] = data.get(key, [])
    for gap in data["gaps"]:
        gap["balls"] = [name for name in gap.get("balls", []) if isinstance(name, str)]
        points = [p for p in gap.get("points_mm", []) if isinstance(p, list)]
        gap["points_mm"] = [[x if isinstance(x, int | float) else 0.0 for x in p] for p in points]
    data["tags"] = [tag for tag in data.get("tags", []) if isinstance(tag, str)]
    if "measured_table" in data:
        data["measured_table"] = sound_measured(data["measured_table"])
    return data


def sound_measured(data: dict[str, Any]) -> dict[str, Any]:
    """A measured table's data without the places that were set aside in part."""
    spots = data.get("spots_mm", {})
    whole = {name: at for name, at in spots.items() if all(map(_is_number, at))}
    return {**data, "spots_mm": whole} if spots else data


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
