"""Files of a coach's own tables: format "baizewright-table", schema in `schema/`.

Read like routine files: every fault is told at once with its path, unknown keys are kept.
"""

from __future__ import annotations

from typing import Any

from engine.routine.rules import table_breaches
from engine.routine.values import Routine
from engine.storage.build import build_measured_table
from engine.storage.document import Form, read_document
from engine.storage.files import save_text
from engine.storage.parse import add_breaches, sound_measured
from engine.storage.reading import StrPath, read_text
from engine.storage.write import json_text, measured_data
from engine.storage.writing import SAVING, WriteRules
from engine.tables.measured import MeasuredTable

FORM = Form("baizewright-table", 1, "measured table", "measured-table")


def parse_measured_table(text: str, name: str = "table") -> tuple[str, MeasuredTable]:
    """The id of the table it is based on, and the measurements.

    `RoutineFileError` lists every fault, each with its path such as `values.width_mm`.

    >>> text = '{"format": "baizewright-table", "version": 1, "table": "carom"}'
    >>> parse_measured_table(text)[0]
    'carom'
    """
    data, findings = read_document(text, name, FORM)
    measured = build_measured_table(sound_measured(data))
    base = data.get("table", "")
    if base:
        routine = Routine(table=base, measured_table=measured)
        add_breaches(table_breaches(routine), findings, "measured_table.")
    findings.hold()
    return base, measured


def dump_measured_table(table_id: str, measured: MeasuredTable) -> str:
    """The text of the table's file; reading it gives the same measurements."""
    data: dict[str, Any] = {"format": FORM.format, "version": FORM.version, "table": table_id}
    return json_text({**data, **measured_data(measured)})


def load_measured_table(path: StrPath) -> tuple[str, MeasuredTable]:
    """The table in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_measured_table(read_text(path, kind=FORM.word), str(path))


def save_measured_table(
    table_id: str, measured: MeasuredTable, path: StrPath, rules: WriteRules = SAVING
) -> None:
    """Write the table's file as safely as a routine's."""
    save_text(dump_measured_table(table_id, measured), path, "table", rules)
