"""The engine runs without Qt, reportlab and the designer; drawings and commands without Qt."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent
HOUSE = HERE.parents[1]


def alone(barred: str, modules: str) -> subprocess.CompletedProcess[str]:
    """Import `modules` in a new Python in which `barred` cannot be imported."""
    return subprocess.run(
        [sys.executable, str(HERE / "alone.py"), barred, modules],
        cwd=HOUSE,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize(
    ("barred", "modules"),
    [
        ("PySide6,shiboken6,reportlab,designer", "engine"),
        (
            "PySide6,shiboken6",
            "designer.drawing,designer.handouts,designer.commands,"
            "designer.painters.svg,designer.painters.pdf,designer.fonts",
        ),
        (
            "PySide6,shiboken6,reportlab,numpy,numba,shapely,jsonschema,engine",
            "designer.setup_here,designer.screen,designer.start_here,designer.demo_handouts",
        ),
    ],
    ids=["engine", "qt-free", "before-set-up"],
)
def test_runs_alone(barred, modules):
    done = alone(barred, modules)
    assert done.returncode == 0, done.stderr


def test_the_bar_holds():
    done = alone("PySide6", "engine,PySide6.QtCore")
    assert done.returncode != 0
    assert "PySide6 is barred here" in done.stderr
