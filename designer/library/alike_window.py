"""Near-duplicates: pairs of routines whose balls stand alike, the nearest first."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
)

from designer.open_routine import Settings
from designer.open_routine.task import Progress
from designer.texts import mark, tr, tr_count
from designer.widgets.fields import CountField
from designer.widgets.side_window import OwnWindow, WorkBar
from engine.library import Library

_MIRRORS = {
    "": "",
    "long": mark("mirrored across the long line"),
    "cross": mark("mirrored across the cross line"),
    "both": mark("mirrored across both lines"),
}


class AlikeWindow(OwnWindow):
    """`open_wanted(path)` when one of a pair is double-clicked."""

    open_wanted = Signal(Path)

    def __init__(self, settings: Settings, library: Library) -> None:
        super().__init__(settings, tr("Near-duplicates"))
        self.resize(760, 520)
        self.library = library
        self.within = CountField()
        self.within.setRange(0, 300)
        self.within.setValue(20)
        self.within.setSuffix(" mm")
        self.within.setAccessibleName(tr("Balls at most apart"))
        self.mirrors = QCheckBox(tr("mirror images too"))
        self.mirrors.setChecked(True)
        self.pairs = QTreeWidget()
        self.pairs.setHeaderLabels([tr("Routine"), tr("Apart"), tr("File")])
        self.pairs.setAccessibleName(tr("Pairs found"))
        self.pairs.itemDoubleClicked.connect(self._on_double)
        self.work = WorkBar(tr("Compare"), tr("comparing"))
        self.work.begun.connect(self.look)
        self.work.task.finished.connect(self._on_found)
        self.work.task.failed.connect(self.tell)
        self.work.kept.connect(self.tell)
        row = QHBoxLayout()
        row.addWidget(QLabel(tr("Balls at most apart")))
        row.addWidget(self.within)
        row.addWidget(self.mirrors)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.addLayout(row)
        column.addWidget(self.work)
        column.addWidget(self.pairs, 1)
        column.addLayout(self.foot)
        self.look()

    def look(self) -> None:
        """Compare all routines of the library."""
        library, within, mirrors = self.library, self.within.value(), self.mirrors.isChecked()

        def work(progress: Progress) -> object:
            pairs = library.alike(
                within, mirrors=mirrors,
                progress=lambda done, wanted: progress(done / max(wanted, 1)),
            )  # fmt: skip
            return pairs, library.entries([key for one in pairs for key in (one.one, one.other)])

        self.work.start(work)

    def close_down(self) -> None:
        """Stop what is under way."""
        self.work.close_down()

    def _on_found(self, found: tuple) -> None:
        pairs, entries = found
        self.pairs.clear()
        for pair in pairs:
            one, other = entries[pair.one], entries[pair.other]
            apart = tr("{apart:.0f} mm", apart=pair.apart_mm)
            row = QTreeWidgetItem([one.title, apart, one.path])
            row.setData(0, Qt.ItemDataRole.UserRole, one.path)
            way = tr(_MIRRORS[pair.mirrored]) if pair.mirrored else ""
            inner = QTreeWidgetItem([other.title, way, other.path])
            inner.setData(0, Qt.ItemDataRole.UserRole, other.path)
            row.addChild(inner)
            self.pairs.addTopLevelItem(row)
            row.setExpanded(True)
        for column in (0, 1):
            self.pairs.resizeColumnToContents(column)
        self.tell(tr_count("{count} pair found.", "{count} pairs found.", len(pairs)))

    def _on_double(self, item: QTreeWidgetItem, _column: int) -> None:
        self.open_wanted.emit(Path(item.data(0, Qt.ItemDataRole.UserRole)))
