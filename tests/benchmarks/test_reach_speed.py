"""The waits for reach: the map of a gap, its preview in a drag, advice, and set-up tolerance.

Six balls (advice and tolerance: the demo routines with most to do). Clock and processor time are
both told, in the median and at the 95th percentile: other work on the machine only slows the
clock. Processor time is that of all threads together.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from engine.advice import Wish, advise
from engine.answers import set_up_tolerance
from engine.balls import Ball
from engine.playing import laid_out_of
from engine.reach import preview, reach_map, verdicts
from engine.reach.mapping import PACE_COUNT, TIP_COUNT
from engine.reach.quick import quick_looks
from engine.routine.values import Gap, Routine, Shot
from engine.storage import load_routine
from tests.engine.reach.scenes import random_routine

FOLDER = Path(__file__).resolve().parents[2] / "layouts_demo"
#: Random set-ups of six balls: a pot that is on, and a gap beside one of its lanes.
SEEDS = range(12)
MAP_MS, FRAME_MS, ADVICE_S, TOLERANCE_S = 100.0, 16.0, 5.0, 2.0


def six_balls() -> Routine:
    """Six balls and two gaps that open and close as a red is moved."""
    balls = (
        Ball("cue", "cue", 640.0, 1420.0),
        Ball("blue", "blue", 889.0, 1784.5),
        Ball("red-1", "red", 1180.0, 1250.0),
        Ball("red-2", "red", 1540.0, 900.0),
        Ball("pink", "pink", 889.0, 2676.75),
        Ball("black", "black", 889.0, 3245.0),
    )
    gaps = (
        Gap("between", "ball-ball", ("red-1", "red-2")),
        Gap("beside", "ball-cushion", ("red-2",), cushion="right"),
    )
    return Routine(balls=balls, shots=(Shot("shot-1", "blue", "top-right"),), gaps=gaps)


def demo(start: str) -> Routine:
    return load_routine(next(FOLDER.glob(f"{start}-*.json")))


class Waits:
    """Clock and processor seconds of the runs of some calls."""

    def __init__(self) -> None:
        self.clock: list[float] = []
        self.cpu: list[float] = []

    def timed(self, call: Callable[[], object]) -> Callable[[], object]:
        def run() -> object:
            clock, cpu = time.perf_counter(), time.process_time()
            found = call()
            self.clock.append(time.perf_counter() - clock)
            self.cpu.append(time.process_time() - cpu)
            return found

        return run

    def words(self, unit: str, scale: float) -> str:
        told = []
        for name, values in (("clock", self.clock), ("processor", self.cpu)):
            middle, most = scale * np.percentile(values, [50, 95])
            told.append(f"{name} median {middle:.1f}, p95 {most:.1f} {unit}")
        return "; ".join(told)

    @property
    def on_two_cores(self) -> float:
        """Median seconds on two cores with nothing else to do, at best: half the processor's."""
        return 0.5 * float(np.median(self.cpu))


@pytest.fixture(scope="module")
def told(request: pytest.FixtureRequest) -> Iterator[Callable[[str, str, str], None]]:
    lines: list[tuple[str, str, str]] = []
    yield lambda what, figure, goal: lines.append((what, figure, goal))
    capture = request.config.pluginmanager.getplugin("capturemanager")
    wide = [max(len(line[k]) for line in lines) for k in range(3)]
    with capture.global_and_fixture_disabled():
        load = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"
        print(f"\n\nReach, {os.cpu_count()} cores, load {load}")
        for what, figure, goal in lines:
            print(f"  {what:<{wide[0]}}  {figure:<{wide[1]}}  goal {goal}")


def over(benchmark: Any, calls: list[Callable[[], object]], rounds: int) -> Waits:
    """Each call once to warm up, then all of them in turn for some rounds."""
    waits = Waits()
    for call in calls:
        call()
    turn = iter([waits.timed(call) for _ in range(rounds) for call in calls])
    benchmark.pedantic(lambda: next(turn)(), rounds=rounds * len(calls))
    return waits


def test_a_whole_map(benchmark: Any, told: Any) -> None:
    assert TIP_COUNT >= 41 and PACE_COUNT >= 37
    scene = laid_out_of(six_balls(), "shot-1", ("between",))
    waits = over(benchmark, [lambda: reach_map(scene)], 40)
    told("map of a gap, one set-up", waits.words("ms", 1e3), f"{MAP_MS:g} ms")
    assert 1e3 * waits.on_two_cores < MAP_MS


def test_whole_maps_of_random_set_ups(benchmark: Any, told: Any) -> None:
    scenes = [laid_out_of(random_routine(seed), "s", ("g",)) for seed in SEEDS]
    waits = over(benchmark, [lambda s=scene: reach_map(s) for scene in scenes], 5)
    told("map of a gap, random set-ups", waits.words("ms", 1e3), f"{MAP_MS:g} ms")
    assert 1e3 * waits.on_two_cores < MAP_MS


def test_a_coarse_preview(benchmark: Any, told: Any) -> None:
    scenes = [laid_out_of(random_routine(seed), "s", ("g",)) for seed in SEEDS]
    waits = over(benchmark, [lambda s=scene: preview(s) for scene in scenes], 20)
    told("coarse map", waits.words("ms", 1e3), f"{FRAME_MS:g} ms")
    assert 1e3 * float(np.median(waits.cpu)) < FRAME_MS


def test_a_look_while_dragging(benchmark: Any, told: Any) -> None:
    """The whole of what a drag asks for: scene, coarse map and verdict of every gap."""
    routines = [(six_balls(), "shot-1"), *((random_routine(seed), "s") for seed in SEEDS)]
    calls = [lambda r=routine, s=shot: quick_looks(r, s) for routine, shot in routines]
    waits = over(benchmark, calls, 20)
    told("look at all gaps in a drag", waits.words("ms", 1e3), f"{FRAME_MS:g} ms")
    assert 1e3 * float(np.median(waits.cpu)) < FRAME_MS


def test_a_verdict_with_chances(benchmark: Any, told: Any) -> None:
    waits = over(benchmark, [lambda: verdicts(demo("04"), "pot-blue")], 15)
    told("verdict with chances of players", waits.words("ms", 1e3), "none stated")


@pytest.mark.parametrize("margin", [5.0, 15.0, 60.0])
def test_advice(benchmark: Any, told: Any, margin: float) -> None:
    routine, wish = demo("10"), Wish("pot-red", "reds", 3.0, 6.0, margin, 120.0)
    waits = over(benchmark, [lambda: advise(routine, wish)], 6)
    told(f"advice, 7 balls, {margin:g} mm of room", waits.words("s", 1.0), f"{ADVICE_S:g} s")
    assert float(np.median(waits.cpu)) < ADVICE_S


@pytest.mark.parametrize("start", ["02", "10", "11"])
def test_set_up_tolerance(benchmark: Any, told: Any, start: str) -> None:
    routine = demo(start)
    waits = over(benchmark, [lambda: set_up_tolerance(routine)], 6)
    what = f"set-up tolerance, demo {start}, {len(routine.balls)} balls"
    told(what, waits.words("s", 1.0), f"{TOLERANCE_S:g} s")
    assert waits.on_two_cores < TOLERANCE_S
