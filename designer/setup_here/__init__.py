"""How Baizewright gets onto a fresh machine: one private folder of packages, made once.

Only the standard library is used here, since nothing else is installed yet. The steps:
make `.venv` in the project folder, install the project and what it needs into it, prepare
the compiled engine, leave a stamp; then go on inside `.venv`. A stamp that fits means that
none of this runs again. A Python that already has every package is used as it stands.
"""

from designer.setup_here.faults import SetUpError
from designer.setup_here.ready import PROJECT, make_ready, run_when_ready

__all__ = ["PROJECT", "SetUpError", "make_ready", "run_when_ready"]
