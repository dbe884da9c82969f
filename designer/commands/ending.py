"""How a command ends when it cannot end as it wants to: with a sentence, and never with 1.

1 says that a claim of a routine fails; scripts rely on it.
"""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable

from designer.commands.exit_codes import BAD_INPUT, STOPPED


def ended(run: Callable[[], int]) -> int:
    """Run a command; its exit code, or another after a message on the error stream."""
    try:
        code = run()
        sys.stdout.flush()
        return code
    except BrokenPipeError:
        # whoever read the output has closed it: nothing left to tell
        _close_output()
        return 0
    except KeyboardInterrupt:
        print("\nStopped: no file was written or changed.", file=sys.stderr)
        return STOPPED
    except Exception as error:
        if (
            isinstance(error, OSError) and error.filename is None
        ):  # no file: the output (a full disk)
            _close_output()
            print(f"The output could not be written: {error.strerror or error}.", file=sys.stderr)
            return BAD_INPUT
        return unforeseen(error)


def unforeseen(error: Exception) -> int:
    """Tell of an error nobody foresaw, write a report for whoever mends it; the exit code."""
    from designer.fault_report import write_report
    from designer.places import report_folder

    try:
        path = write_report(error, report_folder())
        where = f"A report without names or words of yours is in {path}; nothing was sent."
    except OSError:
        where = "No report could be written."
    print(
        f"Something in the program went wrong ({type(error).__name__}); what was asked for is not "
        f"done. {where}",
        file=sys.stderr,
    )
    return BAD_INPUT


def _close_output() -> None:
    """Lead the output nowhere, so that Python does not stumble over it again at its end."""
    with contextlib.suppress(OSError, ValueError):  # an output that is no file of the system
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
