"""The main job without a window: check every demo routine and write its handout as a PDF."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

DEMOS = Path(__file__).resolve().parents[1] / "layouts_demo"


def check_and_write(demos: Path = DEMOS, commands: Callable[[list[str]], int] | None = None) -> int:
    """Check all routines in `demos` and write their handouts into `demos`/handouts.

    `commands` is the command line: it takes arguments and returns an exit code (the
    project's own when left out). Returns 0 when every claim holds and every handout is
    written, else the worst exit code met.
    """
    run = commands or _command_line()
    routines = sorted(demos.glob("*.json"))
    if not routines:
        print(
            f"There are no demo routines in {demos}.\n"
            "Run this from the project folder, or name files: python3 -m designer check FILE",
            file=sys.stderr,
        )
        return 2
    print(f"Checking {len(routines)} demo routines.\n", flush=True)
    worst = run(["check", *map(str, routines)])
    folder = demos / "handouts"
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        print(f"The folder for the handouts could not be made: {error}", file=sys.stderr)
        return 2
    written = 0
    for routine in routines:
        code = run(["handout", str(routine), "-o", str(folder / f"{routine.stem}.pdf")])
        worst = max(worst, code)
        written += code == 0
    print(f"\n{written} of {len(routines)} handouts are in {folder}")
    if worst:
        print("Not all went well: see the lines above.", file=sys.stderr)
    return worst


def _command_line() -> Callable[[list[str]], int]:
    from designer.commands.main import main

    return main
