"""The command line. Without a command it opens the window, with the files named.

A command loads what it uses and no more: the options of other commands, the shot engine, the
window and its libraries are imported inside the functions that need them
(`tests/house/test_lean_imports.py` says what each command must not load).
"""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Sequence
from functools import cache
from importlib import import_module
from itertools import takewhile

from designer.places import settle_home
from engine.errors import BaizewrightError, printable, unwritable
from engine.version import VERSION

#: Every command, and the module whose `add_COMMAND` makes its parser.
OPTIONS = {
    "check": "reach_options",
    "reach": "reach_options",
    "diagram": "export_options",
    "handout": "export_options",
    "place": "export_options",
    "table": "table_options",
    "move": "table_options",
    "calibrate": "table_options",
    "photo": "photo_options",
    "library": "lesson_options",
    "plan": "lesson_options",
    "record": "lesson_options",
}
COMMANDS = tuple(OPTIONS)
#: What names files and folders in the arguments; all else is words.
FILES = frozenset(
    ("file", "files", "out", "table", "to", "onto", "conditions", "players", "picture", "marks",
     "library", "index", "plan", "records")
)  # fmt: skip


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; `argv` defaults to the program's arguments."""
    _speak_utf8()
    with contextlib.suppress(BaizewrightError):
        settle_home()  # what needs the home folder says so when there is none
    args = list(sys.argv[1:] if argv is None else argv)
    if args and (args[0] in COMMANDS or args[0].startswith("-")):
        from designer.commands.ending import ended

        return ended(lambda: _asked(args))
    return open_window(args)


def _asked(args: Sequence[str]) -> int:
    try:
        asked = understood(args)
    except SystemExit as stop:
        return int(stop.code or 0)
    if hasattr(asked, "files"):
        asked.files = without_wildcards(asked.files)
    return _run(asked)


def understood(args: Sequence[str]) -> argparse.Namespace:
    """What the arguments ask for; `SystemExit` after a message when they cannot be meant.

    Words that are no UTF-8 cannot be kept in a file or drawn; names of files may be any.
    """
    mine = parser(args[0] if args else "")
    for word in takewhile(lambda word: word != "--", args):
        if word.startswith("-") and word[1:].strip("-") and word.endswith("--"):
            # argparse before Python 3.13 makes an empty list of such a value
            mine.error(f'"{printable(word)}" ends in --, which is no value')
    asked = mine.parse_args(args)
    for name, value in vars(asked).items():
        for word in value if isinstance(value, list | tuple) else (value,):
            if not isinstance(word, str):
                continue
            if name in FILES and "\0" in word:
                mine.error(f'"{printable(word)}" has a letter that no name of a file can have')
            if name not in FILES and unwritable(word):
                mine.error(f'"{printable(word)}" is not UTF-8 text; type it anew')
    return asked


def without_wildcards(files: Sequence[str]) -> list[str]:
    """Files with the patterns among them written out, in order: Windows leaves that to programs.

    A pattern that fits nothing stays, to be told as a file that is not there.
    """
    from glob import glob

    found: list[str] = []
    for file in files:
        there = "\0" in file or os.path.exists(file)
        fitting = [] if there else sorted(glob(file))
        found += fitting or [file]
    return found


def _run(asked: argparse.Namespace) -> int:
    if asked.command == "check":
        from designer.commands.check import check

        return check(asked.files, asked.json, asked.tolerance, asked.bands)
    if asked.command == "reach":
        from designer.commands.reach import run

        return run(asked)
    if asked.command in ("table", "move", "calibrate"):
        return _run_of_tables(asked)
    if asked.command == "photo":
        from designer.commands import photo_options

        return photo_options.run(asked)
    if asked.command in ("library", "plan", "record"):
        return _run_of_lessons(asked)
    from designer.commands import export_options, exports

    if asked.command == "diagram":
        return exports.diagram(
            asked.file, asked.out, export_options.diagram_wish(asked), asked.replace
        )
    if asked.command == "handout":
        return exports.handout(
            asked.files, asked.out, export_options.handout_wish(asked), asked.replace
        )
    return exports.place(asked.file, asked.units)


def _run_of_tables(asked: argparse.Namespace) -> int:
    if asked.command == "table":
        from designer.commands.own_table import table

        return table(asked.table, asked.out, asked.replace)
    if asked.command == "move":
        from designer.commands.move import move

        return move(asked.file, asked.to, asked.by, asked.conditions, asked.out, asked.replace)
    from designer.commands import calibrate

    if asked.form:
        return calibrate.form(asked.table, asked.out, asked.paper, asked.replace)
    return calibrate.calibrate(
        asked.file,
        asked.table,
        asked.out,
        asked.start,
        asked.precision,
        asked.replace,
        asked.by_speed,
    )


def _run_of_lessons(asked: argparse.Namespace) -> int:
    if asked.command == "library":
        from designer.commands import library

        return library.run(asked)
    if asked.command == "plan":
        from designer.commands import plan

        return plan.run(asked)
    from designer.commands import record

    return record.run(asked)


def open_window(files: Sequence[str]) -> int:
    """Open the designer with the files named; 2 with a message where no window can be."""
    from designer.screen import find_screen, missing_libraries, packages_of

    screen = find_screen()
    offscreen = os.environ.get("QT_QPA_PLATFORM", "") in ("offscreen", "minimal")
    if not (screen.present or offscreen):
        print(
            f"No window can open here: {screen.reason}. "
            f"The commands {', '.join(COMMANDS)} work without one; see --help.",
            file=sys.stderr,
        )
        return 2
    missing = missing_libraries("offscreen" if offscreen else screen.way)
    if missing:
        from designer.setup_here import system_packages

        print(
            f"The window cannot open: this system lacks {', '.join(missing)}.\n"
            + system_packages.advice(packages_of(missing)),
            file=sys.stderr,
        )
        return 2
    from designer.window.start import main as window

    return window(list(files))


@cache
def parser(first: str = "") -> argparse.ArgumentParser:
    """The parser for arguments that begin with `first`: that command's alone, or of all."""
    found = argparse.ArgumentParser(
        prog="baizewright",
        description="Design measured positional routines for snooker. "
        "Without a command: open the designer, with the FILEs named.",
        epilog="Exit codes: 0 all well, 1 a claim of a routine fails, 2 bad input.",
    )
    found.add_argument("--version", action="version", version=f"Baizewright {VERSION}")
    commands = found.add_subparsers(dest="command", metavar="COMMAND", required=True)
    alone = (first,) if first in OPTIONS else ()
    for command in () if first == "--version" else alone or COMMANDS:
        options = import_module(f"designer.commands.{OPTIONS[command]}")
        getattr(options, f"add_{command}")(commands)
    return found


def _speak_utf8() -> None:
    """No letter must stop a report: neither on a console of another encoding, nor in a name."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            utf8 = (stream.encoding or "").lower() in ("utf-8", "utf8")
            reconfigure(errors="backslashreplace" if utf8 else "replace")


if __name__ == "__main__":
    sys.exit(main())
