"""The file of the records: SQLite, kept so that nothing is lost and a deletion leaves no trace.

- Every change is one transaction, forced to the disk before it is said to be done.
- A rollback journal, not a write-ahead log: once a change is done no other file holds any of it.
- Freed places are overwritten (`secure_delete`), and after a deletion the file is written anew
  (`VACUUM`), temporary content staying in memory (`temp_store`).
- On systems that know it, only the owner may read the file.
"""

from __future__ import annotations

import contextlib
import json
import sqlite3
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

from engine.errors import UnknownNameError
from engine.records.stored import kept
from engine.records.values import Kept, Practice, RecordsError, Taken
from engine.storage.database_kinds import RECORDS
from engine.storage.databases import NotOursError, begin_private, connect, take_on, transaction, why

LAYOUT = 1

_TABLES = (
    "CREATE TABLE players (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE)",
    """CREATE TABLE practice (
        id INTEGER PRIMARY KEY,
        player INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
        routine TEXT NOT NULL,
        step INTEGER NOT NULL CHECK (step >= 1),
        day TEXT NOT NULL,
        attempts INTEGER NOT NULL CHECK (attempts >= 1),
        made INTEGER NOT NULL CHECK (made BETWEEN 0 AND attempts),
        misses TEXT NOT NULL,
        note TEXT NOT NULL
    )""",
    "CREATE INDEX practice_of_player ON practice (player, routine, step, day)",
)
#: A damaged file can also make SQLite tell its fault in letters that are none.
_FAULTS = (sqlite3.Error, UnicodeDecodeError)
_COLUMNS = "p.id, w.name, p.routine, p.day, p.attempts, p.made, p.step, p.misses, p.note"


class Records:
    """The practice records in one file, which is made when there is none.

    `RecordsError` when the file is damaged, of another kind, or cannot be written: it is then
    left as it is.
    """

    def __init__(self, file: str | Path) -> None:
        self.file = Path(file)
        try:
            with begin_private(self.file):
                self._connection = connect(self.file, RECORDS)
                try:
                    self._set_up()
                except BaseException:
                    self._connection.close()
                    raise
        except NotOursError as error:
            raise RecordsError(str(error)) from error
        except (OSError, *_FAULTS) as error:
            raise RecordsError(
                f"{self.file} cannot be used for practice records: {why(error)}. "
                "It was left as it is; name another file, or one of a copy you have."
            ) from error

    def close(self) -> None:
        """Close the file."""
        self._connection.close()

    def __enter__(self) -> Records:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def players(self) -> tuple[str, ...]:
        """Everyone with a record, by name."""
        rows = self._rows("SELECT name FROM players ORDER BY name COLLATE NOCASE")
        return tuple(str(row[0]) for row in rows)

    def practice(self, player: str | None = None, routine: str | None = None) -> tuple[Kept, ...]:
        """The lines of one player (of all without one), oldest first.

        `UnknownNameError` when there is no such player.
        """
        where, values = ["1"], []
        if player is not None:
            self._known(player)
            where.append("w.name = ?")
            values.append(player)
        if routine is not None:
            where.append("p.routine = ?")
            values.append(routine)
        rows = self._rows(
            f"SELECT {_COLUMNS} FROM practice p JOIN players w ON w.id = p.player "
            f"WHERE {' AND '.join(where)} ORDER BY p.day, p.id",
            tuple(values),
        )
        return tuple(kept(row, self.file) for row in rows)

    def routines(self) -> tuple[str, ...]:
        """The titles of all routines there are records of."""
        rows = self._rows("SELECT DISTINCT routine FROM practice ORDER BY routine COLLATE NOCASE")
        return tuple(str(row[0]) for row in rows)

    def add(self, practice: Practice) -> int:
        """Keep one line; its number. It is on the disk when this returns."""
        with self._writing():
            return self._insert(practice)

    def take_in(self, lines: Sequence[Practice]) -> Taken:
        """Keep all lines or none; those that are there already, as often, are not kept twice."""
        with self._writing():
            there = Counter(one.practice.key for one in self.practice())
            taken = 0
            for one in lines:
                if there[one.key] > 0:
                    there[one.key] -= 1
                    continue
                self._insert(one)
                taken += 1
        return Taken(taken, len(lines) - taken)

    def remove(self, number: int) -> None:
        """Take one line out, without a trace; the player stays while other lines do."""
        with self._writing():
            self._connection.execute("DELETE FROM practice WHERE id = ?", (number,))
            self._connection.execute(
                "DELETE FROM players WHERE id NOT IN (SELECT player FROM practice)"
            )
        self._pack()

    def delete_player(self, player: str) -> int:
        """Delete a player and all their lines without a trace in the file; how many lines."""
        self._known(player)
        with self._writing():
            count = int(
                self._rows(
                    "SELECT COUNT(*) FROM practice p JOIN players w ON w.id = p.player "
                    "WHERE w.name = ?",
                    (player,),
                )[0][0]
            )
            # lines first: overwriting must not depend on how deletions cascade
            self._connection.execute(
                "DELETE FROM practice WHERE player = (SELECT id FROM players WHERE name = ?)",
                (player,),
            )
            self._connection.execute("DELETE FROM players WHERE name = ?", (player,))
        self._pack()
        return count

    def _insert(self, one: Practice) -> int:
        self._connection.execute("INSERT OR IGNORE INTO players (name) VALUES (?)", (one.player,))
        made = self._connection.execute(
            "INSERT INTO practice (player, routine, step, day, attempts, made, misses, note) "
            "VALUES ((SELECT id FROM players WHERE name = ?), ?, ?, ?, ?, ?, ?, ?)",
            (one.player, one.routine, one.step, one.day.isoformat(), one.attempts, one.made,
             json.dumps(dict(one.misses)), one.note),
        )  # fmt: skip
        return int(made.lastrowid or 0)

    def _known(self, player: str) -> None:
        if player not in self.players():
            raise UnknownNameError("player", player, self.players())

    def _rows(self, sql: str, values: tuple = ()) -> list[tuple]:
        try:
            return self._connection.execute(sql, values).fetchall()
        except _FAULTS as error:
            raise RecordsError(f"{self.file} cannot be read: {why(error)}.") from error

    @contextlib.contextmanager
    def _writing(self) -> Iterator[None]:
        try:
            with transaction(self._connection):
                yield
        except _FAULTS as error:
            raise RecordsError(
                f"{self.file} cannot be written: {why(error)}. Nothing was changed."
            ) from error

    def _pack(self) -> None:
        """Write the file anew, so that nothing of what was deleted is left in it."""
        try:
            self._connection.execute("VACUUM")
        except _FAULTS as error:
            raise RecordsError(
                f"Deleted and overwritten, but {self.file} could not be written anew: "
                f"{why(error)}. Close other windows that use it and delete any line to try again."
            ) from error

    def _set_up(self) -> None:
        run = self._connection.execute
        for setting in (
            "journal_mode = DELETE",
            "synchronous = EXTRA",
            "secure_delete = ON",
            "temp_store = MEMORY",
            "foreign_keys = ON",
        ):
            run(f"PRAGMA {setting}")
        with self._writing():
            take_on(self._connection, RECORDS)
            if not run("SELECT COUNT(*) FROM sqlite_master").fetchone()[0]:
                for statement in _TABLES:
                    run(statement)
                run(f"PRAGMA user_version = {LAYOUT}")
            elif int(run("PRAGMA user_version").fetchone()[0]) > LAYOUT:
                raise RecordsError(
                    f"{self.file} was written by a newer Baizewright. Update to open it."
                )
            if Path(f"{self.file}-journal").exists():
                # left by a program killed as it began to write: a change takes it away
                run(f"PRAGMA user_version = {LAYOUT}")
        if run("PRAGMA quick_check(1)").fetchone()[0] != "ok":
            raise RecordsError(
                f"{self.file} is damaged. Put back a copy of it; it was left as it is."
            )
