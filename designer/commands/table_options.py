"""The options of `table`, `move` and `calibrate`."""

from __future__ import annotations

import argparse
from typing import Any

from designer.commands.output import add_output

#: As `engine.moving.WAYS`, without loading all that moving needs.
MOVE_BY = ("fit", "cushions", "spots", "proportion")
TABLE_HELP = "a table’s id (see `baizewright table`), or the file of a coach’s own table"


def add_table(commands: Any) -> None:
    """The parser of `table`."""
    table = commands.add_parser(
        "table", help="what is known of a table, with sources; or a copy to measure your own"
    )
    table.add_argument("table", nargs="?", default="", metavar="TABLE", help=TABLE_HELP)
    add_output(table, "OUT", "write a file of your own table, to fill in")


def add_move(commands: Any) -> None:
    """The parser of `move`."""
    move = commands.add_parser(
        "move",
        help="a routine on another table, and which of its claims survive",
        epilog="Without -o only the report is made. Exit codes: 0 every claim that held still "
        "holds and everything fits, 1 otherwise, 2 bad input.",
    )
    move.add_argument("file", metavar="FILE", help="routine file")
    move.add_argument("--to", required=True, metavar="TABLE", help=TABLE_HELP)
    move.add_argument(
        "--by", choices=MOVE_BY, default="fit",
        help="keep distances from the cushions, from the spots, or shares of the table; fit (the "
        "default): the first of these by which everything fits",
    )  # fmt: skip
    move.add_argument(
        "--conditions", default="usual", metavar="WHICH",
        help="usual (the new table’s, the default), keep (those the routine states), or a "
        "conditions file",
    )  # fmt: skip
    add_output(move, "OUT", "the routine file to write")


def add_calibrate(commands: Any) -> None:
    """The parser of `calibrate`."""
    from engine.conditions import preset_ids

    calibrate = commands.add_parser(
        "calibrate",
        help="the conditions of a table, from what was measured on it",
        epilog="Exit codes: 0 all observations agree, 1 some had to be set aside, 2 bad input.",
    )
    calibrate.add_argument(
        "file", nargs="?", default="", metavar="OBSERVATIONS.csv", help="what was measured"
    )
    calibrate.add_argument("--table", default="snooker-12ft", metavar="TABLE", help=TABLE_HELP)
    add_output(calibrate, "OUT", "the file to write")
    calibrate.add_argument(
        "--start", choices=preset_ids(), default="",
        help="the usual cloth to start from (the table’s own otherwise)",
    )  # fmt: skip
    calibrate.add_argument(
        "--precision", action="append", default=[], type=_precision, metavar="NAME=ERROR",
        help="the standard error wanted of a number, such as rolling_resistance=0.0005; may be "
        "given several times",
    )  # fmt: skip
    calibrate.add_argument(
        "--by-speed", action="store_true",
        help="tell what the cushions give back of a slow ball and of a faster one apart",
    )  # fmt: skip
    calibrate.add_argument(
        "--form", action="store_true",
        help="write the form to collect observations instead: OUT.pdf to print, OUT.csv to fill in",
    )  # fmt: skip
    calibrate.add_argument("--paper", choices=("a4", "letter"), default="a4")


def _precision(text: str) -> tuple[str, float]:
    name, _, error = text.partition("=")
    try:
        return name.strip(), float(error)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"{text!r} is not NAME=ERROR, such as rolling_resistance=0.0005"
        ) from None
