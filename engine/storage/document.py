"""From the text of a file to JSON data of the right shape: the rounds all kinds of file share.

Is it JSON, is it of the kind wanted, are its values values, has it the shape of the schema. What
one round found faulty is set aside for the next, so that every fault is told once and none hides
another. The rules that only some kinds have come after, while all faults found can be told.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from engine.storage.findings import Findings
from engine.storage.paths import path_text, without
from engine.storage.shape import misfits
from engine.storage.text import read_json, set_aside_faulty_values
from engine.storage.versions import Migration, brought_up_to_date, must_be_of_format


@dataclass(frozen=True, slots=True)
class Form:
    """One kind of file: its format and version, what it is called, and the name of its schema."""

    format: str
    version: int
    word: str
    schema: str
    migrations: Mapping[int, Migration] = field(default_factory=dict)


def read_document(text: str, name: str, form: Form) -> tuple[dict[str, Any], Findings]:
    """The data of a file without what is at fault in it, and the faults found, not raised yet.

    `RoutineFileError` at once when it is not such a file at all (`WrongKindError` when it is sound
    but of another kind), or when there are more faults than will be told.
    """
    data, repeats = read_json(text, name, form.word)
    must_be_of_format(data, name, form.format, form.word)
    findings = Findings(name)
    set_aside_faulty_values(data, repeats, findings, form.word)
    data = brought_up_to_date(data, name, latest=form.version, migrations=form.migrations)
    set_aside_misfits(data, form.schema, findings)
    if not findings.all_told:
        findings.hold()
    return data, findings


def set_aside_misfits(data: dict[str, Any], schema: str, findings: Findings) -> None:
    """Tell what departs from the schema of that name and take it out of `data`."""
    found = [
        (path, path_text(path), given, wanted) for path, given, wanted in misfits(data, schema)
    ]
    # A value set aside before is now missing or an empty object: that is told already.
    fresh = [one for one in found if not findings.places.hold(one[1])]
    for path, _, _, _ in found:
        without(data, path)
    for _, where, given, wanted in fresh:
        findings.add(where, f"{given}, wanted {wanted}")
