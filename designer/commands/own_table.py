"""`table`: what is known of a table with rule and confidence, and a copy to measure one's own."""

from __future__ import annotations

import os
from pathlib import Path

from designer.commands.exit_codes import BAD_INPUT
from designer.commands.files import tell
from designer.commands.output import output_rules
from designer.words.tables import value_name, value_unit
from engine.conditions import preset, preset_ids
from engine.errors import BaizewrightError, UnknownNameError
from engine.storage import check_write, load_measured_table, save_measured_table
from engine.tables import MeasuredTable, Reading, Table, load_table, readings, table_ids
from engine.tables.measured import measurable_names

#: What a coach is asked to measure first; the rest can be added by name.
ASKED = ("width_mm", "length_mm", "baulk_y_mm", "cushion_nose_mm", "corner_opening_mm")


def named_table(name: str) -> tuple[str, MeasuredTable | None]:
    """The table's id and a coach's measurements, from an id or a file of one's own table.

    `UnknownNameError` for a name that is neither, `RoutineFileError` for a faulty file.
    """
    if name in table_ids():
        return name, None
    if Path(name).suffix or os.path.exists(name):
        return load_measured_table(name)
    raise UnknownNameError("table", name, table_ids())


def table(name: str, out: str | None, replace: bool = False) -> int:
    """Print what is known of a table (of all without a name), or write a copy to fill in.

    With `replace` whatever stands there may go.
    """
    rules = output_rules(replace, name)
    try:
        if not name:
            print(_all())
            return 0
        if out:
            check_write(out, "table", rules)
        table_id, measured = named_table(name)
        found = load_table(table_id, measured=measured)
        print(_told(found, measured))
        if out:
            values = {one: found.values[one].value for one in ASKED if one in found.values}
            own = measured or MeasuredTable("my table", values)
            save_measured_table(table_id, own, out, rules)
            print(f"\n{out} written: put what you measured in place of the values.")
    except BaizewrightError as error:
        tell(out or name, error)
        return BAD_INPUT
    return 0


def _all() -> str:
    lines = ["Tables:"]
    lines += [f"  {one:14} {load_table(one).title}" for one in table_ids()]
    lines += ["", "Usual clothes (presets):"]
    for one in preset_ids():
        known = preset(one)
        lines.append(f"  {one:16} {known.title}. {known.note}")
        for name, value in known.values.items():
            lines.append(
                f"    {name}: {value.value:g} ({value.low:g} to {value.high:g}); {value.source}; "
                f"{value.confidence}"
            )
    return "\n".join(lines)


def _told(found: Table, measured: MeasuredTable | None) -> str:
    lines = [f"{found.title}: {found.id}", f"  rule: {found.rule}", ""]
    for name, value in found.values.items():
        room = "" if value.tolerance is None else f" ± {value.tolerance:g}"
        lines.append(f"  {name}: {value.value:g}{room}  [{value.confidence}] {value.source}")
    if measured is not None:
        lines += ["", f"Measured ({measured.title}) against the standard:"]
        lines += [f"  {_reading(one)}" for one in readings(measured, load_table(found.id))]
    names = measurable_names(found)
    return "\n".join([*lines, "", f"Can be measured: {', '.join(names)}; spots; pockets."])


def _reading(one: Reading) -> str:
    verdict = {
        None: "no tolerance in the standard",
        True: "within the standard",
        False: "OUTSIDE the standard’s tolerance",
    }[one.within]
    return (
        f"{value_name(one.name)}: {one.measured:g} {value_unit(one.name)}, "
        f"standard {one.standard.value:g}, "
        f"{one.off:+.3g}: {verdict}"
    )
