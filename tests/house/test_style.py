"""The code is clean by the house's own tools (their settings are in pyproject.toml)."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    "tool",
    [
        ["ruff", "check", "."],
        ["ruff", "format", "--check", "."],
        ["mypy"],
    ],
    ids=["ruff-check", "ruff-format", "mypy"],
)
def test_clean(tool):
    done = subprocess.run(
        [sys.executable, "-m", *tool], cwd=HOUSE, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
