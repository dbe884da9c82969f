"""The one row above the table: balls to drag, gap, mark, what is shown, and what is done next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QAction, QPalette
from PySide6.QtWidgets import QMenu, QSizePolicy, QToolBar, QToolButton, QWidget

from designer.setting_up.tray import BallTray
from designer.texts import tr
from designer.widgets.icons import SIDE_PX, icon_for

if TYPE_CHECKING:
    from designer.open_routine import OpenRoutine


class CommandBar(QToolBar):
    """Icons with words. Two actions look like main actions: they are what it is all for."""

    def __init__(self, session: OpenRoutine, parent: QWidget) -> None:
        super().__init__(tr("Commands"), parent)
        self.setObjectName("commands")
        self.setMovable(False)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.setIconSize(QSize(SIDE_PX, SIDE_PX))
        self.tray = BallTray(session)
        self.addWidget(self.tray)
        self._icons: list[tuple[QToolButton, str, QPalette.ColorRole | None]] = []

    def put(self, entry: QAction | QMenu, icon: str, *, main: bool = False) -> QToolButton:
        """One more button: an action, or a menu that opens under it."""
        button = QToolButton()
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        if isinstance(entry, QMenu):
            button.setText(entry.title().replace("&", ""))
            button.setToolTip(button.text())
            button.setMenu(entry)
            button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        else:
            button.setDefaultAction(entry)
        button.setAccessibleName(button.text())
        button.setObjectName("main" if main else "command")
        button.setToolButtonStyle(self.toolButtonStyle())
        self._icons.append((button, icon, QPalette.ColorRole.HighlightedText if main else None))
        self.addWidget(button)
        self._tint()
        return button

    def put_bare(self, entries: Sequence[tuple[QAction, str]]) -> None:
        """Buttons known well enough by their icons: their tips say the rest."""
        for entry, icon in entries:
            self.put(entry, icon).setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)

    def spread(self) -> None:
        """What comes now stands at the other end."""
        space = QWidget()
        space.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.addWidget(space)

    def changeEvent(self, event: QEvent) -> None:
        """Another look, other colours."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._tint()

    def _tint(self) -> None:
        for button, name, role in self._icons:
            action = button.defaultAction()
            (action or button).setIcon(icon_for(self, name, role))
