"""A command loads what it uses: what each must not load, asked of a process of its own.

The packages named here take from tenths of a second to seconds to load, so that one import at the
top of a module, far from any command, can double the wait of all of them. By name, not by time:
a busy machine changes nothing.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from designer.setup_here.ready import HANDED_OVER

HOUSE = Path(__file__).resolve().parents[2]
DEMO = str(HOUSE / "layouts_demo" / "04-left-right-or-between.json")
PICTURE = str(HOUSE / "layouts_demo" / "photograph" / "table.jpg")

WINDOW = ("PySide6", "shiboken6")
SHEETS = ("reportlab", "PIL")
PHOTOGRAPHS = ("cv2",)
SHOTS = ("numba", "llvmlite", "shapely", "concurrent.futures")
FITS = ("scipy",)
ARRAYS = ("numpy",)
FILES = ("jsonschema",)
#: Of the standard library: slow to load, and easily drawn in by another part of it.
SLOW = ("urllib.request", "email", "ssl", "multiprocessing", "unittest", "xml", "lxml")
SET_UP = ("subprocess", "tomllib", "importlib.metadata", "ctypes", "designer.screen")
#: What no command may load that plays shots: the compiler is for set-up.
PLAYED = (*WINDOW, *PHOTOGRAPHS, *FITS, "numba")
NOTHING_PLAYED = (*WINDOW, *PHOTOGRAPHS, *SHOTS, *FITS)
ALL = (*NOTHING_PLAYED, *SHEETS, *ARRAYS, *FILES, *SLOW)

LEAN = {
    "--version": (*ALL, *SET_UP, "engine.storage", "engine.routine.values"),
    "--help": ALL,
    "check --help": ALL,
    f"place {DEMO}": (*NOTHING_PLAYED, *SHEETS, *ARRAYS, *SLOW),
    "table snooker-12ft": ALL,
    "calibrate --form -o form.csv": ALL,
    f"check {DEMO}": (*PLAYED, *SHEETS, *SLOW),
    f"reach {DEMO}": (*PLAYED, *SHEETS, *SLOW),
    f"diagram {DEMO} --only table,balls -o drawn.svg": (*NOTHING_PLAYED, *SLOW),
    f"diagram {DEMO} -o drawn.svg": (*PLAYED, *SLOW),
    f"handout {DEMO} -o sheets.pdf": (*PLAYED, *SLOW),
    f"photo begin {PICTURE} -o marks.json": (*NOTHING_PLAYED, "reportlab", *SLOW),
    f"plan new {DEMO} -o plan.json": (*NOTHING_PLAYED, *SHEETS, *SLOW),
    "library find black --library . --index index": (*NOTHING_PLAYED, *SHEETS, *SLOW),
    "record players --records records": (*ALL,),
}

_BEGIN = """
import sys
before = set(sys.modules)
"""
_END = """
sys.stdout.flush()
print("\\nLOADED", code, *(set(sys.modules) - before))
"""
AS_COMMAND = f"""{_BEGIN}
from designer.commands.main import main
code = main(sys.argv[1:])
{_END}"""
#: As `python -m designer` goes on in the Python that has every package.
AS_MODULE = f"""{_BEGIN}
from designer.__main__ import main
code = main()
{_END}"""


def loaded(arguments: str, folder: Path, run: str = AS_COMMAND) -> set[str]:
    """Every module a process of its own has loaded once the command has ended well."""
    # what measures the tests' own coverage would load some of the modules asked for
    kept = {name: value for name, value in os.environ.items() if not name.startswith("COV")}
    done = subprocess.run(
        [sys.executable, "-c", run, *arguments.split()],
        cwd=folder, capture_output=True, text=True, check=False,
        env={**kept, "PYTHONPATH": str(HOUSE), HANDED_OVER: str(HOUSE / ".venv")},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    code, *names = done.stdout.rpartition("\nLOADED ")[2].split()
    assert code == "0", done.stdout + done.stderr
    return set(names)


def too_much(
    arguments: str, folder: Path, barred: tuple[str, ...], run: str = AS_COMMAND
) -> list[str]:
    """Which of the barred modules a command loads."""
    return sorted(set(barred) & loaded(arguments, folder, run))


@pytest.mark.parametrize("arguments", LEAN, ids=lambda text: " ".join(text.split()[:2])[:30])
def test_a_command_loads_what_it_uses(arguments, tmp_path):
    assert not too_much(arguments, tmp_path, LEAN[arguments])


def test_so_does_the_main_command(tmp_path):
    assert not too_much("--version", tmp_path, LEAN["--version"], AS_MODULE)


@pytest.mark.parametrize("name", ["numpy", "shapely", "urllib.request"])
def test_a_stray_import_is_found(name, tmp_path):
    stray = AS_COMMAND.replace("code =", f"import {name}\ncode =")
    assert name in too_much("--version", tmp_path, LEAN["--version"], stray)


def test_what_a_command_needs_is_seen_too(tmp_path):
    assert {"engine.placement", "engine.storage"} <= loaded(f"place {DEMO}", tmp_path)
    assert {"numpy", "shapely"} <= loaded(f"check {DEMO}", tmp_path)
