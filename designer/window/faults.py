"""The list of everything that is wrong with a file, to be read and copied."""

from __future__ import annotations

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialogButtonBox, QLabel, QListWidget, QVBoxLayout, QWidget

from designer.open_routine import Message
from designer.texts import tr
from designer.widgets.plain_label import PlainLabel
from designer.widgets.side_window import SideWindow
from designer.window.names import PROGRAM


class FaultsDialog(SideWindow):
    """Shows a message with all its details, one a line; the work goes on behind it."""

    def __init__(self, message: Message, parent: QWidget | None = None) -> None:
        super().__init__(PROGRAM, parent)
        self.setMinimumWidth(460)
        self.resize(640, 320)
        what = QLabel(message.what)
        what.setObjectName("heading")
        what.setWordWrap(True)
        todo = PlainLabel(message.todo)
        self.list = QListWidget()
        self.list.setWordWrap(True)
        self.list.setAccessibleName(tr("Faults found"))
        self.list.addItems(list(message.details))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        copy = buttons.addButton(tr("Copy"), QDialogButtonBox.ButtonRole.ActionRole)
        copy.clicked.connect(
            lambda: QGuiApplication.clipboard().setText("\n".join(message.details))
        )
        buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(what)
        layout.addWidget(self.list, 1)
        layout.addWidget(todo)
        layout.addWidget(buttons)
