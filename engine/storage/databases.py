"""How a database of ours is opened, written and told of; one of anything else is not touched."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from engine.errors import BaizewrightError
from engine.storage.database_kinds import Database
from engine.storage.file_kinds import KINDS, kind_of

_BUSY_S = 20.0


class NotOursError(BaizewrightError):
    """The file holds something else than the database wanted; it was not touched."""


def check_ours(file: Path, wanted: Database) -> None:
    """`NotOursError` unless the file is such a database, or one may begin there; `OSError`."""
    there = kind_of(file)
    if there not in ("", wanted.kind):
        raise NotOursError(
            f"{file} holds {KINDS[there]}, wanted {wanted.words}. It was left as it is; "
            "name another file, or one that is not there yet."
        )


def connect(file: Path, wanted: Database) -> sqlite3.Connection:
    """A connection to a database of ours, or to no file or an empty one, where one may begin.

    Whoever asks for it gives it its number (`take_on`). `NotOursError` as `check_ours`;
    `sqlite3.Error` and `OSError` where it cannot be used.
    """
    check_ours(file, wanted)
    return sqlite3.connect(file, timeout=_BUSY_S, isolation_level=None, check_same_thread=False)


def take_on(connection: sqlite3.Connection, kind: Database) -> None:
    """Give a database of ours its number, if it is new or from before there were numbers."""
    if connection.execute("PRAGMA application_id").fetchone() != (kind.application_id,):
        connection.execute(f"PRAGMA application_id = {kind.application_id}")


@contextlib.contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[sqlite3.Connection]:
    """A change that is kept as a whole or not at all."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield connection
        connection.execute("COMMIT")
    except BaseException:
        # A full disk ends a transaction by itself: there is nothing left to take back then.
        if connection.in_transaction:
            with contextlib.suppress(sqlite3.Error):
                connection.execute("ROLLBACK")
        raise


@contextlib.contextmanager
def begin_private(file: Path) -> Iterator[None]:
    """An empty file that its owner alone may read, where there is none; gone again on an error.

    One that is there and empty is made private too: what is put into it is not for others. While
    another program is busy with it, it stays.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.close(os.open(file, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
        made = True
    except FileExistsError:
        made = False
        if file.is_file() and file.stat().st_size == 0:
            file.chmod(0o600)
    try:
        yield
    except BaseException as error:
        busy = getattr(error, "sqlite_errorcode", None) == sqlite3.SQLITE_BUSY
        if made and not busy and file.stat().st_size == 0:
            file.unlink()
        raise


_WORDS = {
    sqlite3.SQLITE_FULL: "the disk is full; make room",
    sqlite3.SQLITE_BUSY: "another program is using it; try again when that has finished",
    sqlite3.SQLITE_READONLY: "it may only be read, not written; check who may use it",
    sqlite3.SQLITE_CANTOPEN: "it cannot be opened; check its folder and who may use it",
    sqlite3.SQLITE_NOTADB: "it is damaged",
    sqlite3.SQLITE_CORRUPT: "it is damaged",
    sqlite3.SQLITE_IOERR: "the disk does not take or give it; it may be full or failing",
}


def why(error: sqlite3.Error | OSError | UnicodeDecodeError) -> str:
    """What went wrong with a database, in words."""
    if isinstance(error, OSError):
        return error.strerror or type(error).__name__
    # The lowest byte is the plain code, the others say more closely what it was.
    code = getattr(error, "sqlite_errorcode", None)
    return _WORDS.get(code & 0xFF, str(error)) if code is not None else str(error)
