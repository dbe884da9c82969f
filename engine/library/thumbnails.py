"""Small pictures of routines, kept in the index by the content of their files.

Who can paint hands in a function; the engine only keeps what it gives.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from engine.library.looking import routine_of
from engine.library.store import Store
from engine.library.values import Entry
from engine.routine.values import Routine

PART = 20
Paint = Callable[[Routine], bytes]
Progress = Callable[[int, int], bool | None]


def thumbnail(store: Store, digest: str, maker: str) -> bytes | None:
    """The kept picture of a file's content by that maker, None when there is none yet."""
    row = store.connection.execute(
        "SELECT picture FROM thumbnails WHERE digest = ? AND maker = ?", (digest, maker)
    ).fetchone()
    return None if row is None else bytes(row[0])


def make_thumbnails(
    store: Store,
    entries: Sequence[Entry],
    maker: str,
    paint: Paint,
    progress: Progress | None = None,
) -> int:
    """Paint and keep the pictures that entries lack; how many were made.

    `maker` names how they are painted (size, look): another maker's pictures are made anew.
    """
    kept = {
        row[0]
        for row in store.connection.execute(
            "SELECT digest FROM thumbnails WHERE maker = ?", (maker,)
        )
    }
    due = {one.digest: one for one in entries if not one.fault and one.digest not in kept}
    waiting = list(due.values())
    made = 0
    for start in range(0, len(waiting), PART):
        if progress is not None and progress(start, len(waiting)) is False:
            return made
        rows = []
        for entry in waiting[start : start + PART]:
            routine = routine_of(entry.path, entry.digest)
            if routine is not None:
                rows.append((entry.digest, maker, paint(routine)))
        with store.writing() as connection:
            connection.executemany(
                "INSERT OR REPLACE INTO thumbnails (digest, maker, picture) VALUES (?, ?, ?)", rows
            )
        made += len(rows)
    if progress is not None:
        progress(len(waiting), len(waiting))
    return made
