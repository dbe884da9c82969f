"""The time a file says it was made: given, or by the open convention, so that bytes repeat."""

from __future__ import annotations

import os
from datetime import UTC, datetime

from engine.errors import OutOfRangeError

#: Seconds since 1970 in the environment (reproducible-builds.org, SOURCE_DATE_EPOCH, 2017).
CONVENTION = "SOURCE_DATE_EPOCH"
_WANTED = "a time such as 2025-03-01T18:30Z, or whole seconds since 1970"


def time_of_making(given: str | None) -> datetime | None:
    """The time given, else the convention's, else None: the clock's.

    A time without zone is UTC. `OutOfRangeError` for what is no time.

    >>> time_of_making("2025-03-01T18:30Z")
    datetime.datetime(2025, 3, 1, 18, 30, tzinfo=datetime.timezone.utc)
    >>> time_of_making("0").year
    1970
    """
    if given is not None:
        return _read(given.strip(), "--made-at")
    stated = os.environ.get(CONVENTION, "").strip()
    return _read(stated, f"{CONVENTION} in the environment") if stated else None


def _read(text: str, where: str) -> datetime:
    try:
        if text.isdigit():
            return datetime.fromtimestamp(int(text), UTC)
        found = datetime.fromisoformat(text)
    except (ValueError, OverflowError, OSError):
        raise OutOfRangeError(where, repr(text), _WANTED) from None
    return found if found.tzinfo is not None else found.replace(tzinfo=UTC)
