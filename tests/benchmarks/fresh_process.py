"""What only a process of its own can tell: start-up with and without a cache, peak memory."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import engine

_ROOT = Path(engine.__file__).resolve().parents[1]

_START = """
import time
zero = time.perf_counter()
from engine.shot import prepare
imported = time.perf_counter()
prepare()
ready = time.perf_counter()
import engine, json
print(json.dumps({"import_s": imported - zero, "prepare_s": ready - imported,
                  "from": engine.__file__}))
"""

_MEMORY = """
import json, sys
import numpy as np
from engine.conditions import Conditions
from engine.shot import play_many, prepare
from engine.tables import load_table
from tests.benchmarks.six_balls import random_shots

def peak_mb():
    for line in open("/proc/self/status"):
        if line.startswith("VmHWM"):
            return int(line.split()[1]) / 1024.0

count, way_length = int(sys.argv[1]), int(sys.argv[2])
prepare()
one = random_shots(1000)
times = count // 1000
tiled = [np.tile(a, times) for a in (one.speed_mm_s, one.direction_rad, one.tip_height, one.side)]
places = np.tile(one.places_mm, (times, 1, 1))
before = peak_mb()
shots = play_many(load_table("snooker-12ft"), Conditions(), one.balls, *tiled[:2],
                  tip_height=tiled[2], side=tiled[3], places_mm=places, way_length=way_length)
print(json.dumps({"shots": len(shots.rests_mm), "before_mb": before, "peak_mb": peak_mb()}))
"""


def run_in(script: str, folder: Path, *arguments: str) -> dict[str, float]:
    """What a script prints last, as JSON, run in a fresh process with the sources of `folder`."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONPATH"}
    done = subprocess.run(
        [sys.executable, "-c", script, *arguments],
        cwd=folder, env=environment, check=True, capture_output=True, text=True,
    )  # fmt: skip
    told: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return told


def copy_of_engine(folder: Path) -> Path:
    """The engine's sources alone, without any compiled file, in a new folder under `folder`."""
    copy = folder / "copy"
    shutil.copytree(_ROOT / "engine", copy / "engine", ignore=shutil.ignore_patterns("__pycache__"))
    return copy


def start_up(folder: Path) -> dict[str, float]:
    """Seconds a fresh process takes to import the engine in `folder` and to get it ready."""
    told = run_in(_START, folder)
    assert Path(str(told["from"])).is_relative_to(folder.resolve())
    return told


def peak_memory(count: int, way_length: int) -> dict[str, float]:
    """Peak memory, MB, of a process that plays `count` shots, and before it does."""
    return run_in(_MEMORY, _ROOT, str(count), str(way_length))
