"""What `python3 -m designer` does once every package is there.

With arguments it is the command line. Without: the window where a screen is, else the demo
routines, checked and written out as handouts. The window and the commands are loaded only
when asked for, so that neither waits for the other.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

from designer.screen import find_screen, missing_libraries, packages_of
from designer.screen.libraries import Way
from designer.setup_here import SetUpError, system_packages

PICTURE = "--picture"
"""Hidden: open the window, paint it, save its picture in the named file, and close."""


def start(args: Sequence[str]) -> int:
    """Run the command line, the window or the demo handouts; return the exit code."""
    if args and args[0] != PICTURE:
        from designer.commands.main import main as commands

        return commands(list(args))
    screen = find_screen()
    if not (screen.present or args):
        print(f"No screen here ({screen.reason}), so no window.")
        return _demo()
    if not screen.present:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    missing = provide_libraries(screen.way if screen.present else "offscreen")
    if missing:
        return _without_libraries(missing, offer_demo=not args)
    from designer.app.start import main as window

    return window(list(args))


def provide_libraries(way: Way) -> tuple[str, ...]:
    """Return the system libraries Qt misses, after installing them where that can be done.

    It can as root on Debian and its kin; the installation says what it does.
    """
    missing = missing_libraries(way)
    if missing and system_packages.may_install():
        why = f"This system lacks libraries that windows need: {', '.join(missing)}."
        try:
            system_packages.install(packages_of(missing), why)
        except SetUpError as fault:
            print(fault, file=sys.stderr)
        missing = missing_libraries(way)
    return missing


def missing_text(missing: Sequence[str]) -> str:
    """Return the message for a window that misses system libraries."""
    return (
        f"The window cannot open: this system lacks {len(missing)} of the libraries it needs\n  "
        + ", ".join(missing)
        + "\n"
        + system_packages.advice(packages_of(missing))
    )


def _without_libraries(missing: Sequence[str], *, offer_demo: bool) -> int:
    """Say what is missing, do what needs no window, and say it again at the end."""
    print(missing_text(missing), file=sys.stderr, flush=True)
    if offer_demo:
        print("\nMeanwhile, what needs no window:", flush=True)
        _demo()
        print(f"\n{missing_text(missing)}", file=sys.stderr)
    return 2


def _demo() -> int:
    from designer.demo_handouts import check_and_write

    return check_and_write()
