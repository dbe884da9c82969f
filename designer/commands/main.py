"""The command line. Without a command it opens the window, with the files named.

Every command loads only what it needs: the window and its library only when it opens, the shot
engine only when something is to be played.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence

from engine.version import VERSION

COMMANDS = ("check", "reach", "diagram", "handout", "place")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; `argv` defaults to the program's arguments."""
    _speak_utf8()
    args = list(sys.argv[1:] if argv is None else argv)
    if args and (args[0] in COMMANDS or args[0].startswith("-")):
        try:
            asked = _parser().parse_args(args)
        except SystemExit as stop:
            return int(stop.code or 0)
        try:
            return _run(asked)
        except BrokenPipeError:
            # whoever read the output has closed it: nothing left to tell
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            return 0
    return open_window(args)


def _run(asked: argparse.Namespace) -> int:
    if asked.command == "check":
        from designer.commands.check import check

        return check(asked.files, asked.json)
    if asked.command == "reach":
        from designer.commands.reach import reach

        return reach(asked.file, asked.json)
    from designer.commands import exports

    if asked.command == "diagram":
        return exports.diagram(asked.file, asked.out)
    if asked.command == "handout":
        return exports.handout(asked.files, asked.out, asked.paper, asked.audience, asked.units)
    return exports.place(asked.file, asked.units)


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
    from designer.app.start import main as window

    return window(list(files))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="baizewright",
        description="Design measured positional routines for snooker. "
        "Without a command: open the designer, with the FILEs named.",
        epilog="Exit codes: 0 all well, 1 a claim of a routine fails, 2 bad input.",
    )
    parser.add_argument("--version", action="version", version=f"Baizewright {VERSION}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)

    check = commands.add_parser("check", help="pots, lanes, clearances, gaps, and every claim")
    check.add_argument("files", nargs="+", metavar="FILE", help="routine files")
    check.add_argument("--json", action="store_true", help="everything as JSON")

    reach = commands.add_parser("reach", help="tip heights and paces that thread each gap")
    reach.add_argument("file", metavar="FILE", help="routine file")
    reach.add_argument("--json", action="store_true", help="as JSON")

    diagram = commands.add_parser("diagram", help="the drawing as a picture file")
    diagram.add_argument("file", metavar="FILE", help="routine file")
    diagram.add_argument("-o", "--out", required=True, metavar="OUT", help=".svg, .png or .pdf")

    handout = commands.add_parser("handout", help="sheets to print, as one PDF")
    handout.add_argument("files", nargs="+", metavar="FILE", help="routine files")
    handout.add_argument("-o", "--out", required=True, metavar="OUT", help="the PDF to write")
    handout.add_argument("--paper", choices=("a4", "letter"), default="a4")
    handout.add_argument(
        "--for", dest="audience", choices=("coach", "player"), default="coach", help="whose sheets"
    )
    handout.add_argument("--units", choices=("mm", "inch"), default="mm")

    place = commands.add_parser("place", help="the placement of every ball, to measure out")
    place.add_argument("file", metavar="FILE", help="routine file")
    place.add_argument("--units", choices=("mm", "inch"), default="mm")
    return parser


def _speak_utf8() -> None:
    """Degree signs and dashes must not stop a report on a console of another encoding."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None and (stream.encoding or "").lower() not in ("utf-8", "utf8"):
            reconfigure(errors="replace")


if __name__ == "__main__":
    sys.exit(main())
