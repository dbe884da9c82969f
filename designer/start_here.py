"""What `python3 -m designer` does once every package is there.

With arguments it is the command line. Without: the window where a screen is, else the demo
routines, checked and written out as handouts. The window and the commands are loaded only
when asked for, so that neither waits for the other.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

PICTURE = "--picture"
"""Hidden: open the window, paint it, save its picture in the named file, and close."""


def start(args: Sequence[str]) -> int:
    """Run the command line, the window or the demo handouts; return the exit code."""
    if args and args[0] != PICTURE:
        from designer.commands.main import main as commands

        return commands(list(args))
    from designer.screen import find_screen, missing_text, provide_libraries

    screen = find_screen()
    if not (screen.present or args):
        print(f"No screen here ({screen.reason}), so no window.", flush=True)
        return _demo()
    if not screen.present:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    missing = provide_libraries(screen.way if screen.present else "offscreen")
    if missing:
        return _without_libraries(missing_text(missing), offer_demo=not args)
    from designer.window.start import main as window

    return window(list(args))


def _without_libraries(message: str, *, offer_demo: bool) -> int:
    """Say what is missing, do what needs no window, and say it again at the end."""
    print(message, file=sys.stderr, flush=True)
    if offer_demo:
        print("\nMeanwhile, what needs no window:", flush=True)
        _demo()
        print(f"\nThe window did not open. {message}", file=sys.stderr)
    return 2


def _demo() -> int:
    from designer.demo_handouts import check_and_write

    return check_and_write()
