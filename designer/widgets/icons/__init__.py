"""Icons of the Lucide set (ISC licence, beside them), each in the colour of the words around it."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from PySide6.QtCore import QByteArray, QEvent, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPalette, QPixmap
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtWidgets import QToolButton, QWidget

FOLDER = Path(__file__).resolve().parent
#: Drawn larger than shown, so that they stay sharp on screens of high density.
SIDE_PX, SHARP = 20, 3


@lru_cache(maxsize=128)
def icon(name: str, colour: str, faint: str) -> QIcon:
    """An icon by its file's name, in a colour (#rrggbb), and in another where it is disabled."""
    made = QIcon(_pixmap(name, colour))
    made.addPixmap(_pixmap(name, faint), QIcon.Mode.Disabled)
    return made


def _pixmap(name: str, colour: str) -> QPixmap:
    drawing = (FOLDER / f"{name}.svg").read_text(encoding="utf-8").replace("currentColor", colour)
    pixmap = QPixmap(SIDE_PX * SHARP, SIDE_PX * SHARP)
    pixmap.fill(QColor(0, 0, 0, 0))
    painter = QPainter(pixmap)
    QSvgRenderer(QByteArray(drawing.encode("utf-8"))).render(painter, QRectF(pixmap.rect()))
    painter.end()
    return pixmap


class IconButton(QToolButton):
    """A button with an icon and a tip that says what it does; its colour follows the look."""

    def __init__(self, name: str, tip: str, do: Callable[[], object] | None = None) -> None:
        super().__init__()
        self._name = name
        self.setAutoRaise(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setToolTip(tip)
        self.setAccessibleName(tip)
        if do is not None:
            self.clicked.connect(lambda _checked=False: do())
        self._tint()

    def changeEvent(self, event: QEvent) -> None:
        """Another look, another colour."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._tint()

    def _tint(self) -> None:
        self.setIcon(icon_for(self, self._name))


def icon_for(widget: QWidget, name: str, role: QPalette.ColorRole | None = None) -> QIcon:
    """An icon in the colour of a widget's words (or of another role of its palette)."""
    groups, palette = QPalette.ColorGroup, widget.palette()
    role = role or QPalette.ColorRole.ButtonText
    usual, faint = palette.color(groups.Active, role), palette.color(groups.Disabled, role)
    return icon(name, usual.name(), faint.name())
