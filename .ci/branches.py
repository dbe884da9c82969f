"""Measure which branches of the engine its tests take, the compiled functions among them.

    .venv/bin/python .ci/branches.py [--least 95]

Compiled functions cannot be watched, so the parts that are compiled are measured by tests that are
quick enough as plain Python (NUMBA_DISABLE_JIT=1), the rest by the tests as they always run, which
here is where Qt, reportlab and the designer cannot be imported; both are put together. Tests marked
slow are left out but for those in `SLOW` and `SLOW_AS_PLAIN`: they prove the same branches at
length, and counting makes them slower. The report is written to build/coverage.txt. The exit code
is 1 for too few branches or a test that failed.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from pathlib import Path

HOUSE = Path(__file__).resolve().parent.parent
OUT = HOUSE / "build"
#: What runs as plain Python within a minute or two: no refined maps, no thousands of shots.
AS_PLAIN = (
    "tests/engine/motion",
    "tests/engine/shot/test_trade_facts.py",
    "tests/engine/shot/test_touching_balls.py",
    "tests/engine/shot/test_straight_jaws.py",
    "tests/engine/shot/test_side_and_nap.py",
    "tests/engine/shot/test_small_steps.py",
    "tests/engine/shot/test_table_lengths.py",
    "tests/engine/lanes",
    "tests/engine/reach/test_judged_ways.py",
    "tests/engine/reach/test_small_reach.py",
)
#: Slow tests of what is compiled that take branches no other does, within seconds as plain Python.
SLOW_AS_PLAIN = ("tests/engine/motion/test_cushion.py",)
#: Slow tests that take branches no other does.
SLOW = (
    "tests/engine/plans",
    "tests/engine/answers/test_answers_claims.py",
    "tests/engine/answers/test_set_up_tolerance.py",
    "tests/engine/judging",
)

_PLAIN = {"NUMBA_DISABLE_JIT": "1"}
#: What is run at the same time, by name: tests, which of them by their mark, and surroundings.
RUNS: dict[str, tuple[tuple[str, ...], str, dict[str, str]]] = {
    "usual": (("engine", "tests/engine", "--doctest-modules"), "not slow", {}),
    "slow": (SLOW, "slow", {}),
    "plain": (AS_PLAIN, "not slow", _PLAIN),
    "dear": (SLOW_AS_PLAIN, "slow", _PLAIN),
}


def begun(name: str, tests: tuple[str, ...], marked: str, **env: str) -> subprocess.Popen[bytes]:
    """Start tests that keep what they took."""
    return subprocess.Popen(
        [
            sys.executable, "-m", "coverage", "run", "--branch", "--source=engine",
            f"--data-file={OUT / f'.coverage.{name}'}", "tests/house/alone.py",
            "PySide6,shiboken6,reportlab,designer", "engine", "-q", "-m", marked, *tests,
        ],
        cwd=HOUSE,
        env={**os.environ, **env},
    )  # fmt: skip


def main() -> int:
    """Measure, put together, report; 1 when it is less than wanted."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--least", type=float, default=95.0)
    parser.add_argument("--again", action="store_true", help="report what was measured before")
    asked = parser.parse_args()
    OUT.mkdir(exist_ok=True)
    if not asked.again:
        running = {
            name: begun(name, tests, marked, **env) for name, (tests, marked, env) in RUNS.items()
        }
        for name, run in running.items():
            print(f"{name}: tests ended with {run.wait()}", flush=True)
        if any(run.returncode for run in running.values()):
            return 1
    coverage = [sys.executable, "-m", "coverage"]
    data = [str(OUT / f".coverage.{name}") for name in RUNS]
    whole = f"--data-file={OUT / '.coverage'}"
    subprocess.run([*coverage, "combine", "--keep", whole, *data], cwd=HOUSE, check=True)
    told = subprocess.run(
        [*coverage, "report", whole, "--show-missing", "--skip-covered", "--precision=1"],
        cwd=HOUSE, capture_output=True, text=True, check=False,
    )  # fmt: skip
    subprocess.run(
        [*coverage, "json", whole, "-o", str(OUT / "coverage.json"), "-q"], cwd=HOUSE, check=True
    )
    import json

    totals = json.loads((OUT / "coverage.json").read_text())["totals"]
    share = 100.0 * totals["covered_branches"] / totals["num_branches"]
    lines = 100.0 * totals["covered_lines"] / totals["num_statements"]
    head = f"engine: {share:.1f} % of {totals['num_branches']} branches, {lines:.1f} % of lines"
    (OUT / "coverage.txt").write_text(f"{head}\n{told.stdout}")
    print(head)
    return 0 if share >= asked.least else 1


if __name__ == "__main__":
    raise SystemExit(main())
