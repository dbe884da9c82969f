"""Search: one query to the index, every condition of it in SQL."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence

import numpy as np

from engine.errors import OutOfRangeError
from engine.library.plain import plain_words
from engine.library.scan import FAULTY, READ, below
from engine.library.store import Store
from engine.library.values import POCKET_WORDS, Entry, Layout, Query
from engine.version import VERSION

_COLUMNS = (
    "r.id, r.path, r.digest, r.title, r.coach, r.club, r.level, r.table_id, r.balls, r.shots, "
    "r.gaps, e.lowest_pace, e.digest IS NOT NULL, r.skills, r.tags, r.fault"
)
_FROM = "FROM routines r LEFT JOIN reaches e ON e.digest = r.digest AND e.engine = ?"

#: More than can be typed (`typed.MOST_PARTS`) with what options add; SQLite bears a thousand.
MOST_CONDITIONS = 200
Condition = tuple[str, Sequence[object]]


def search(
    store: Store,
    query: Query,
    folders: Sequence[str] = (),
    most: int | None = None,
    after: int = 0,
) -> list[Entry]:
    """The routines that fulfil a query, by title; at most so many, `after` the first so many."""
    where, values = _where(store, query, folders)
    limit = "" if most is None else f" LIMIT {int(most)} OFFSET {int(after)}"
    rows = store.connection.execute(
        f"SELECT {_COLUMNS} {_FROM} WHERE {where} ORDER BY r.title COLLATE NOCASE, r.path{limit}",
        (VERSION, *values),
    )
    return [_entry(row) for row in rows]


def count(store: Store, query: Query, folders: Sequence[str] = ()) -> int:
    """How many routines fulfil a query."""
    where, values = _where(store, query, folders)
    # read off one index, without what is told of each
    found = store.connection.execute(f"SELECT COUNT(*) FROM routines r WHERE {where}", values)
    return int(found.fetchone()[0])


def values_of(store: Store, kind: str, folders: Sequence[str] = ()) -> list[tuple[str, int]]:
    """Every value of a kind of trait with how many routines have it, by name."""
    where, values = _where(store, Query(), folders)
    return list(
        store.connection.execute(
            "SELECT t.value, COUNT(*) FROM traits t JOIN routines r ON r.id = t.routine "
            f"WHERE t.kind = ? AND {where} GROUP BY t.value ORDER BY t.value COLLATE NOCASE",
            (kind, *values),
        )
    )


def layouts(store: Store, folders: Sequence[str] = ()) -> list[Layout]:
    """Where the balls of every routine stand."""
    where, values = _where(store, Query(), folders)
    return [
        Layout(
            row[0], row[1], row[2], row[3], tuple(row[4].split()),
            tuple((x, y) for x, y in np.frombuffer(row[5], dtype="<f8").reshape(-1, 2).tolist()),
        )
        for row in store.connection.execute(
            "SELECT r.id, r.table_id, r.width_mm, r.length_mm, r.kinds, r.places FROM routines r "
            f"WHERE {where} ORDER BY r.id",
            tuple(values),
        )
    ]  # fmt: skip


def _where(store: Store, query: Query, folders: Sequence[str]) -> tuple[str, list[object]]:
    parts = list(_conditions(query))
    parts += _words(store, query.words)
    if folders:
        starts = [below(folder) for folder in folders]
        either = " OR ".join("(r.path >= ? AND r.path < ?)" for _ in starts)
        ends = [value for start in starts for value in (start, start + "\U0010ffff")]
        parts.append((f"({either})", ends))
    _must_be_few("conditions", len(parts))
    return " AND ".join(part for part, _ in parts), [one for _, some in parts for one in some]


def _conditions(query: Query) -> Iterator[Condition]:
    yield "r.state = ?", (FAULTY if query.faulty else READ,)
    for kind, wanted in (
        ("skill", query.skills),
        ("tag", query.tags),
        ("contact", query.contacts),
        ("gap", query.gap_kinds),
    ):
        for value in wanted:
            yield _HAS.format("t.value = ? COLLATE NOCASE"), (kind, value)
    for pocket in query.pockets:
        if pocket in POCKET_WORDS:
            # by name, as an index finds no part of one
            named = [one for one in POCKETS if pocket in one.split("-")]
            places = ", ".join("?" for _ in named)
            yield _HAS.format(f"t.value IN ({places})"), ("pocket", *named)
        else:
            yield _HAS.format("t.value = ?"), ("pocket", pocket)
    for column, least, most in (
        ("r.level", query.level_least, query.level_most),
        ("r.balls", query.balls_least, query.balls_most),
    ):
        if least is not None:
            yield f"{column} >= ?", (least,)
        if most is not None:
            yield f"{column} <= ?", (most,)
    if query.pace_most is not None:
        slow = "SELECT digest FROM reaches WHERE engine = ? AND lowest_pace <= ?"
        yield f"r.digest IN ({slow})", (VERSION, query.pace_most)
    if query.table:
        yield "r.table_id = ?", (query.table,)
    if query.folder:
        start = below(query.folder)
        yield "r.path >= ? AND r.path < ?", (start, start + "\U0010ffff")


POCKETS = tuple(
    f"{end}-{side}" for end in ("top", "middle", "bottom") for side in ("left", "right")
)
_HAS = "r.id IN (SELECT t.routine FROM traits t WHERE t.kind = ? AND {})"


def _must_be_few(what: str, count: int) -> None:
    if count > MOST_CONDITIONS:
        raise OutOfRangeError(f"{what} of the search", count, f"at most {MOST_CONDITIONS}")


def _words(store: Store, text: str) -> list[Condition]:
    wanted = plain_words(text).split()
    _must_be_few("words", len(wanted))
    if not wanted:
        return []
    if store.fts:
        match = " ".join(f'"{word}"*' for word in wanted)
        return [("r.id IN (SELECT rowid FROM words WHERE words MATCH ?)", (match,))]
    like = " AND ".join("text LIKE ?" for _ in wanted)
    values = [f"% {word}%" for word in wanted]
    return [(f"r.id IN (SELECT rowid FROM words WHERE {like})", values)]


def _entry(row: sqlite3.Row | tuple) -> Entry:
    return Entry(
        key=row[0], path=row[1], digest=row[2], title=row[3], coach=row[4], club=row[5],
        level=row[6], table=row[7], balls=row[8], shots=row[9], gaps=row[10], lowest_pace=row[11],
        reach_known=bool(row[12]), skills=tuple(row[13].split(", ")) if row[13] else (),
        tags=tuple(row[14].split("\n")) if row[14] else (), fault=row[15],
    )  # fmt: skip
