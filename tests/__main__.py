"""`python3 -m tests`: set up if need be, then run the tests, shared among all cores.

    python3 -m tests             every test
    python3 -m tests --quick     what is quick: the answer to "did I break something?"
    python3 -m tests --house     the house's own checks: style, types, contracts, packages

Other arguments go to pytest: `python3 -m tests tests/engine -k potting`. Tests named like that run
in one process, as starting more costs longer than most of them take; `-n 2` asks for two.
"""

import os
import sys
from pathlib import Path

from designer.python_version import refuse_if_too_old

HOUSE_CHECKS = "tests/house"
QUICK = "quick or not (slow or window)"
#: Each process loads the whole house; more than these would load longer than they test.
MOST_PROCESSES = 8


def pytest_arguments(args):
    """Turn what was typed into pytest's arguments."""
    args = list(args)
    quick, house = _taken(args, "--quick"), _taken(args, "--house")
    chosen = ["-m", QUICK] if quick else []
    if house:
        return [*chosen, *_shared(args, "load"), *args, HOUSE_CHECKS]
    if any(Path(arg.partition("::")[0]).exists() for arg in args):
        return [*chosen, *args]
    return [*chosen, *_shared(args, "loadfile"), f"--ignore={HOUSE_CHECKS}", *args]


def _shared(args, way):
    """Share the tests among processes, unless the arguments say how."""
    if any(arg.startswith("-n") for arg in args):
        return []
    return ["-n", str(min(cores(), MOST_PROCESSES)), "--dist", way]


def cores():
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _taken(args, flag):
    """Take a flag out of the arguments; say whether it was there."""
    there = flag in args
    while flag in args:
        args.remove(flag)
    return there


def environment():
    """The surroundings of a run: no window on the screen, byte code kept beside the sources.

    Without the byte code every process of a run would translate the whole house anew, which takes
    longer than the quick tests. In a folder of its own every library would be translated too, as
    what came with its installation is not looked for any more.
    """
    env = dict(os.environ)
    env.setdefault("QT_QPA_PLATFORM", "offscreen")
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    return env


def run_tests(args):
    """Run pytest with these arguments in this Python; return its exit code."""
    import subprocess

    from designer.screen import missing_text, provide_libraries
    from designer.setup_here import PROJECT

    missing = provide_libraries("offscreen")
    if missing:
        sys.stderr.write(missing_text(missing) + "\n")
        return 2
    command = [sys.executable, "-m", "pytest", *pytest_arguments(args)]
    return subprocess.call(command, cwd=PROJECT, env=environment())


def main():
    """Set up with the test tools, run the tests, and return the exit code."""
    refuse_if_too_old()
    from designer.setup_here import run_when_ready

    return run_when_ready("tests", sys.argv[1:], run_tests, extras=("test",))


if __name__ == "__main__":
    sys.exit(main())
