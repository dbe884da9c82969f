"""The list of what was found, filled as it is scrolled, its pictures painted aside."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    QTimer,
)
from PySide6.QtGui import QColor, QGuiApplication, QPixmap

from designer.library.pictures import MAKER, picture
from designer.open_routine.task import Progress, Task
from designer.words.library import entry_lines
from engine.library import Entry, Library, Query

PAGE = 200
#: Pictures painted at a time, and kept in memory at most.
AT_A_TIME, MOST_PIXMAPS = 24, 600
_WAIT_MS = 30
#: Width a picture is shown at, in the screen's own measure.
SHOWN_PX = 160
Index = QModelIndex | QPersistentModelIndex


class Entries(QAbstractListModel):
    """What a query found; `total` counts all of it, listed or not."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.library: Library | None = None
        self.query = Query()
        self.total = 0
        self._listed: list[Entry] = []
        self._rows: dict[str, list[int]] = {}
        self._pixmaps: dict[str, QPixmap] = {}
        self._wanted: dict[str, Entry] = {}
        self._never: set[str] = set()
        self.painting = Task(self)
        self.painting.finished.connect(self._on_painted)
        self._soon = QTimer(self)
        self.painting.failed.connect(lambda _: self._soon.start())
        self._soon.setSingleShot(True)
        self._soon.setInterval(_WAIT_MS)
        self._soon.timeout.connect(self._paint)
        self._blank = QPixmap(SHOWN_PX, SHOWN_PX * 11 // 20)
        self._blank.fill(QColor("#dfe5dc"))

    def show_found(self, library: Library | None, query: Query) -> None:
        """Show what a query finds from now on."""
        self.beginResetModel()
        self.library, self.query = library, query
        self._listed = library.search(query, PAGE) if library else []
        self.total = library.count(query) if library else 0
        self._note_rows(0)
        self.endResetModel()

    def entry(self, row: int) -> Entry | None:
        """The entry of a row."""
        return self._listed[row] if 0 <= row < len(self._listed) else None

    def row_of(self, path: str) -> int:
        """The row of a file, −1 when it is not listed."""
        return next((row for row, one in enumerate(self._listed) if one.path == path), -1)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """How many are listed by now."""
        return 0 if parent.isValid() else len(self._listed)

    def canFetchMore(self, parent: Index) -> bool:
        """Whether there are more than are listed."""
        return not parent.isValid() and len(self._listed) < self.total

    def fetchMore(self, parent: Index) -> None:
        """List another page."""
        if self.library is None or parent.isValid():
            return
        start = len(self._listed)
        more = self.library.search(self.query, PAGE, start)
        if not more:
            self.total = start
            return
        self.beginInsertRows(QModelIndex(), start, start + len(more) - 1)
        self._listed += more
        self._note_rows(start)
        self.endInsertRows()

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Words, picture and place of a routine."""
        entry = self.entry(index.row())
        if entry is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return entry_lines(entry)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return entry_lines(entry).replace("\n", ", ")
        if role == Qt.ItemDataRole.ToolTipRole:
            return entry.path if not entry.fault else f"{entry.path}\n{entry.fault}"
        if role == Qt.ItemDataRole.DecorationRole:
            return self._pixmap(entry)
        return None

    def close(self) -> None:
        """Paint nothing more."""
        self._soon.stop()
        self.painting.close()

    @property
    def pictures_shown(self) -> int:
        """How many pictures are at hand."""
        return len(self._pixmaps)

    def _note_rows(self, start: int) -> None:
        if start == 0:
            self._rows = {}
            self._wanted = {}
        for row, entry in enumerate(self._listed[start:], start=start):
            self._rows.setdefault(entry.digest, []).append(row)

    def _pixmap(self, entry: Entry) -> QPixmap:
        known = self._pixmaps.get(entry.digest)
        if known is None and not entry.fault and entry.digest not in self._never:
            self._wanted[entry.digest] = entry
            if not self._soon.isActive() and not self.painting.running:
                self._soon.start()
        return known if known is not None else self._blank

    def _paint(self) -> None:
        """Have the pictures asked for last painted first: they are the ones looked at."""
        library = self.library
        if library is None or not self._wanted:
            return
        due = list(self._wanted.values())[-AT_A_TIME:]

        def work(progress: Progress) -> object:
            library.make_thumbnails(
                due, MAKER, picture, lambda done, wanted: progress(done / max(wanted, 1))
            )
            return [(entry.digest, library.thumbnail(entry, MAKER)) for entry in due]

        self.painting.start(work)

    def _on_painted(self, found: list[tuple[str, bytes | None]]) -> None:
        if len(self._pixmaps) > MOST_PIXMAPS:
            for digest in list(self._pixmaps)[: MOST_PIXMAPS // 2]:
                del self._pixmaps[digest]
        for digest, png in found:
            self._wanted.pop(digest, None)
            pixmap = QPixmap()
            if png is None or not pixmap.loadFromData(png):
                self._never.add(digest)  # the file has changed since: the next look tells
                continue
            self._pixmaps[digest] = _sized(pixmap)
            for row in self._rows.get(digest, ()):
                at = self.index(row)
                self.dataChanged.emit(at, at, [Qt.ItemDataRole.DecorationRole])
        if self._wanted:
            self._soon.start()


def _sized(pixmap: QPixmap) -> QPixmap:
    """The picture as wide as it is shown, in the screen's own pixels."""
    screen = QGuiApplication.primaryScreen()
    ratio = screen.devicePixelRatio() if screen is not None else 1.0
    made = pixmap.scaledToWidth(round(SHOWN_PX * ratio), Qt.TransformationMode.SmoothTransformation)
    made.setDevicePixelRatio(ratio)
    return made
