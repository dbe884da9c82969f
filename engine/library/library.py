"""The library: folders of routine files with an index that makes them quick to find."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeVar

from engine.errors import BaizewrightError, OutOfRangeError, printable, unwritable
from engine.library import finding, looking, scan, thumbnails
from engine.library.alike import Progress as PairProgress
from engine.library.alike import alike
from engine.library.store import Store
from engine.library.values import Entry, LibraryError, Pair, Query, Scan
from engine.routine.edits import set_tags
from engine.storage import load_routine, save_routine

StrPath = str | Path
Answer = TypeVar("Answer")
#: How SQLite's Python begins to tell of a cell that should hold text and does not.
_NO_TEXT = "Could not decode"


class Library:
    """Some folders of routine files, and their index file.

    The files stay the truth: the index may be thrown away at any time. Every method may be
    called from any thread. `LibraryError` when the index cannot be kept where it was asked for.
    """

    def __init__(
        self, folders: Sequence[StrPath], index: StrPath, *, full_text: bool = True
    ) -> None:
        self.folders = tuple(Path(folder) for folder in folders)
        for folder in self.folders:
            if unwritable(os.path.abspath(folder)):
                raise OutOfRangeError(
                    "folder of the library", printable(folder), "a name in UTF-8",
                    "Rename the folder, or one it lies in.",
                )  # fmt: skip
            if not os.path.isdir(folder):  # asked so, it bears names that are too long
                raise OutOfRangeError(
                    "folder of the library", printable(folder), "a folder that is there",
                    "Check the name, or make it.",
                )  # fmt: skip
        self.store = Store(Path(index), full_text=full_text)

    def refresh(self, progress: scan.Progress | None = None) -> Scan:
        """Bring the index up to date with the files; quick when little has changed."""
        return self._asked(lambda: scan.scan(self.store, self.folders, progress))

    def rebuild(self, progress: scan.Progress | None = None) -> Scan:
        """Throw the index away and make it anew."""
        self.store.rebuild()
        return self.refresh(progress)

    def look_at_reach(self, progress: looking.Progress | None = None) -> int:
        """Work out the least pace of every routine that lacks it; how many were done."""
        return self._asked(lambda: looking.look_at_reach(self.store, progress=progress))

    def search(
        self, query: Query | None = None, most: int | None = None, after: int = 0
    ) -> list[Entry]:
        """The routines that fulfil a query (all without one), by title.

        At most so many, `after` the first so many, for a list that is filled as it is scrolled.
        """
        wanted = query or Query()
        return self._asked(lambda: finding.search(self.store, wanted, self._places(), most, after))

    def count(self, query: Query | None = None) -> int:
        """How many routines fulfil a query."""
        wanted = query or Query()
        return self._asked(lambda: finding.count(self.store, wanted, self._places()))

    def values_of(self, kind: str) -> list[tuple[str, int]]:
        """Every "skill", "tag", "pocket", "contact" or "gap" there is, with how many have it."""
        return self._asked(lambda: finding.values_of(self.store, kind, self._places()))

    def alike(
        self,
        within_mm: float = 20.0,
        *,
        mirrors: bool = True,
        progress: PairProgress | None = None,
    ) -> list[Pair]:
        """Pairs of routines whose balls stand alike within a distance (mm), the nearest first."""
        found = self._asked(lambda: finding.layouts(self.store, self._places()))
        return alike(found, within_mm, mirrors=mirrors, progress=progress)

    def entries(self, keys: Sequence[int]) -> dict[int, Entry]:
        """Entries by key."""
        wanted = set(keys)
        return {entry.key: entry for entry in self.search() if entry.key in wanted}

    def thumbnail(self, entry: Entry, maker: str) -> bytes | None:
        """The kept picture of a routine, None when there is none yet."""
        return self._asked(lambda: thumbnails.thumbnail(self.store, entry.digest, maker))

    def make_thumbnails(
        self,
        entries: Sequence[Entry],
        maker: str,
        paint: thumbnails.Paint,
        progress: thumbnails.Progress | None = None,
    ) -> int:
        """Paint and keep the pictures that entries lack; how many were made."""
        return self._asked(
            lambda: thumbnails.make_thumbnails(self.store, entries, maker, paint, progress)
        )

    def close(self) -> None:
        """Close the index."""
        self.store.close()

    def _asked(self, work: Callable[[], Answer]) -> Answer:
        """What work with the index gives; the index is made anew first when it proves damaged.

        `LibraryError` when the index cannot be used for another reason (locked, a full disk).
        """
        try:
            return work()
        except BaizewrightError:
            raise
        except sqlite3.OperationalError as error:
            if _NO_TEXT not in str(error):
                raise LibraryError(
                    f"The library’s index at {printable(self.store.file)} cannot be used: {error}. "
                    "Close other programs that use it, or name another place for it."
                ) from error
        except (sqlite3.DatabaseError, ValueError, TypeError, AttributeError):
            pass  # pages, or cells, that are no longer what was written there
        self.store.rebuild()
        scan.scan(self.store, self.folders)
        return work()

    def _places(self) -> tuple[str, ...]:
        return tuple(str(folder) for folder in self.folders)


def tag_file(path: StrPath, add: Sequence[str] = (), drop: Sequence[str] = ()) -> tuple[str, ...]:
    """Add tags to a routine's file and drop others; the tags it has then.

    `RoutineFileError` when the file cannot be read or saved, `OutOfRangeError` for a tag that
    cannot be; the file is then untouched.
    """
    routine = load_routine(path)
    gone = {tag.casefold() for tag in drop}
    kept = [tag for tag in (*routine.tags, *add) if tag.casefold() not in gone]
    tagged = set_tags(routine, kept)
    if tagged != routine:
        save_routine(tagged, path)
    return tagged.tags
