"""The two databases of the house (SQLite), and how a file is known to be one of them.

Each carries a number of its own in its header (`PRAGMA application_id`), so that a file of
anything else is refused without being opened for writing: it is looked at through its first bytes,
and through a connection that cannot write and takes no locks. A database without a number, as the
index was before it had one, is known by its tables.
"""

from __future__ import annotations

import contextlib
import shutil
import sqlite3
import tempfile
from dataclasses import dataclass
from pathlib import Path

HEADER = b"SQLite format 3\0"
_HEADER_BYTES = 100
#: Where the header states the number of the application, in four bytes (SQLite file format, 1.3).
_ID_AT = slice(68, 72)
#: A write-ahead log of ours is never longer; one that is belongs to something else.
_LONGEST_LOG = 200_000_000


@dataclass(frozen=True, slots=True)
class Database:
    """A kind of database of ours: its name among the kinds of files, and what it is known by.

    `tables` are those it always has; `beside` those it may have as well.
    """

    kind: str
    words: str
    application_id: int
    tables: frozenset[str]
    beside: tuple[str, ...] = ()

    def has(self, tables: frozenset[str]) -> bool:
        """Whether a database with these tables and no others is one of this kind."""
        others = [one for one in tables - self.tables if not one.startswith(self.beside)]
        return self.tables <= tables and not others


#: "Bzwr" as a number.
RECORDS = Database("records", "practice records", 0x427A7772, frozenset({"players", "practice"}))
#: "Bzwi" as a number. Full text search keeps tables of its own beside "words".
INDEX = Database(
    "index", "the index of a library", 0x427A7769,
    frozenset({"routines", "traits", "reaches", "thumbnails"}), ("words",),
)  # fmt: skip
OURS = (RECORDS, INDEX)


def store_at(file: Path) -> str:
    """What an ordinary file is: the kind of a database of ours, "database" for one of anything
    else, "other" for no database; "" for no file, an empty one and a database with nothing in it.

    The file is not changed. `OSError` where it may not be read.
    """
    try:
        with file.open("rb") as source:
            header = source.read(_HEADER_BYTES)
    except FileNotFoundError:
        return ""
    if not header:
        return ""
    if not header.startswith(HEADER):
        return "other"
    number = int.from_bytes(header[_ID_AT], "big")
    for one in OURS:
        if number == one.application_id:
            return one.kind
    return "database" if number else _known_by_tables(file)


def _known_by_tables(file: Path) -> str:
    try:
        tables = _tables(file)
    except (sqlite3.Error, OSError):
        return "database"
    for one in OURS:
        if one.has(tables):
            return one.kind
    return "database" if tables else ""


def _tables(file: Path) -> frozenset[str]:
    """The tables of a database, found without changing it or anything beside it.

    What still lies in a write-ahead log belongs to it: both are then looked at in a copy.
    """
    log = Path(f"{file}-wal")
    if not (log.exists() and log.stat().st_size):
        return _named(f"{file.absolute().as_uri()}?mode=ro&immutable=1")
    if log.stat().st_size > _LONGEST_LOG:
        raise OSError(f"{log} is too long for a log of ours")
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy.sqlite"
        shutil.copyfile(file, copy)
        shutil.copyfile(log, f"{copy}-wal")
        return _named(copy.as_uri())


def _named(uri: str) -> frozenset[str]:
    with contextlib.closing(sqlite3.connect(uri, uri=True)) as looking:
        rows = looking.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    return frozenset(str(row[0]) for row in rows if not str(row[0]).startswith("sqlite_"))
