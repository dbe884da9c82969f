"""`python3 -m designer`: set up if need be, then do the main job.

Without arguments: the window where there is a screen; without one, the demo routines are
checked and their handouts written. With arguments: the command line (`check`, `reach`, ...).
"""

import sys

from designer.python_version import refuse_if_too_old


def main():
    """Set up, run, and return the exit code."""
    refuse_if_too_old()
    from designer.setup_here import run_when_ready
    from designer.start_here import start

    return run_when_ready("designer", sys.argv[1:], start)


if __name__ == "__main__":
    sys.exit(main())
