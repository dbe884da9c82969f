"""Time of a cushion impact and shots a second, beside an earlier state of the sources.

BAIZEWRIGHT_BEFORE names a folder with that state; without it only these sources are timed. Each is
timed by processes of its own, by turns, and the least processor time counts.
"""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

import engine
from tests.benchmarks.fresh_process import run_in
from tests.engine.motion.played_impacts import played

ROUNDS = 5
HERE = Path(engine.__file__).resolve().parents[1]
BEFORE = os.environ.get("BAIZEWRIGHT_BEFORE")

_SHOTS = """
import json, time
from concurrent.futures import ThreadPoolExecutor
from engine.conditions import Conditions
from engine.shot import batch, play_many, prepare
from engine.tables import load_table
from tests.benchmarks.six_balls import random_shots
prepare()
pool = ThreadPoolExecutor(1)
batch.threads = lambda: pool
table, shots, taken = load_table("snooker-12ft"), random_shots(10_000), []
for _ in range(4):
    began = time.process_time()
    play_many(table, Conditions(), shots.balls, shots.speed_mm_s, shots.direction_rad,
              tip_height=shots.tip_height, side=shots.side, places_mm=shots.places_mm)
    taken.append(time.process_time() - began)
print(json.dumps({"us": 100.0 * min(taken)}))
"""

_IMPACTS = """
import json, sys, time
import numpy as np
from numba import njit
from numba.extending import register_jitable
import engine.motion.cushion as cushion
from engine.compiled.functions import INLINED
for part in INLINED:
    if part.__module__.startswith("engine.motion."):
        register_jitable(error_model="numpy")(part)
impact = cushion.cushion_impact
@njit(error_model="numpy")
def run(b, out):
    for k in range(len(b)):
        out[k] = impact(b[k, 0], b[k, 1], b[k, 2], b[k, 3], b[k, 4], b[k, 5], b[k, 6],
                        26.25, 0.98, 0.14, 1.4, 0.21)[1]
before, taken = np.array(json.loads(sys.argv[1])), []
out = np.empty(len(before))
run(before, out)
for _ in range(20):
    began = time.process_time()
    for _ in range(10):
        run(before, out)
    taken.append(time.process_time() - began)
print(json.dumps({"us": 1e5 * min(taken) / len(before)}))
"""


@pytest.mark.parametrize("what", ["an impact as played", "a shot of six balls"])
def test_time_of(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    script, given = _SHOTS, []
    if what == "an impact as played":
        script = _IMPACTS
        given = [json.dumps([(*one.velocity, *one.spin, *one.into) for one in played(1000)])]
    folders = {"now": HERE} | ({"before": Path(BEFORE)} if BEFORE else {})
    least = dict.fromkeys(folders, float("inf"))
    for _ in range(ROUNDS):
        for name, folder in folders.items():
            least[name] = min(least[name], run_in(script, folder, *given)["us"])
    told = ", ".join(f"{name} {microseconds:.2f} µs" for name, microseconds in least.items())
    ratio = f": {least['before'] / least['now']:.2f} times as fast" if BEFORE else ""
    with capsys.disabled():
        print(f"\n{what}, one thread: {told}{ratio}")
