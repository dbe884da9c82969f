"""The options of `library`, `plan` and `record`."""

from __future__ import annotations

import argparse
from typing import Any

from designer.commands.output import add_output

PAPERS = ("a4", "letter")
CAUTIOUS = "Records stay on this computer. Of players under 18 keep initials or a nickname only."


def add_library(commands: Any) -> None:
    """The parser of `library`."""
    library = commands.add_parser(
        "library", help="folders of routine files: index, search, near-duplicates, tags, steps"
    )
    does = library.add_subparsers(dest="action", metavar="ACTION", required=True)
    index = does.add_parser("index", help="bring the index up to date with the files")
    _folders(index)
    index.add_argument("--reach", action="store_true", help="work out lowest paces as well")
    index.add_argument("--anew", action="store_true", help="throw the index away and begin anew")
    find = does.add_parser(
        "find", help="the routines that fulfil every condition",
        epilog="Conditions can be typed among the words: skill:screw tag:warm-up pocket:middle "
        "contact:half gap:cannon table:ID level:2 balls:up-to-3 balls:from-2 balls:2-4 "
        "pace:up-to-4 (reachable at pace 4 or less, at a quick look). balls<=3 and balls>=2 mean "
        "the same as up-to and from; shells want them between double quotation marks, alone or "
        "with the whole search: \"skill:screw balls<=3\".",
    )  # fmt: skip
    find.add_argument("words", nargs="*", metavar="WORD", help="words and conditions")
    _folders(find)
    find.add_argument("--skill", action="append", default=[], metavar="SKILL")
    find.add_argument("--tag", action="append", default=[], metavar="TAG")
    find.add_argument("--pocket", action="append", default=[], metavar="POCKET",
                      help="a pocket, or top, middle, bottom, left, right")  # fmt: skip
    find.add_argument("--level", type=int, metavar="1..5")
    find.add_argument("--balls-most", type=int, metavar="N")
    find.add_argument("--pace-most", type=float, metavar="PACE", help="reachable at that or less")
    find.add_argument("--faulty", action="store_true", help="files that cannot be read, and why")
    find.add_argument("--json", action="store_true", help="JSON, units in the keys")
    alike = does.add_parser("alike", help="routines whose balls stand alike, in any order")
    _folders(alike)
    alike.add_argument("--within", type=float, default=20.0, metavar="MM", help="default 20 mm")
    alike.add_argument("--no-mirror", action="store_true", help="leave mirror images out")
    tag = does.add_parser("tag", help="add tags to routine files, or drop them")
    tag.add_argument("files", nargs="+", metavar="FILE")
    tag.add_argument("--add", action="append", default=[], metavar="TAG")
    tag.add_argument("--drop", action="append", default=[], metavar="TAG")
    step = does.add_parser(
        "step", help="a routine made harder or easier by a success chance, proved",
        epilog="Exit codes: 0 the chance asked for was hit, 1 only come near or not at all, "
        "2 bad input.",
    )  # fmt: skip
    step.add_argument("file", metavar="FILE", help="routine file")
    amount = step.add_mutually_exclusive_group(required=True)
    amount.add_argument("--harder", type=float, metavar="POINTS", help="chance less by so many %%")
    amount.add_argument("--easier", type=float, metavar="POINTS", help="chance more by so many %%")
    step.add_argument("--player", default="club player", metavar="LEVEL",
                      help="learner, club player (the default) or county player")  # fmt: skip
    step.add_argument("--shot", default="", metavar="ID", help="the first when left out")
    step.add_argument("--gap", default=None, metavar="ID", help='the first when left out; "" none')
    step.add_argument("--by", action="append", default=[], choices=("gap", "distance", "pot"),
                      help="what may be changed; all when left out")  # fmt: skip
    step.add_argument("--steps", type=int, default=1, metavar="N", help="a chain of so many")
    add_output(step, "OUT", "file of the step, or folder of a chain")


def add_plan(commands: Any) -> None:
    """The parser of `plan`."""
    plan = commands.add_parser("plan", help="a lesson: routines in order, with minutes and aims")
    does = plan.add_subparsers(dest="action", metavar="ACTION", required=True)
    new = does.add_parser("new", help="a plan of routine files")
    new.add_argument("files", nargs="+", metavar="FILE", help="routine files in order")
    add_output(new, "PLAN.json", "the plan to write", required=True)
    new.add_argument("--title", default="", metavar="TEXT")
    new.add_argument("--day", default="", metavar="YYYY-MM-DD")
    new.add_argument("--coach", default="", metavar="NAME")
    new.add_argument("--aims", default="", metavar="TEXT")
    new.add_argument("--minutes", type=float, default=10.0, metavar="MIN", help="of each routine")
    show = does.add_parser("show", help="the plan as text: minutes, changes, balls needed")
    show.add_argument("plan", metavar="PLAN.json")
    order = does.add_parser("order", help="propose the order with the least balls to move")
    order.add_argument("plan", metavar="PLAN.json")
    order.add_argument("--keep-first", action="store_true", help="the first routine stays first")
    order.add_argument("--keep-last", action="store_true", help="the last routine stays last")
    add_output(order, "PLAN.json", "write the plan in that order")
    booklet = does.add_parser("booklet", help="the plan on a page and every sheet, as a PDF")
    booklet.add_argument("plan", metavar="PLAN.json")
    add_output(booklet, "OUT.pdf", "the PDF to write", required=True)
    booklet.add_argument("--paper", choices=PAPERS, default="a4")
    booklet.add_argument("--for", dest="audience", choices=("coach", "player"), default="coach")
    booklet.add_argument("--units", choices=("mm", "inch"), default="mm")
    booklet.add_argument("--made-at", metavar="TIME", help="for the same bytes every time")


def add_record(commands: Any) -> None:
    """The parser of `record`."""
    record = commands.add_parser("record", help="practice records of players", epilog=CAUTIOUS)
    does = record.add_subparsers(dest="action", metavar="ACTION", required=True)
    made = {}
    for name, words in (
        ("add", "write down one practice"),
        ("import", "take in practice from a CSV file"),
        ("show", "success by routine, with 95 %% ranges"),
        ("players", "everyone with a record"),
        ("report", "the report of a player, as a PDF"),
        ("export", "everything kept of a player, as CSV"),
        ("delete", "delete a player and everything kept of them, without a trace"),
    ):
        made[name] = does.add_parser(name, help=words, epilog=CAUTIOUS)
        made[name].add_argument(
            "--records", metavar="FILE", help="the records’ file; the window’s own when left out"
        )
    for name in ("add", "show", "report", "export", "delete"):
        made[name].add_argument("--player", required=True, metavar="INITIALS")
    add = made["add"]
    add.add_argument("--routine", required=True, metavar="TITLE", help="title of the routine")
    add.add_argument("--attempts", required=True, type=int, metavar="N")
    add.add_argument("--made", required=True, type=int, metavar="N")
    add.add_argument("--step", type=int, default=1, metavar="N", help="number of the shot")
    add.add_argument("--day", default="", metavar="YYYY-MM-DD", help="today when left out")
    add.add_argument("--missed", action="append", default=[], metavar="KIND=N",
                     help="pot, left, right, short or long, and how often")  # fmt: skip
    add.add_argument("--note", default="", metavar="TEXT")
    made["import"].add_argument("file", metavar="FILE.csv")
    made["import"].add_argument("--player", default="", metavar="INITIALS",
                                help="for a file without that column")  # fmt: skip
    add_output(made["report"], "OUT.pdf", "the PDF to write", required=True)
    made["report"].add_argument("--paper", choices=PAPERS, default="a4")
    made["report"].add_argument("--made-at", metavar="TIME", help=argparse.SUPPRESS)
    add_output(made["export"], "OUT.csv", "the table to write", required=True)
    made["delete"].add_argument("--yes", action="store_true", help="do not ask")


def _folders(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--library", action="append", default=[], metavar="FOLDER",
        help="a folder of routine files, with all below it; may be given again (default: here)",
    )  # fmt: skip
    parser.add_argument("--index", metavar="FILE", help="where the index is kept")
