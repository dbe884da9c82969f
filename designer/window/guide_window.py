"""The guide in a window of its own: its pages on the left, the chosen one beside them."""

from __future__ import annotations

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QKeySequence, QShortcut, QTextDocument
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QListWidget,
    QSplitter,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from designer.guide import pages
from designer.texts import language, tr
from designer.widgets.side_window import SideWindow

MARGIN_PX = 22


class GuideWindow(SideWindow):
    """Shows the guide; the work goes on behind it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Guide"), parent)
        self.resize(1040, 760)
        self.pages = pages(language())
        self.list = QListWidget()
        self.list.setAccessibleName(tr("Pages of the guide"))
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.addItems([one.title for one in self.pages])
        self.browser = QTextBrowser()
        self.browser.setAccessibleName(tr("Page of the guide"))
        self.browser.document().setDocumentMargin(MARGIN_PX)
        self.browser.sourceChanged.connect(self._on_source)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.back = buttons.addButton(tr("Back"), QDialogButtonBox.ButtonRole.ActionRole)
        self.back.setEnabled(False)
        self.back.clicked.connect(self.browser.backward)
        self.browser.backwardAvailable.connect(self.back.setEnabled)
        buttons.rejected.connect(self.reject)
        beside = QSplitter()
        beside.addWidget(self.list)
        beside.addWidget(self.browser)
        beside.setStretchFactor(1, 1)
        beside.setSizes([230, 810])
        layout = QVBoxLayout(self)
        layout.addWidget(beside, 1)
        layout.addWidget(buttons)
        self.list.currentRowChanged.connect(self._on_row)
        for keys, do in (
            (QKeySequence.StandardKey.ZoomIn, self.browser.zoomIn),
            (QKeySequence.StandardKey.ZoomOut, self.browser.zoomOut),
        ):
            QShortcut(QKeySequence(keys), self).activated.connect(do)
        self.turn_to("index")

    def turn_to(self, name: str) -> None:
        """Show the page of that name; an unknown one shows the contents."""
        names = [one.name for one in self.pages]
        self.list.setCurrentRow(names.index(name) if name in names else 0)

    def _on_row(self, row: int) -> None:
        if 0 <= row < len(self.pages):
            file = self.pages[row].file
            if file.name != self.browser.source().fileName():
                source = QUrl.fromLocalFile(str(file))
                self.browser.setSource(source, QTextDocument.ResourceType.MarkdownResource)

    def _on_source(self, source: QUrl) -> None:
        """A link was followed: mark its page in the list."""
        for row, one in enumerate(self.pages):
            if one.file.name == source.fileName():
                self.list.setCurrentRow(row)


def show_guide(parent: QWidget, page: str = "") -> GuideWindow:
    """Bring the guide to the front, turned to that page; without one an open guide stays put."""
    window = parent.findChild(GuideWindow) or GuideWindow(parent)
    if page:
        window.turn_to(page)
    window.show()
    window.raise_()
    return window
