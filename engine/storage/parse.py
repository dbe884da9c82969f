"""From the text of a routine file to the routine, or to all its faults at once.

After the rounds all files share (`document`) its names and numbers must make sense.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from engine.routine.rules import breaches
from engine.routine.rules.breach import Breach
from engine.routine.values import Routine
from engine.storage.build import build_routine
from engine.storage.document import Form, read_document
from engine.storage.findings import Findings
from engine.storage.reading import MAX_BYTES, too_large
from engine.storage.versions import FORMAT, MIGRATIONS, VERSION

FORM = Form(FORMAT, VERSION, "routine", "routine", MIGRATIONS)

#: Faults at these places leave open which names there are in that family.
_NAMING = re.compile(r"(balls|shots|gaps)(\[\d+\](\.id|\.lanes.*)?)?")


def parse_routine(text: str, name: str = "routine") -> Routine:
    """The routine written in `text`; `name` is the file's, for messages.

    `RoutineFileError` lists every fault, each with its path such as `balls[2].x_mm`.

    >>> parse_routine('{"format": "baizewright-routine", "version": 2, "title": "Black"}').title
    'Black'
    """
    if len(text) > MAX_BYTES:
        raise too_large(len(text), name)
    data, findings = read_document(text, name, FORM)
    routine = build_routine(_sound(data))
    add_breaches(breaches(routine), findings)
    findings.hold()
    return routine


def add_breaches(found: Iterable[Breach], findings: Findings, within: str = "") -> None:
    """Add breaches of rules, but none that follows from a fault found before.

    `within` is the beginning of their paths that the file does not have.
    """
    matches = [_NAMING.fullmatch(path) for path in findings.places]
    unsure = {match.group(1) for match in matches if match}
    fresh = [
        breach
        for breach in found
        if breach.refers not in unsure
        and not findings.places.touch(breach.path.removeprefix(within))
    ]
    for breach in fresh:
        _add(breach, breach.path.removeprefix(within), findings)


def _add(breach: Breach, path: str, findings: Findings) -> None:
    findings.add(path, lambda: breach.message)


def _sound(data: dict[str, Any]) -> dict[str, Any]:
    """The data with what `without` left behind made fit to build a routine of."""
    for key in ("balls", "shots", "gaps", "claims", "cloth_marks"):
        data[key] = data.get(key, [])
    for gap in data["gaps"]:
        for names in ("balls", "gaps"):
            gap[names] = [name for name in gap.get(names, []) if isinstance(name, str)]
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
