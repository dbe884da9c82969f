"""`python3 -m tests`: set up if need be, then run every test and house check.

Extra arguments go to pytest: `python3 -m tests tests/engine -k potting`.
"""

import sys

from designer.python_version import refuse_if_too_old


def run_tests(args):
    """Run pytest with these arguments in this Python; return its exit code."""
    import os
    import subprocess

    from designer.screen import missing_text, provide_libraries
    from designer.setup_here import PROJECT

    env = dict(os.environ)
    env.setdefault("QT_QPA_PLATFORM", "offscreen")  # windows under test stay out of sight
    missing = provide_libraries("offscreen")
    if missing:
        sys.stderr.write(missing_text(missing) + "\n")
        return 2
    return subprocess.call([sys.executable, "-m", "pytest", *args], cwd=PROJECT, env=env)


def main():
    """Set up with the test tools, run the tests, and return the exit code."""
    refuse_if_too_old()
    from designer.setup_here import run_when_ready

    return run_when_ready("tests", sys.argv[1:], run_tests, extras=("test",))


if __name__ == "__main__":
    sys.exit(main())
