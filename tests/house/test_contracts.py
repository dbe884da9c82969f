"""The map of the house holds, and the check of it can fail."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

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


@pytest.mark.parametrize(
    ("module", "line", "contract"),
    [
        ("engine/balls.py", "import PySide6.QtCore", "The engine knows no window"),
        ("engine/routine/values.py", "import engine.answers", "Inside the engine"),
        ("designer/setup_here/stamp.py", "import numpy", "What runs before set-up"),
        ("designer/drawing/model.py", "import PySide6.QtGui", "Drawings, sheets and commands"),
        ("engine/shot/play.py", "import numba", "Only what compiles the shot engine"),
    ],
)
def test_contracts_bite(tmp_path, module, line, contract):
    for package in ("engine", "designer"):
        shutil.copytree(
            HOUSE / package,
            tmp_path / package,
            ignore=lambda _, names: [n for n in names if not _source(n)],
        )
    shutil.copy(HOUSE / ".importlinter", tmp_path)
    with (tmp_path / module).open("a", encoding="utf-8") as file:
        file.write(f"\n{line}\n")
    done = lint(tmp_path)
    assert done.returncode == 1, done.stdout + done.stderr
    broken = [row for row in done.stdout.splitlines() if " BROKEN" in row]
    assert any(row.startswith(contract) for row in broken), done.stdout


def _source(name: str) -> bool:
    """Say whether a name in the house is a module or a folder (which holds no dot)."""
    return name.endswith(".py") or ("." not in name and name != "__pycache__")
