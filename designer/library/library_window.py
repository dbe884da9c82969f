"""The library: what the folders hold, found by words and facts, with a picture of each set-up."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QEvent, QModelIndex, QSize, Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from designer.library.entries import Entries
from designer.library.filters import Filters
from designer.library.folders import FoldersButton
from designer.library.pictures import pixmap_of
from designer.library.watching import FolderWatch
from designer.open_routine import Settings
from designer.open_routine.task import Progress
from designer.texts import tr, tr_count
from designer.widgets.buttons import action_button
from designer.widgets.plain_label import PlainLabel
from designer.widgets.side_window import OwnWindow, WorkBar
from designer.words.library import entry_lines
from engine.errors import BaizewrightError
from engine.library import Entry, Library, Query, tag_file
from engine.storage import load_routine

#: Share of the progress that reading files takes, the rest is looking at reach.
_READING = 0.3
_PICTURE_PX = 420


class LibraryWindow(OwnWindow):
    """`open_wanted(path)`, `plan_wanted(path)`, `harder_wanted(path)`, `alike_wanted(library)`."""

    open_wanted = Signal(Path)
    plan_wanted = Signal(Path)
    harder_wanted = Signal(Path)
    alike_wanted = Signal(object)
    tags_wanted = Signal(Path, list)

    def __init__(self, settings: Settings) -> None:
        super().__init__(settings, tr("Library"))
        self.resize(1180, 760)
        self.library: Library | None = None
        self._again = False
        self.filters = Filters()
        self.folders = FoldersButton(self.keeping, self.asker)
        self.entries = Entries(self)
        self.list = QListView()
        self.list.setAccessibleName(tr("Routines found"))
        self.list.setModel(self.entries)
        self.list.setIconSize(QSize(160, 84))
        self.list.setUniformItemSizes(True)
        self.list.setSpacing(2)
        self.list.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.work = WorkBar(
            tr("Refresh"), tr("looking through the folders"), kept_from_escape=False
        )
        self.watch = FolderWatch(self)
        self.card = Card()
        self._lay_out()
        self.filters.changed.connect(self.show_found)
        self.folders.changed.connect(self.open_library)
        self.list.doubleClicked.connect(self._on_double)
        self.list.selectionModel().currentChanged.connect(self._on_chosen)
        self.entries.modelReset.connect(self._on_chosen)
        self.work.begun.connect(self.look)
        self.work.task.finished.connect(self._on_looked)
        self.work.task.failed.connect(self._on_failed)
        self.watch.changed.connect(self.look_quietly)
        self.card.open.clicked.connect(lambda: self._send(self.open_wanted))
        self.card.plan.clicked.connect(lambda: self._send(self.plan_wanted))
        self.card.harder.clicked.connect(lambda: self._send(self.harder_wanted))
        self.card.tags.editingFinished.connect(self._on_tags)
        self.open_library()

    @property
    def chosen(self) -> Entry | None:
        """The routine chosen in the list."""
        return self.entries.entry(self.list.currentIndex().row())

    def open_library(self) -> None:
        """Begin with the folders as they are kept now."""
        self._close_library()
        folders = self.keeping.folders
        self.card.show_entry(None)
        if not folders:
            self.entries.show_found(None, Query())
            self.tell(tr("The library has no folder yet: add one with the button Folders."))
            return
        try:
            self.library = Library(folders, self.keeping.index_file)
        except BaizewrightError as error:
            self.tell(str(error))
            return
        self.watch.watch(folders)
        self._show_changes(self.library)
        self.look()

    def show_found(self) -> None:
        """Show what is looked for now."""
        fault = self.filters.fault()
        if fault:
            self.tell(fault)
            return
        kept = self.chosen.path if self.chosen is not None else ""
        self.entries.show_found(self.library, self.filters.query())
        row = self.entries.row_of(kept) if kept else -1
        if row >= 0:
            self.list.setCurrentIndex(self.entries.index(row))
        if self.library is not None:
            self.tell(
                tr("{found} of {count} routines", found=self.entries.total,
                   count=self.library.count())
            )  # fmt: skip

    def look(self) -> None:
        """Bring the index up to date, then look at reach where nobody has; with progress."""
        library = self.library
        if library is None:
            return
        if self.work.task.running:
            self._again = True
            return

        def work(progress: Progress) -> object:
            found = library.refresh(lambda done, wanted: progress(_READING * done / max(wanted, 1)))
            done = 0
            if not found.broken_off:
                done = library.look_at_reach(
                    lambda done, wanted: progress(
                        _READING + (1.0 - _READING) * done / max(wanted, 1)
                    )
                )
            return found.differs or done > 0

        self.work.start(work)

    def look_quietly(self) -> None:
        """Refresh without being asked, but not while a look is called off or under way."""
        if self.isVisible():
            self.look()

    def changeEvent(self, event: QEvent) -> None:
        """Refresh when the window is turned to: files may have changed meanwhile."""
        turned_to = event.type() == QEvent.Type.ActivationChange and self.isActiveWindow()
        if turned_to and not self.work.task.running:
            self.look()
        super().changeEvent(event)

    def may_leave(self) -> bool:
        """Tags typed and not handed over yet are written first."""
        self._on_tags()
        return True

    def close_down(self) -> None:
        """Stop what is under way; what was done of it is kept."""
        self._close_library()
        self.entries.close()

    def _close_library(self) -> None:
        self.watch.stop()
        self.work.close_down()
        self.library = None

    def _send(self, signal: object) -> None:
        entry = self.chosen
        if entry is not None and not entry.fault:
            signal.emit(Path(entry.path))  # type: ignore[attr-defined]

    def _on_double(self, _index: QModelIndex) -> None:
        self._send(self.open_wanted)

    def _on_chosen(self, *_: object) -> None:
        self.card.show_entry(self.chosen)

    def _on_looked(self, differs: object) -> None:
        library = self.library
        if library is None:
            return
        if differs:
            self._show_changes(library)
        if self._again:
            self._again = False
            self.look()

    def _show_changes(self, library: Library) -> None:
        """Show what a look has found, the list where it was scrolled to."""
        scrolled = self.list.verticalScrollBar().value()
        self.filters.offer_tags(library.values_of("tag"))
        self.show_found()
        faulty = library.count(Query(faulty=True))
        if faulty:
            told = tr_count(
                "{count} file cannot be read as a routine.",
                "{count} files cannot be read as routines.",
                faulty,
            )
            self.tell(f"{self.note.text()}  ·  {told}")
        self.list.verticalScrollBar().setValue(scrolled)

    def _on_failed(self, words: str) -> None:
        self.tell(words)

    def _on_tags(self) -> None:
        entry = self.chosen
        if entry is None or entry.fault or not self.card.tags.isModified():
            return
        self.card.tags.setModified(False)
        wanted = [tag for tag in self.card.tags.text().split(",") if tag.strip()]
        self.tags_wanted.emit(Path(entry.path), wanted)

    def write_tags(self, path: Path, tags: list[str]) -> bool:
        """Give a routine's file these tags; False, told why, when it cannot be."""
        try:
            kept = load_routine(path).tags
            gone = [tag for tag in kept if tag not in tags]
            tag_file(path, tags, gone)
        except BaizewrightError as error:
            self.tell(str(error))
            return False
        self.look()
        return True

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.filters, 1)
        side = QVBoxLayout()
        self.folders.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        side.addWidget(self.folders)
        self.alike = action_button(
            tr("Near-duplicates…"), lambda: self.alike_wanted.emit(self.library)
        )
        self.alike.setToolTip(tr("Routines whose balls stand alike, mirrored or not"))
        side.addWidget(self.alike)
        side.addStretch(1)
        top.addLayout(side)
        middle = QHBoxLayout()
        middle.addWidget(self.list, 3)
        middle.addWidget(self.card, 2)
        column = QVBoxLayout(self)
        column.addLayout(top)
        column.addLayout(middle, 1)
        column.addWidget(self.work)
        column.addLayout(self.foot)


class Card(QWidget):
    """The routine chosen: its picture, its facts, its tags, and what can be done with it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.picture = QLabel()
        self.picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.picture.setMinimumSize(_PICTURE_PX, _PICTURE_PX * 11 // 20)
        self.words, self.file = PlainLabel(), PlainLabel()
        self.tags = QLineEdit()
        self.tags.setPlaceholderText(tr("Tags, separated by commas"))
        self.tags.setAccessibleName(tr("Tags"))
        self.open = QPushButton(tr("Open"))
        self.plan = QPushButton(tr("Add to lesson plan"))
        self.harder = QPushButton(tr("Make harder or easier…"))
        grid = QGridLayout()
        grid.addWidget(self.open, 0, 0)
        grid.addWidget(self.plan, 0, 1)
        grid.addWidget(self.harder, 1, 0, 1, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 0, 0, 0)
        column.addWidget(self.picture)
        column.addWidget(self.words)
        column.addWidget(self.tags)
        column.addLayout(grid)
        column.addWidget(self.file)
        column.addStretch(1)
        self.show_entry(None)

    def show_entry(self, entry: Entry | None) -> None:
        """Show a routine, or that none is chosen."""
        sound = entry is not None and not entry.fault
        for part in (self.open, self.plan, self.harder, self.tags):
            part.setEnabled(sound)
        self.picture.clear()
        self.tags.setText(", ".join(entry.tags) if entry is not None else "")
        self.words.setText(entry_lines(entry) if entry is not None else tr("No routine chosen."))
        self.file.setText(entry.path if entry is not None else "")
        if entry is None or entry.fault:
            return
        try:
            pixmap = pixmap_of(load_routine(entry.path), _PICTURE_PX, self.devicePixelRatio())
        except BaizewrightError as error:
            self.words.setText(str(error))
            return
        self.picture.setPixmap(pixmap)
