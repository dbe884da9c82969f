"""Change the physics a little, on purpose, and see whether the tests notice.

    .venv/bin/python -m pip install "cosmic-ray>=8.3"
    .venv/bin/python .ci/mutation.py [motion|clearance|potting ...] [--each 60] [--seed 9]

Works on a copy of what is committed. Of each group that many changes are taken at random (the
same for the same seed; `--each 0` takes all). Survivors are listed with their places; the report
goes to build/mutation-GROUP.txt.
"""

from __future__ import annotations

import argparse
import random
import sqlite3
import subprocess
import sys
import tempfile
from pathlib import Path

HOUSE = Path(__file__).resolve().parent.parent
#: For each group: the modules changed, the tests asked, and what goes before them. The functions
#: of motion are tested as plain Python: compiled, each change would take half a minute.
GROUPS = {
    "motion": ("engine/motion", "tests/engine/motion", "NUMBA_DISABLE_JIT=1"),
    "clearance": (
        "engine/lanes/clearance.py",
        "tests/engine/lanes/test_lane_clearance.py tests/engine/lanes/test_lane_passes.py",
        "",
    ),
    "potting": ("engine/potting", "tests/engine/potting", ""),
}
TIMEOUT_S = 90
#: Changes that cannot matter: of type hints, and of decorators the compiler reads.
LEFT_OUT = ("core/ReplaceBinaryOperator_BitOr", "core/RemoveDecorator")


def run(group: str, each: int, seed: int) -> tuple[int, int]:
    """Try the changes of one group; how many were noticed, and of how many."""
    modules, tests, before = GROUPS[group]
    with tempfile.TemporaryDirectory() as name:
        copy = Path(name)
        archive = subprocess.run(
            ["git", "archive", "HEAD"], cwd=HOUSE, capture_output=True, check=True
        )
        subprocess.run(["tar", "x", "-C", name], input=archive.stdout, check=True)
        command = f"env {before} {sys.executable} -m pytest -x -q -p no:cacheprovider {tests}"
        (copy / "mutation.toml").write_text(
            f'[cosmic-ray]\nmodule-path = "{modules}"\ntimeout = {TIMEOUT_S}.0\n'
            f'excluded-modules = []\ntest-command = "{command}"\n'
            '[cosmic-ray.distributor]\nname = "local"\n'
        )
        # Once ahead: where the kernel has to be compiled first, that must not count.
        subprocess.run(command.split(), cwd=copy, check=True, stdout=subprocess.DEVNULL)
        ray = [sys.executable, "-m", "cosmic_ray.cli"]
        subprocess.run([*ray, "init", "mutation.toml", "work.sqlite"], cwd=copy, check=True)
        subprocess.run([*ray, "baseline", "mutation.toml"], cwd=copy, check=True)
        chosen = choose(copy / "work.sqlite", each, seed)
        print(f"{group}: {len(chosen)} changes", flush=True)
        subprocess.run([*ray, "exec", "mutation.toml", "work.sqlite"], cwd=copy, check=True)
        return report(copy / "work.sqlite", group)


def choose(work: Path, each: int, seed: int) -> list[str]:
    """Leave a sample of the changes in the work to do."""
    with sqlite3.connect(work) as base:
        rows = base.execute(
            "SELECT job_id, operator_name FROM mutation_specs "
            "ORDER BY module_path, operator_name, occurrence"
        ).fetchall()
        sound = [job for job, operator in rows if not operator.startswith(LEFT_OUT)]
        chosen = random.Random(seed).sample(sound, min(each or len(sound), len(sound)))
        keep = set(chosen)
        for job, _ in rows:
            if job not in keep:
                base.execute("DELETE FROM mutation_specs WHERE job_id = ?", (job,))
                base.execute("DELETE FROM work_items WHERE job_id = ?", (job,))
    return chosen


def report(work: Path, group: str) -> tuple[int, int]:
    """Print and keep the survivors; how many were noticed, and of how many."""
    with sqlite3.connect(work) as base:
        rows = base.execute(
            "SELECT m.module_path, m.start_pos_row, m.operator_name, r.test_outcome, r.diff "
            "FROM mutation_specs m JOIN work_results r ON m.job_id = r.job_id"
        ).fetchall()
    survivors = [row for row in rows if "SURVIVED" in str(row[3]).upper()]
    noticed = len(rows) - len(survivors)
    lines = [
        f"{group}: {noticed} of {len(rows)} changes noticed ({noticed / max(len(rows), 1):.0%})"
    ]
    for module, line, operator, _, diff in sorted(survivors):
        changed = [part for part in str(diff).splitlines() if part[:1] in "+-"][2:]
        lines += [f"{module}:{line} {operator}", *(f"    {part}" for part in changed)]
    (HOUSE / "build").mkdir(exist_ok=True)
    (HOUSE / "build" / f"mutation-{group}.txt").write_text("\n".join(lines) + "\n")
    print("\n".join(lines), flush=True)
    return noticed, len(rows)


def main() -> int:
    """Run the groups asked for."""
    parser = argparse.ArgumentParser()
    parser.add_argument("groups", nargs="*", choices=[*GROUPS, []], default=[])
    parser.add_argument("--each", type=int, default=60)
    parser.add_argument("--seed", type=int, default=9)
    asked = parser.parse_args()
    for group in asked.groups or GROUPS:
        run(group, asked.each, asked.seed)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
