"""`calibrate`: conditions from observations, and the form to collect them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from designer.commands.exit_codes import BAD_INPUT, FAILS, HOLDS
from designer.commands.files import tell
from designer.commands.output import output_rules
from designer.commands.own_table import named_table
from designer.texts import tr
from engine.conditions import usual_conditions
from engine.errors import BaizewrightError, OutOfRangeError
from engine.storage import check_write, save_conditions, write_file
from engine.storage.reading import read_text
from engine.tables import load_table


def calibrate(
    file: str,
    table: str,
    out: str | None,
    start: str = "",
    precision: Sequence[tuple[str, float]] = (),
    replace: bool = False,
    by_speed: bool = False,
) -> int:
    """Print what the observations say of the table; write its conditions when `out` is given.

    With `replace` whatever stands there may go. `by_speed` tells the cushion's restitution of slow
    balls and of faster ones apart.
    """
    asked = table
    rules = output_rules(replace, file, table)
    try:
        if out:
            check_write(out, "conditions", rules)
        if not file:
            raise OutOfRangeError("OBSERVATIONS.csv", "not named", "a file, or --form to get one")
        table_id, measured = named_table(table)
        bed = load_table(table_id, measured=measured)
        asked = file
        from designer.words.calibration import remarks, report
        from engine.calibration import own_conditions, parse_observations
        from engine.calibration.calibrate import calibrate as found_from

        rows = parse_observations(read_text(file, kind="observation file"), file)
        found = found_from(rows, bed, start, dict(precision), by_speed)
        print(report(found))
        if out:
            asked = out
            own = own_conditions(found, remarks(found), bed.measured or bed.title)
            save_conditions(own, out, rules)
            print(f"\n{tr('{path} written.', path=out)}")
    except BaizewrightError as error:
        tell(asked, error)
        return BAD_INPUT
    return HOLDS if found.all_agree else FAILS


def form(
    table: str, out: str | None, paper: Literal["a4", "letter"] = "a4", replace: bool = False
) -> int:
    """Write the form to collect observations with: a PDF to print or a CSV file to fill in.

    With `replace` whatever stands there may go, readings filled in among it.
    """
    asked = table
    try:
        table_id, measured = named_table(table)
        bed = load_table(table_id, measured=measured)
        asked = out or "-o"
        kind = Path(out or "").suffix.lower()
        if not out or kind not in (".pdf", ".csv"):
            raise OutOfRangeError("the form’s file", repr(out or ""), "a name in .pdf or .csv")
        data: bytes | str
        if kind == ".pdf":
            from designer.handouts.calibration_form import form_pdf

            data = form_pdf(bed, usual_conditions(bed), paper)
        else:
            from designer.words.calibration import how_to_measure
            from engine.calibration.form import form_csv

            data = form_csv(bed, usual_conditions(bed), how_to_measure())
        holds = "pdf" if kind == ".pdf" else "observations"
        write_file(out, data, holds, output_rules(replace, table))
        print(tr("{path} written.", path=out))
    except BaizewrightError as error:
        tell(asked, error)
        return BAD_INPUT
    return 0
