"""The least pace at which a routine's gaps can be threaded, at a quick look."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence

from engine.errors import BaizewrightError
from engine.library.store import Store
from engine.routine.values import Routine
from engine.storage import parse_routine
from engine.storage.reading import decode, read_bytes
from engine.version import VERSION

#: Looks between two commits.
PART = 50
Progress = Callable[[int, int], bool | None]


def lowest_pace(routine: Routine) -> float | None:
    """The least pace of the quick look's grid at which some gap of some shot is threaded.

    None when nothing threads or there is nothing to thread. The grid is coarse: a gap that only
    a fine window threads may be missed (`engine.reach.verdicts` has the last word).
    """
    from engine.reach.quick import quick_looks

    paces: list[float] = []
    for shot in routine.shots:
        for look in quick_looks(routine, shot.id):
            if look.map is not None and look.map.threads.any():
                columns = look.map.threads.any(axis=0)
                paces.append(float(look.map.paces[columns].min()))
    return min(paces) if paces else None


def look_at_reach(store: Store, where: Sequence[str] = (), progress: Progress | None = None) -> int:
    """Work out the least pace of every routine of the index that lacks it; how many were done.

    `where`: paths to take first. Stopped early, it keeps what was done.
    """
    due = _due(store)
    first = set(where)
    due.sort(key=lambda row: row[0] not in first)
    done = 0
    for start in range(0, len(due), PART):
        if progress is not None and progress(start, len(due)) is False:
            return done
        found = []
        for path, digest in due[start : start + PART]:
            routine = routine_of(path, digest)
            if routine is not None:
                found.append((digest, VERSION, lowest_pace(routine)))
        with store.writing() as connection:
            connection.executemany(
                "INSERT OR REPLACE INTO reaches (digest, engine, lowest_pace) VALUES (?, ?, ?)",
                found,
            )
        done += len(found)
    if progress is not None:
        progress(len(due), len(due))
    return done


def _due(store: Store) -> list[tuple[str, str]]:
    return list(
        store.connection.execute(
            "SELECT MIN(path), digest FROM routines r WHERE state = 'routine' AND NOT EXISTS "
            "(SELECT 1 FROM reaches e WHERE e.digest = r.digest AND e.engine = ?) "
            "GROUP BY digest ORDER BY title COLLATE NOCASE",
            (VERSION,),
        )
    )


def routine_of(path: str, digest: str) -> Routine | None:
    """The routine in a file, if the file still is the one the index knows."""
    try:
        data = read_bytes(path)
        if hashlib.sha256(data).hexdigest() != digest:
            return None
        return parse_routine(decode(data, path), path)
    except BaizewrightError:
        return None
