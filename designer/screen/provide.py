"""Get the system libraries Qt misses where that can be done, or say how to get them."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Sequence

from designer.screen.libraries import Way, missing_libraries, packages_of
from designer.setup_here import SetUpError, system_packages


def provide_libraries(way: Way) -> tuple[str, ...]:
    """Return the system libraries Qt misses, after installing them where that can be done.

    It can as root on Debian and its kin; the installation says what it does.
    """
    missing = missing_libraries(way)
    if missing and system_packages.may_install():
        why = f"This system lacks {len(missing)} of the libraries Qt needs for a window."
        try:
            system_packages.install(packages_of(missing), why)
        except SetUpError as fault:
            print(fault, file=sys.stderr)
        missing = missing_libraries(way)
    return missing


def missing_text(missing: Sequence[str]) -> str:
    """Return the message for a window (or a PNG picture) that misses system libraries."""
    listed = "" if shutil.which("apt-get") else f":\n  {', '.join(missing)}"
    return (
        f"This system lacks {len(missing)} of the libraries Qt needs for a window{listed}.\n"
        + system_packages.advice(packages_of(missing))
    )
