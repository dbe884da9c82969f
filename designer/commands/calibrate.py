"""`calibrate`: conditions from observations, and the form to collect them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from designer.commands.check import BAD_INPUT, FAILS, HOLDS
from designer.commands.files import tell
from designer.commands.output import write_whole
from designer.commands.own_table import named_table
from engine.conditions import usual_conditions
from engine.errors import BaizewrightError, OutOfRangeError
from engine.storage import save_conditions
from engine.storage.reading import read_text
from engine.tables import load_table


def calibrate(
    file: str,
    table: str,
    out: str | None,
    start: str = "",
    precision: Sequence[tuple[str, float]] = (),
) -> int:
    """Print what the observations say of the table; write its conditions when `out` is given."""
    asked = table
    try:
        if not file:
            raise OutOfRangeError("OBSERVATIONS.csv", "not named", "a file, or --form to get one")
        table_id, measured = named_table(table)
        bed = load_table(table_id, measured=measured)
        asked = file
        from engine.calibration import calibrate as found_from
        from engine.calibration import own_conditions, parse_observations, report_text

        rows = parse_observations(read_text(file, kind="observation file"), file)
        found = found_from(rows, bed, start, dict(precision))
        print(report_text(found))
        if out:
            asked = out
            save_conditions(own_conditions(found, bed.measured or bed.title), out)
            print(f"\n{out} written.")
    except BaizewrightError as error:
        tell(asked, error)
        return BAD_INPUT
    return HOLDS if found.all_agree else FAILS


def form(table: str, out: str | None, paper: Literal["a4", "letter"] = "a4") -> int:
    """Write the form to collect observations with: a PDF to print or a CSV file to fill in."""
    asked = table
    try:
        table_id, measured = named_table(table)
        bed = load_table(table_id, measured=measured)
        asked = out or "-o"
        kind = Path(out or "").suffix.lower()
        if not out or kind not in (".pdf", ".csv"):
            raise OutOfRangeError("the form's file", repr(out or ""), "a name in .pdf or .csv")
        if kind == ".pdf":
            from designer.handouts.calibration_form import form_pdf

            write_whole(out, form_pdf(bed, usual_conditions(bed), paper))
        else:
            from engine.calibration.form import form_csv

            write_whole(out, form_csv(bed, usual_conditions(bed)).encode("utf-8"))
        print(f"{out} written.")
    except BaizewrightError as error:
        tell(asked, error)
        return BAD_INPUT
    return 0
