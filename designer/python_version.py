"""Turn an old Python away with a clear message; written so that an old Python can read it."""

import sys

OLDEST = (3, 11)


def refuse_if_too_old(version=None):
    """Leave with exit code 2 and a plain message unless `version` is new enough.

    `version` is a pair such as ``(3, 11)``; the running Python's when left out.
    """
    have = tuple(version or sys.version_info)[:2]
    if have >= OLDEST:
        return
    wanted = ".".join(str(part) for part in OLDEST)
    given = ".".join(str(part) for part in have)
    sys.stderr.write(
        "Baizewright needs Python " + wanted + " or newer; this is Python " + given + ".\n"
        "Install a newer one (python.org has it for Windows and macOS; on Debian and Ubuntu\n"
        "try: sudo apt-get install python3), then run the same command with it,\n"
        "for example: python" + wanted + " -m designer\n"
    )
    raise SystemExit(2)
