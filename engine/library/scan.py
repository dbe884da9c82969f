"""A look through the folders: what is new, changed or gone is brought into the index.

A file is read again when its time, size or identity on the disk has changed. Work is committed
in small parts, so that a look that is broken off loses nothing it has done.
"""

from __future__ import annotations

import hashlib
import os
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from engine.errors import RoutineFileError, WrongKindError, printable, unwritable
from engine.library.facts import facts_of
from engine.library.plain import plain_words
from engine.library.store import Store
from engine.library.values import Facts, Scan
from engine.storage import parse_routine
from engine.storage.reading import decode, read_bytes

#: Files read between two commits.
PART = 100
ENDING = ".json"
#: Told (files done, files in all); False asks to stop.
Progress = Callable[[int, int], bool | None]

READ, FAULTY, OTHER = "routine", "faulty", "other"


@dataclass(frozen=True, slots=True)
class _Seen:
    path: str
    stamp: str


def scan(store: Store, folders: Sequence[Path], progress: Progress | None = None) -> Scan:
    """Bring the index up to date with the routine files below the folders.

    Files of other kinds are passed over. A folder that is not there (a stick pulled out) loses
    its routines from the index, not from the disk.
    """
    tell = progress or (lambda _done, _wanted: True)
    unreadable: list[str] = []
    there = list(_files(folders, unreadable))
    known = _known(store.connection, folders)
    due = [seen for seen in there if known.get(seen.path) != seen.stamp]
    gone = sorted(set(known) - {seen.path for seen in there})
    new = changed = faulty = 0
    for start in range(0, len(gone), PART):
        with store.writing() as connection:
            for path in gone[start : start + PART]:
                _forget(connection, path)
    broken_off = False
    for start in range(0, len(due), PART):
        if tell(start, len(due)) is False:
            broken_off = True
            break
        read = [(seen, *_read(seen.path)) for seen in due[start : start + PART]]
        with store.writing() as connection:
            for seen, digest, found, fault in read:
                new += seen.path not in known
                changed += seen.path in known
                faulty += bool(fault)
                _keep(connection, seen, digest, found, fault)
    else:
        tell(len(due), len(due))
        if gone or changed:
            _drop_what_no_file_has(store)
    return Scan(len(there), new, changed, len(gone), faulty, broken_off, tuple(unreadable))


def below(folder: Path | str) -> str:
    """The beginning that the paths of all files below a folder share."""
    return os.path.join(os.path.abspath(folder), "")


def _files(folders: Sequence[Path], unreadable: list[str]) -> Iterator[_Seen]:
    """Every file that could be a routine, once, hidden ones left out."""
    met: set[str] = set()
    for folder in folders:
        for here, inner, _ in os.walk(
            os.path.abspath(folder), onerror=lambda error: unreadable.append(str(error.filename))
        ):
            inner[:] = sorted(name for name in inner if not name.startswith("."))
            if here in met:
                inner.clear()
                continue
            met.add(here)
            with os.scandir(here) as entries:
                for entry in entries:
                    name = entry.name
                    if not name.lower().endswith(ENDING) or name.startswith("."):
                        continue
                    if unwritable(entry.path):  # some systems allow names of any bytes
                        unreadable.append(printable(entry.path))
                        continue
                    try:
                        if not entry.is_file():
                            continue
                        about = entry.stat()
                    except OSError:
                        continue
                    yield _Seen(entry.path, f"{about.st_mtime_ns}:{about.st_size}:{about.st_ino}")


def _known(connection: sqlite3.Connection, folders: Sequence[Path]) -> dict[str, str]:
    found: dict[str, str] = {}
    for folder in folders:
        start = below(folder)
        found.update(
            connection.execute(
                "SELECT path, stamp FROM routines WHERE path >= ? AND path < ?",
                (start, start + "\U0010ffff"),
            )
        )
    return found


def _read(path: str) -> tuple[str, Facts | None, str]:
    """The digest of a file, its facts, and its fault; neither for a file of another kind."""
    digest = ""
    try:
        data = read_bytes(path)
        digest = hashlib.sha256(data).hexdigest()
        return digest, facts_of(parse_routine(decode(data, path), path)), ""
    except WrongKindError:
        return digest, None, ""
    except RoutineFileError as error:
        return digest, None, "; ".join(error.told())


def _keep(
    connection: sqlite3.Connection, seen: _Seen, digest: str, found: Facts | None, fault: str
) -> None:
    _forget(connection, seen.path)
    if found is None:
        connection.execute(
            "INSERT INTO routines (path, stamp, digest, state, fault, title) "
            "VALUES (?, ?, ?, ?, ?, ?)",
            (seen.path, seen.stamp, digest, FAULTY if fault else OTHER, fault,
             Path(seen.path).stem),
        )  # fmt: skip
        return
    skills = ", ".join(value for kind, value in found.traits if kind == "skill")
    tags = "\n".join(value for kind, value in found.traits if kind == "tag")
    layout = found.layout
    key = connection.execute(
        "INSERT INTO routines (path, stamp, digest, state, title, coach, club, level, table_id, "
        "width_mm, length_mm, balls, shots, gaps, kinds, places, skills, tags) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (seen.path, seen.stamp, digest, READ, found.title or Path(seen.path).stem, found.coach,
         found.club, found.level, found.table, layout.width_mm, layout.length_mm,
         len(layout.kinds), found.shots, found.gaps, " ".join(layout.kinds),
         np.asarray(layout.places_mm, dtype="<f8").tobytes(), skills, tags),
    ).lastrowid  # fmt: skip
    connection.executemany(
        "INSERT OR IGNORE INTO traits (routine, kind, value) VALUES (?, ?, ?)",
        [(key, kind, value) for kind, value in found.traits],
    )
    connection.execute(
        "INSERT INTO words (rowid, text) VALUES (?, ?)",
        (key, plain_words(f"{found.text}\n{Path(seen.path).stem}")),
    )


def _forget(connection: sqlite3.Connection, path: str) -> None:
    row = connection.execute("SELECT id FROM routines WHERE path = ?", (path,)).fetchone()
    if row is not None:
        connection.execute("DELETE FROM words WHERE rowid = ?", row)
        connection.execute("DELETE FROM routines WHERE id = ?", row)


def _drop_what_no_file_has(store: Store) -> None:
    """Reach and pictures are kept by content: those of no file any more go."""
    with store.writing() as connection:
        for table in ("reaches", "thumbnails"):
            connection.execute(
                f"DELETE FROM {table} WHERE digest NOT IN (SELECT digest FROM routines)"
            )
