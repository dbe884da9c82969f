"""After set-up nothing is compiled any more: not by any command, and not by the window.

Each part runs in a process of its own in which the compiler cannot be imported, and leaves the
files of machine code as they were.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest

import engine
from engine.compiled import prepare
from tests.shares import FULL

ROOT = Path(engine.__file__).resolve().parents[1]
KEPT = (ROOT / "engine" / "compiled" / "__pycache__", Path.home() / ".cache" / "baizewright")

_COMMANDS = """
import sys
sys.modules["numba"] = None
from designer.commands.main import main
out, demo, other, photo, *full = sys.argv[1:]
with open(out + "/o.csv", "w", encoding="utf-8") as csv:
    csv.write("kind,distance_mm,time_s\\nroll,1500,4.9\\nroll,1500,4.8\\n")
for words in (
    ["check", demo, "--tolerance"], ["check", demo, "--bands", "--json"],
    ["reach", demo], ["reach", demo, "--advise", "beyond", "--margin", "1"],
    ["diagram", demo, "-o", out + "/d.png"], ["handout", demo, "-o", out + "/h.pdf"],
    ["move", demo, "--to", "pool-9ft"], ["calibrate", out + "/o.csv"],
    *([["library", "step", other, "--gap", "left-stretch", "--by", "gap", "--harder", "12",
        "-o", out + "/step.json"]] if full else []),
    ["library", "index", "--library", out, "--index", out + "/i", "--reach"],
    ["plan", "new", demo, other, "-o", out + "/p.json"], ["plan", "order", out + "/p.json"],
    ["photo", "read", photo, "-o", out + "/r.json"],
    ["photo", "draw", photo, demo, "-o", out + "/w.png"],
):
    code = main(words)
    assert code in (0, 1), (words, code)
"""

_WINDOW = """
import sys
sys.modules["numba"] = None
from pathlib import Path
from designer.window.application import Application
from designer.window.start import application
from designer.open_routine import Settings
from engine.storage import load_routine
app = application()
desk = Application(Settings(Path(sys.argv[1]) / "settings.ini"))
window = desk.open_window(Path(sys.argv[2]))
session = window.session

def until(state):
    while not state():
        app.processEvents()

until(lambda: session.predictions.is_ready)
ball, gap = session.routine.balls[1], session.routine.gaps[0].id
for step in range(5):
    session.balls.drag(ball.id, (ball.x_mm + 2.0 * step, ball.y_mm))
    window.canvas.grab()
until(lambda: session.reach.verdict_of(gap) is not None and session.answer_is_full)
session.comparison.show({"sliding_friction": 0.15}, "slower")
assert session.comparison.shot_answer() is not None
window.canvas.grab()
session.point_at_lane(session.routine.shots[0].lanes[0].label)
assert session.player.open()
window.canvas.grab()
import os
os._exit(0)
"""


def kept() -> set[tuple[str, int, int]]:
    """The files of machine code: name, when written, and size."""
    return {
        (str(one), one.stat().st_mtime_ns, one.stat().st_size)
        for folder in KEPT for one in folder.glob("kernel-*")
    }  # fmt: skip


def run_without_the_compiler(script: str, *words: str) -> None:
    prepare()
    before = kept()
    assert before
    done = subprocess.run(
        [sys.executable, "-c", script, *words], cwd=ROOT, capture_output=True, text=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "compiling" not in done.stderr
    assert kept() == before


def demo(number: int) -> str:
    return str(next((ROOT / "layouts_demo").glob(f"{number:02d}-*.json")))


@pytest.mark.slow
def test_no_command_compiles(tmp_path):
    photo = str(ROOT / "layouts_demo" / "photograph" / "table.photo.json")
    # A step made harder plays the same code as the advice, for longer.
    full = ["all"] if FULL else []
    run_without_the_compiler(_COMMANDS, str(tmp_path), demo(7), demo(1), photo, *full)


@pytest.mark.slow
def test_the_window_does_not_compile(tmp_path):
    run_without_the_compiler(_WINDOW, str(tmp_path), demo(7))
