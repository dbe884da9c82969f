"""What the first window must not wait for is loaded later, when it is first used."""

import os
import subprocess
import sys

import pytest

HEAVY = ("numba", "scipy", "shapely", "jsonschema", "engine.shot", "engine.advice")
_OPEN = """
import sys
from pathlib import Path
from designer.window.application import Application
from designer.window.start import application
from designer.open_routine import Settings
app = application()
window = Application(Settings(Path(sys.argv[1]) / "settings.ini")).open_window()
window.canvas.grab()
print("loaded:", *[name for name in sys.argv[2:] if name in sys.modules])
"""


@pytest.mark.slow
def test_the_first_frame_needs_no_engine(tmp_path):
    done = subprocess.run(
        [sys.executable, "-c", _OPEN, str(tmp_path), *HEAVY, "designer.window.main_window"],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"}, capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["loaded:", "designer.window.main_window"]
