"""Plain lists of rows, filled without losing the selection or flickering."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QIcon, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QListWidget,
    QTreeWidget,
    QTreeWidgetItem,
)

#: Room for the titles and about two rows.
LEAST_PX = 72

#: Key of a row, its texts by column, its picture.
Row = tuple[str, Sequence[str], QIcon | None]


def bare_list(titles: Sequence[str], wide: int) -> QTreeWidget:
    """A list with these column titles, one row selected at a time.

    The column `wide` takes what room the others leave; too little shortens its texts, which
    are then read by pointing at them.
    """
    rows = QTreeWidget()
    rows.setColumnCount(len(titles))
    rows.setHeaderLabels(list(titles))
    rows.setRootIsDecorated(False)
    rows.setUniformRowHeights(True)
    rows.setAllColumnsShowFocus(True)
    rows.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    rows.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    rows.setMinimumHeight(LEAST_PX)
    header = rows.header()
    header.setSectionsMovable(False)
    header.setStretchLastSection(False)
    header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    header.setSectionResizeMode(wide, QHeaderView.ResizeMode.Stretch)
    rows.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    return rows


def fill_list(into: QTreeWidget, rows: Sequence[Row], selected: str) -> None:
    """Bring a list up to date: rows in order, one selected; signals stay silent."""
    blocked = into.blockSignals(True)
    while into.topLevelItemCount() > len(rows):
        into.takeTopLevelItem(into.topLevelItemCount() - 1)
    chosen: QTreeWidgetItem | None = None
    for index, (key, texts, icon) in enumerate(rows):
        item = into.topLevelItem(index)
        if item is None:
            item = QTreeWidgetItem()
            into.addTopLevelItem(item)
        _fill(item, key, texts, icon)
        if key == selected:
            chosen = item
    if chosen is None:
        into.clearSelection()
        into.selectionModel().clearCurrentIndex()
    elif not chosen.isSelected():
        into.setCurrentItem(chosen)
    into.blockSignals(blocked)
    _limit_height(into)


def remove_by_key(rows: QTreeWidget | QListWidget, remove: Callable[[], object]) -> None:
    """Have Delete, while the list has the keys, do what its Remove button does."""
    for key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
        shortcut = QShortcut(QKeySequence(key), rows)
        shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
        shortcut.activated.connect(lambda: remove() if rows.selectedItems() else None)


def key_of(rows: QTreeWidget) -> str:
    """Key of the selected row, "" if none is."""
    items = rows.selectedItems()
    return str(items[0].data(0, Qt.ItemDataRole.UserRole)) if items else ""


def _limit_height(rows: QTreeWidget) -> None:
    """No higher than its rows, so that what follows stands right below them."""
    last = rows.topLevelItem(rows.topLevelItemCount() - 1)
    row = rows.visualItemRect(last).height() if last is not None else 0
    row = row or rows.sizeHintForRow(0)
    high = rows.header().sizeHint().height() + rows.topLevelItemCount() * max(row, 0) + 6
    high = max(high, LEAST_PX)
    if rows.maximumHeight() != high:
        rows.setMaximumHeight(high)


def _fill(item: QTreeWidgetItem, key: str, texts: Sequence[str], icon: QIcon | None) -> None:
    item.setData(0, Qt.ItemDataRole.UserRole, key)
    for column, text in enumerate(texts):
        if item.text(column) != text:
            item.setText(column, text)
            item.setToolTip(column, text)
    if icon is not None and item.icon(0).cacheKey() != icon.cacheKey():
        item.setIcon(0, icon)
