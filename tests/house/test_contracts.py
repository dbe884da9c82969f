"""The map of the house holds, and the check of it can fail."""

from __future__ import annotations

import shutil
import subprocess
import sys
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import grimp
import pytest

HOUSE = Path(__file__).resolve().parents[2]
LINT = "from importlinter.cli import lint_imports; raise SystemExit(lint_imports(no_cache=True))"


def lint(folder: Path) -> subprocess.CompletedProcess[str]:
    """Run the import contracts on the packages in `folder`."""
    return subprocess.run(
        [sys.executable, "-c", LINT], cwd=folder, capture_output=True, text=True, check=False
    )


def test_contracts_hold():
    done = lint(HOUSE)
    assert done.returncode == 0, done.stdout + done.stderr


def test_no_module_of_the_designer_rests_on_itself_by_way_of_others():
    """Not even for its types: `TopologicalSorter` (standard library) refuses a circle."""
    graph = grimp.build_graph("designer")
    arrows = {one: graph.find_modules_directly_imported_by(one) for one in graph.modules}
    assert sum(len(found) for found in arrows.values()) > 1000
    TopologicalSorter(arrows).prepare()
    arrows["designer.open_routine.editing"].add("designer.open_routine.open_routine")
    with pytest.raises(CycleError):
        TopologicalSorter(arrows).prepare()


#: A line that breaks each contract, and the module it is put into.
BREACHES = (
    ("engine/balls.py", "import PySide6.QtCore", "The engine knows no window"),
    ("engine/routine/values.py", "import engine.answers", "Inside the engine"),
    ("designer/drawing/model.py", "import designer.window", "Inside the designer"),
    ("designer/setup_here/stamp.py", "import numpy", "What runs before set-up"),
    ("designer/drawing/model.py", "import PySide6.QtGui", "Drawings, sheets and commands"),
    ("engine/shot/play.py", "import numba", "Only what compiles the shot engine"),
)


def test_contracts_bite(tmp_path):
    """All broken at once in a copy: each contract says so."""
    for package in ("engine", "designer"):
        shutil.copytree(
            HOUSE / package,
            tmp_path / package,
            ignore=lambda _, names: [n for n in names if not _source(n)],
        )
    shutil.copy(HOUSE / ".importlinter", tmp_path)
    for module, line, _ in BREACHES:
        with (tmp_path / module).open("a", encoding="utf-8") as file:
            file.write(f"\n{line}\n")
    done = lint(tmp_path)
    assert done.returncode == 1, done.stdout + done.stderr
    broken = [row for row in done.stdout.splitlines() if " BROKEN" in row]
    missed = [name for *_, name in BREACHES if not any(row.startswith(name) for row in broken)]
    assert not missed, done.stdout


def _source(name: str) -> bool:
    """Say whether a name in the house is a module or a folder (which holds no dot)."""
    return name.endswith(".py") or ("." not in name and name != "__pycache__")
