"""The index file: SQLite tables, made anew whenever they are damaged or of another version.

The routine files are the truth; nothing is kept here that cannot be worked out from them again.
A file that is no index of ours is refused and never touched. Every thread has a connection of its
own.
"""

from __future__ import annotations

import contextlib
import sqlite3
import threading
from collections.abc import Iterator
from pathlib import Path

from engine.library.values import LibraryError
from engine.storage.database_kinds import INDEX
from engine.storage.databases import NotOursError, check_ours, connect, take_on, transaction, why

#: Raised whenever the tables below change, or what stands in them means something else (3: paces
#: are strokes, 4: counting reads one index alone): an index of another number is made anew.
LAYOUT = 4

_TABLES = """
CREATE TABLE routines (
    id INTEGER PRIMARY KEY,
    path TEXT NOT NULL UNIQUE,
    stamp TEXT NOT NULL,
    digest TEXT NOT NULL,
    state TEXT NOT NULL,
    fault TEXT NOT NULL DEFAULT '',
    title TEXT NOT NULL DEFAULT '',
    coach TEXT NOT NULL DEFAULT '',
    club TEXT NOT NULL DEFAULT '',
    level INTEGER NOT NULL DEFAULT 0,
    table_id TEXT NOT NULL DEFAULT '',
    width_mm REAL NOT NULL DEFAULT 0,
    length_mm REAL NOT NULL DEFAULT 0,
    balls INTEGER NOT NULL DEFAULT 0,
    shots INTEGER NOT NULL DEFAULT 0,
    gaps INTEGER NOT NULL DEFAULT 0,
    kinds TEXT NOT NULL DEFAULT '',
    places BLOB NOT NULL DEFAULT x'',
    skills TEXT NOT NULL DEFAULT '',
    tags TEXT NOT NULL DEFAULT ''
);
CREATE INDEX routines_by_digest ON routines (digest);
CREATE INDEX routines_by_title ON routines (
    state, title COLLATE NOCASE, path, digest, level, balls, table_id
);
CREATE TABLE traits (
    routine INTEGER NOT NULL REFERENCES routines (id) ON DELETE CASCADE,
    kind TEXT NOT NULL,
    value TEXT NOT NULL,
    UNIQUE (kind, value, routine)
);
CREATE INDEX traits_by_routine ON traits (routine);
CREATE INDEX traits_by_value ON traits (kind, value COLLATE NOCASE, routine);
CREATE TABLE reaches (
    digest TEXT PRIMARY KEY,
    engine TEXT NOT NULL,
    lowest_pace REAL
);
CREATE TABLE thumbnails (
    digest TEXT PRIMARY KEY,
    maker TEXT NOT NULL,
    picture BLOB NOT NULL
);
"""
_WORDS = (
    "CREATE VIRTUAL TABLE words USING fts5 (text, tokenize='unicode61')",
    # a SQLite without that part searches the same words one by one
    "CREATE TABLE words (rowid INTEGER PRIMARY KEY, text TEXT NOT NULL)",
)


class Store:
    """Connections to one index file; `fts` tells whether it can search by words of its own."""

    def __init__(self, file: Path, *, full_text: bool = True) -> None:
        self.file = file
        self.fts = False
        self._full_text = full_text
        self._mine = threading.local()
        self._all: list[sqlite3.Connection] = []
        self._lock = threading.Lock()
        self._prepare()

    @property
    def connection(self) -> sqlite3.Connection:
        """The connection of this thread."""
        found: sqlite3.Connection | None = getattr(self._mine, "connection", None)
        if found is None:
            found = self._mine.connection = self._open()
            with self._lock:
                self._all.append(found)
        return found

    @contextlib.contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """A transaction: all of it is kept, or nothing when anything fails.

        `LibraryError` when the disk does not take it.
        """
        try:
            with transaction(self.connection) as connection:
                yield connection
        except sqlite3.OperationalError as error:
            raise LibraryError(
                f"The library’s index {self.file} cannot be written: {why(error)}. "
                "No routine was changed; look again when that is mended."
            ) from error

    def close(self) -> None:
        """Close every connection."""
        with self._lock:
            for connection in self._all:
                connection.close()
            self._all.clear()
        self._mine = threading.local()

    def rebuild(self) -> None:
        """Throw the index away and begin an empty one; `LibraryError` where it is none of ours."""
        self.close()
        with self._told():
            check_ours(self.file, INDEX)
            self._throw_away()
            self._make()

    def _throw_away(self) -> None:
        for ending in ("", "-wal", "-shm", "-journal"):
            with contextlib.suppress(FileNotFoundError):
                Path(f"{self.file}{ending}").unlink()

    def _prepare(self) -> None:
        with self._told():
            self.file.parent.mkdir(parents=True, exist_ok=True)
            check_ours(self.file, INDEX)
            begun = self.file.exists()
            try:
                if not self._is_sound():
                    self.rebuild()
            except BaseException:
                self.close()
                if not begun:
                    self._throw_away()
                raise

    @contextlib.contextmanager
    def _told(self) -> Iterator[None]:
        """Errors of the file and its place as `LibraryError`."""
        try:
            yield
        except NotOursError as error:
            raise LibraryError(str(error)) from error
        except (OSError, sqlite3.Error) as error:
            raise LibraryError(
                f"The library’s index cannot be kept at {self.file}: {why(error)}. "
                "Name a place for it that you may write to."
            ) from error

    def _tables(self) -> frozenset[str]:
        rows = self.connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        return frozenset(str(row[0]) for row in rows)

    def _is_sound(self) -> bool:
        """Whether the tables are whole and of this layout; an index without any gets them."""
        try:
            if not self._tables():
                self._make()
            if self._version() != LAYOUT:
                return False
            found = self.connection.execute("PRAGMA quick_check(1)").fetchone()
            self.fts = self._has_fts()
            return bool(found and found[0] == "ok") and INDEX.tables | {"words"} <= self._tables()
        except sqlite3.OperationalError:
            raise  # it is in use, or the disk is full: no reason to throw it away
        except (sqlite3.DatabaseError, UnicodeDecodeError):
            return False  # its faults may be told in letters that are none

    def _version(self) -> int:
        return int(self.connection.execute("PRAGMA user_version").fetchone()[0])

    def _has_fts(self) -> bool:
        row = self.connection.execute("SELECT sql FROM sqlite_master WHERE name='words'").fetchone()
        return bool(row and "fts5" in row[0])

    def _make(self) -> None:
        with self.writing() as connection:
            if self._version() == LAYOUT:
                self.fts = self._has_fts()  # another process was quicker
                return
            for statement in _TABLES.split(";"):
                if statement.strip():
                    connection.execute(statement)
            of_its_own, plain = _WORDS
            try:
                connection.execute(of_its_own if self._full_text else plain)
            except sqlite3.OperationalError:
                connection.execute(plain)
            connection.execute(f"PRAGMA user_version = {LAYOUT}")
        self.fts = self._has_fts()

    def _open(self) -> sqlite3.Connection:
        made = connect(self.file, INDEX)
        # in the file itself before there is a log that could hold it
        take_on(made, INDEX)
        made.execute("PRAGMA journal_mode = WAL")
        # a commit lost to a power cut is found again by the next scan
        made.execute("PRAGMA synchronous = NORMAL")
        made.execute("PRAGMA foreign_keys = ON")
        return made
