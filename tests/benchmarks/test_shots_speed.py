"""The wait for predicted lanes while a ball is dragged: shots to rest, with six balls.

The compiled kernel, the other design in numpy lock-step and scipy's solve_ivp are timed in one
run, and a table of them all with the goals is printed at the end. Rates are the best of several
rounds, as other work on the machine only ever slows them; for the same reason ratios of what runs
on one thread are taken from processor time.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from engine.conditions import Conditions
from engine.shot import Shots, Strike, batch, play, play_many, prepare
from engine.tables import load_table
from tests.benchmarks.fresh_process import copy_of_engine, peak_memory, start_up
from tests.benchmarks.lockstep_design.lockstep import Ends, play_lockstep
from tests.benchmarks.six_balls import RandomShots, random_shots
from tests.engine.shot.reference import reference, strike_state

TABLE, CONDITIONS = load_table("snooker-12ft"), Conditions()
COUNT = 40_000
#: As many shots as one sweep over tip heights and paces for a lane.
SWEEP = 500
SAME_REST_MM = 1e-3
#: Shots played one by one, and how many of them solve_ivp plays too.
SINGLE, BY_SOLVER = 200, 24


class Figures:
    """Lines of the closing table: what, how much, the goal."""

    def __init__(self) -> None:
        self.lines: list[tuple[str, str, str]] = []
        self.seconds_a_shot: dict[str, float] = {}

    def add(self, what: str, figure: str, goal: str = "") -> None:
        self.lines.append((what, figure, goal))

    def rate(self, what: str, clocked: Clocked, count: int, threads: int, goal: str = "") -> None:
        """Note shots a second by the clock, and the processor time each took."""
        best = min(clocked.cpu) if threads == 1 else min(clocked.wall)
        self.seconds_a_shot[what] = best / count
        cpu = 1e6 * min(clocked.cpu) / count
        self.add(what, f"{count / min(clocked.wall):,.0f} shots/s, {cpu:.1f} µs CPU a shot", goal)

    def ratio(self, what: str, slow: str, fast: str, goal: str = "") -> None:
        """Note how many times faster one is than another, if both were timed in this run."""
        if slow in self.seconds_a_shot and fast in self.seconds_a_shot:
            times = self.seconds_a_shot[slow] / self.seconds_a_shot[fast]
            self.add(what, f"{times:,.1f} times", goal)


class Clocked:
    """A call that keeps the wall and processor seconds of each of its runs."""

    def __init__(self, call: Callable[[], object]) -> None:
        self.call = call
        self.wall: list[float] = []
        self.cpu: list[float] = []

    def __call__(self) -> None:
        wall, cpu = time.perf_counter(), time.process_time()
        self.call()
        self.wall.append(time.perf_counter() - wall)
        self.cpu.append(time.process_time() - cpu)


@pytest.fixture(scope="module")
def figures(request: pytest.FixtureRequest) -> Iterator[Figures]:
    found = Figures()
    yield found
    found.ratio("kernel over lock-step, one thread", "lock-step, one thread", "kernel, one thread")
    found.ratio("kernel over lock-step, all cores", "lock-step, all cores", "kernel, all cores")
    found.ratio("kernel over lock-step, one sweep", "lock-step, one sweep", "kernel, one sweep")
    found.ratio("kernel over lock-step, single shot", "lock-step, single", "kernel, single")
    found.ratio("kernel batch over solve_ivp", "solve_ivp", "kernel, all cores", "1,000 times")
    found.ratio("kernel single shot over solve_ivp", "solve_ivp", "kernel, single", "1,000 times")
    wide = [max(len(line[k]) for line in found.lines) for k in range(3)]
    capture = request.config.pluginmanager.getplugin("capturemanager")
    with capture.global_and_fixture_disabled():
        load = f"{os.getloadavg()[1]:.1f}" if hasattr(os, "getloadavg") else "unknown"
        print(f"\n\nShots to rest with six balls, {os.cpu_count()} cores, load {load}")
        for what, figure, goal in found.lines:
            print(f"  {what:<{wide[0]}}  {figure:<{wide[1]}}  {goal and 'goal ' + goal}".rstrip())


@pytest.fixture(scope="module")
def shots() -> RandomShots:
    prepare()
    return random_shots(COUNT)


def by_kernel(shots: RandomShots) -> Shots:
    return play_many(
        TABLE, CONDITIONS, shots.balls, shots.speed_mm_s, shots.direction_rad,
        tip_height=shots.tip_height, side=shots.side, places_mm=shots.places_mm,
    )  # fmt: skip


def by_lockstep(shots: RandomShots, threads: int = 1) -> Ends:
    return play_lockstep(
        TABLE, CONDITIONS, shots.balls, shots.speed_mm_s, shots.direction_rad,
        shots.tip_height, shots.side, shots.places_mm, threads=threads,
    )  # fmt: skip


def timed(benchmark: Any, call: Callable[[], object], rounds: int) -> Clocked:
    clocked = Clocked(call)
    benchmark.pedantic(clocked, rounds=rounds)
    return clocked


@pytest.mark.parametrize(("what", "threads"), [("one thread", 1), ("all cores", os.cpu_count())])
def test_kernel_in_batch(
    benchmark: Any, figures: Figures, shots: RandomShots, monkeypatch: pytest.MonkeyPatch,
    what: str, threads: int,
) -> None:  # fmt: skip
    with ThreadPoolExecutor(threads) as pool:
        monkeypatch.setattr(batch, "threads", lambda: pool)
        played = by_kernel(shots)
        clocked = timed(benchmark, lambda: by_kernel(shots), 7)
    assert not played.cut_short.any()
    if threads == 1:
        figures.add("events a shot", f"{played.events.mean():.1f}")
    goal = "20,000, aim 100,000" if threads > 1 else ""
    figures.rate(f"kernel, {what}", clocked, COUNT, threads, goal)


@pytest.mark.parametrize(("what", "threads"), [("one thread", 1), ("all cores", os.cpu_count())])
def test_lockstep_in_batch(
    benchmark: Any, figures: Figures, shots: RandomShots, what: str, threads: int
) -> None:
    kernel, other = by_kernel(shots), by_lockstep(shots, threads)
    apart = np.abs(kernel.rests_mm - other.rests_mm).max(axis=(1, 2))
    same = (apart < SAME_REST_MM) & (kernel.potted == other.potted).all(axis=1)
    same &= kernel.events == other.events
    assert same.mean() > 0.999
    clocked = timed(benchmark, lambda: by_lockstep(shots, threads), 3)
    if threads == 1:
        share = f"{same.sum():,} of {COUNT:,}, others within {apart[same].max():.0e} mm"
        figures.add("shots alike in kernel and lock-step", share)
    figures.rate(f"lock-step, {what}", clocked, COUNT, threads)


@pytest.mark.parametrize("what", ["kernel", "lock-step"])
def test_one_sweep(benchmark: Any, figures: Figures, shots: RandomShots, what: str) -> None:
    few = shots.first(SWEEP)
    play_them = by_kernel if what == "kernel" else by_lockstep
    clocked = timed(benchmark, lambda: play_them(few), 30 if what == "kernel" else 5)
    figures.seconds_a_shot[f"{what}, one sweep"] = min(clocked.wall) / SWEEP
    figures.add(f"{what}, one sweep of {SWEEP}", f"{1e3 * min(clocked.wall):.1f} ms")


def test_kernel_single_shot(benchmark: Any, figures: Figures, shots: RandomShots) -> None:
    ready = [
        (shots.set_up(k), Strike(shots.speed_mm_s[k], shots.tip_height[k], shots.side[k]),
         shots.direction_rad[k])
        for k in range(SINGLE)
    ]  # fmt: skip
    turn = iter(range(sys.maxsize))

    def one() -> None:
        balls, strike, way = ready[next(turn) % SINGLE]
        play(TABLE, CONDITIONS, balls, strike, way)

    clocked = timed(benchmark, one, 20 * SINGLE)
    wall, cpu = (np.reshape(taken, (20, SINGLE)) for taken in (clocked.wall, clocked.cpu))
    # shot by shot the middle of its rounds, over the shots that solve_ivp plays as well
    figures.seconds_a_shot["kernel, single"] = float(np.median(cpu, axis=0)[:BY_SOLVER].mean())
    figures.add(
        "kernel, single shot", f"median {1e3 * np.median(wall):.3f} ms, "
        f"99 of 100 within {1e3 * np.quantile(wall, 0.99):.3f} ms", "2 ms",
    )  # fmt: skip


def test_lockstep_single_shot(benchmark: Any, figures: Figures) -> None:
    several = [random_shots(1, seed) for seed in range(30)]
    turn = iter(range(sys.maxsize))
    clocked = timed(benchmark, lambda: by_lockstep(several[next(turn) % 30]), 60)
    figures.seconds_a_shot["lock-step, single"] = float(np.median(clocked.cpu))
    figures.add("lock-step, single shot", f"median {1e3 * np.median(clocked.wall):.1f} ms", "2 ms")


def test_solve_ivp(benchmark: Any, figures: Figures, shots: RandomShots) -> None:
    turn = iter(range(sys.maxsize))

    def one() -> None:
        k = next(turn)
        balls = shots.set_up(k)
        struck = strike_state(
            balls[0], CONDITIONS, shots.speed_mm_s[k], shots.tip_height[k], shots.side[k],
            shots.direction_rad[k],
        )  # fmt: skip
        reference(TABLE, CONDITIONS, balls, struck)

    clocked = timed(benchmark, one, BY_SOLVER)
    figures.seconds_a_shot["solve_ivp"] = float(np.mean(clocked.cpu))
    mean, most = np.mean(clocked.cpu), max(clocked.cpu)
    figures.add("solve_ivp, single shot", f"mean {1e3 * mean:.0f} ms CPU, most {1e3 * most:.0f} ms")


def test_start_up(benchmark: Any, figures: Figures, tmp_path: Path) -> None:
    copy = copy_of_engine(tmp_path)
    cold = start_up(copy)
    found: list[dict[str, float]] = []
    benchmark.pedantic(lambda: found.append(start_up(copy)), rounds=4)
    warm = min(found, key=lambda told: told["import_s"] + told["prepare_s"])
    figures.add("first start ever: compiling", f"{cold['prepare_s']:.1f} s")
    figures.add(
        "later starts", f"import {warm['import_s']:.2f} s, "
        f"kernel from its cache {warm['prepare_s']:.2f} s",
    )  # fmt: skip


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="reads /proc")
@pytest.mark.parametrize(("what", "way_length"), [("results", 0), ("results, ways of 12", 12)])
def test_memory(benchmark: Any, figures: Figures, what: str, way_length: int) -> None:
    found: list[dict[str, float]] = []
    benchmark.pedantic(lambda: found.append(peak_memory(100_000, way_length)), rounds=1)
    told = found[0]
    figures.add(
        f"memory for 100,000 shots, {what}",
        f"{told['peak_mb']:.0f} MB, {told['before_mb']:.0f} MB of it before", "1,000 MB",
    )  # fmt: skip
    assert told["peak_mb"] < 1000.0
