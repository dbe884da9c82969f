"""The library's folders as a menu: add one, leave one out."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from designer.files.folders_and_files import FolderAsker
from designer.files.library_settings import LibrarySettings
from designer.texts import tr


class FoldersButton(QToolButton):
    """`changed` when the library is made of other folders."""

    changed = Signal()

    def __init__(
        self, keeping: LibrarySettings, asker: FolderAsker, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._keeping, self.asker = keeping, asker
        self.setText(tr("Folders"))
        self.setToolTip(tr("Which folders belong to the library"))
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self)
        menu.aboutToShow.connect(self._fill)
        self.setMenu(menu)

    def add(self) -> None:
        """Ask for a folder and take it into the library."""
        folders = self._keeping.folders
        start = folders[-1] if folders else self._keeping.settings.folder
        found = self.asker.folder(tr("Folder of routines"), start)
        if found is not None:
            self._keeping.keep_folders([*folders, found])
            self.changed.emit()

    def leave_out(self, folder: Path) -> None:
        """Take a folder out of the library; its files stay as they are."""
        self._keeping.keep_folders([one for one in self._keeping.folders if one != folder])
        self.changed.emit()

    def _fill(self) -> None:
        menu = self.menu()
        menu.clear()
        menu.addAction(tr("Add folder…"), self.add)
        menu.addSeparator()
        for folder in self._keeping.folders:
            entry = menu.addAction(tr("Leave out {folder}", folder=str(folder)))
            entry.triggered.connect(lambda _=False, one=folder: self.leave_out(one))
