"""The one row above the table: balls to drag, gap, mark, what is shown, and what is done next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QAction, QPalette, QResizeEvent, QShowEvent
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
        self._bare: list[QToolButton] = []
        #: Width at which every button has room for its word.
        self._wide = 0
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
            self._bare.append(self.put(entry, icon))
            self._bare[-1].setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)

    def spread(self) -> None:
        """What comes now stands at the other end."""
        space = QWidget()
        space.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.addWidget(space)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Where there is no room for all words, the main actions alone keep theirs."""
        super().resizeEvent(event)
        self._suit()

    def showEvent(self, event: QShowEvent) -> None:
        """The room all words need is known once the buttons have their style."""
        super().showEvent(event)
        if not self._wide:
            parts = [self.tray, *(button for button, _, _ in self._icons)]
            for part in parts:
                part.ensurePolished()
            self._wide = sum(part.sizeHint().width() + 6 for part in parts) + 24
        self._suit()

    def _suit(self) -> None:
        ways = Qt.ToolButtonStyle
        room = self.width() >= self._wide
        way = ways.ToolButtonTextBesideIcon if room else ways.ToolButtonIconOnly
        for button, _, _ in self._icons:
            if button.objectName() == "command" and button not in self._bare:
                button.setToolButtonStyle(way)

    def changeEvent(self, event: QEvent) -> None:
        """Another look, other colours."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._tint()

    def _tint(self) -> None:
        for button, name, role in self._icons:
            action = button.defaultAction()
            (action or button).setIcon(icon_for(self, name, role))
