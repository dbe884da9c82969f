"""Files of a coach's own tables: format "baizewright-table", schema in `schema/`.

Read like routine files: every fault is told at once with its path, unknown keys are kept.
"""

from __future__ import annotations

from typing import Any

from engine.errors import Fault, RoutineFileError
from engine.routine.rules import table_breaches
from engine.routine.values import Routine
from engine.storage.build import build_measured_table
from engine.storage.files import StrPath, read_text, save_text
from engine.storage.parse import sound_measured
from engine.storage.paths import touches, within, without
from engine.storage.shape import shape_faults
from engine.storage.text import read_json
from engine.storage.versions import brought_up_to_date
from engine.storage.write import json_text, measured_data
from engine.storage.writing import SAVING, WriteRules
from engine.tables.measured import MeasuredTable

TABLE_FORMAT, TABLE_VERSION = "baizewright-table", 1


def parse_measured_table(text: str, name: str = "table") -> tuple[str, MeasuredTable]:
    """The id of the table it is based on, and the measurements.

    `RoutineFileError` lists every fault, each with its path such as `values.width_mm`.

    >>> text = '{"format": "baizewright-table", "version": 1, "table": "carom"}'
    >>> parse_measured_table(text)[0]
    'carom'
    """
    data, faults, paths = read_json(text, name, "table")
    data = brought_up_to_date(
        data, name, latest=TABLE_VERSION, migrations={}, form=(TABLE_FORMAT, "measured table")
    )
    for path in paths:
        without(data, path)
    told = [fault.path for fault in faults]
    for path, fault in shape_faults(data, "measured-table"):
        without(data, path)
        if not any(within(fault.path, other) for other in told):
            faults.append(fault)
    measured = build_measured_table(sound_measured(data))
    base = data.get("table", "")
    if base:
        faulty = [fault.path for fault in faults]
        faults += [
            fault
            for fault in _sense_faults(Routine(table=base, measured_table=measured))
            if not touches(fault.path, faulty)
        ]
    if faults:
        raise RoutineFileError(name, faults)
    return base, measured


def _sense_faults(routine: Routine) -> list[Fault]:
    return [
        Fault(breach.path.removeprefix("measured_table."), breach.message)
        for breach in table_breaches(routine)
    ]


def dump_measured_table(table_id: str, measured: MeasuredTable) -> str:
    """The text of the table's file; reading it gives the same measurements."""
    data: dict[str, Any] = {"format": TABLE_FORMAT, "version": TABLE_VERSION, "table": table_id}
    return json_text({**data, **measured_data(measured)})


def load_measured_table(path: StrPath) -> tuple[str, MeasuredTable]:
    """The table in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_measured_table(read_text(path), str(path))


def save_measured_table(
    table_id: str, measured: MeasuredTable, path: StrPath, rules: WriteRules = SAVING
) -> None:
    """Write the table's file as safely as a routine's."""
    save_text(dump_measured_table(table_id, measured), path, "table", rules)
