"""How the window looks: paper tones, large enough letters, the program's own icon."""

from __future__ import annotations

import sys

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontDatabase,
    QIcon,
    QPainter,
    QPainterPath,
    QPalette,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import QApplication

from designer.drawing.look import (
    BALL_INKS,
    CHALK,
    CLOTH,
    CUSHION,
    INK,
    LANE_PATTERNS,
    PAPER,
    RIM_EDGE,
)
from designer.fonts.files import font_path
from designer.widgets.style_sheet import set_sheet
from designer.widgets.tones import ON_DARK, SOFT

SURFACE, FIELD, EDGE, CHOSEN = "#f4f2ec", "#ffffff", "#c9c4b8", "#205c8c"
#: Edge of an empty box; ground of the button that has the keys.
BOX, FOCUS, DARK_FOCUS = "#7a8387", "#cfdfec", "#274054"
DARK_SURFACE, DARK_FIELD, DARK_EDGE, LIGHT_INK = "#1f2426", "#30373b", "#4a5256", "#eceae4"
DARK_CHOSEN, DARK_HIGHLIGHT = "#3d86bf", "#2d6fa3"
#: The main actions: ground and words.
MAIN, ON_MAIN = "#205c8d", "#fefefe"
POINT_SIZE = 10.5

_SHEET = f"""
QLabel#heading {{ font-weight: bold; padding-top: 4px; }}
QFrame#message {{ background: {PAPER}; border-top: 1px solid {EDGE}; }}
QTabWidget::pane {{ border: 0; border-top: 1px solid {EDGE}; }}
QToolBar {{ border: 0; border-bottom: 1px solid {EDGE}; spacing: 4px; padding: 3px 8px; }}
QToolButton {{ padding: 3px; border: 1px solid transparent; border-radius: 4px; }}
QToolButton:hover, QToolButton:checked {{ background: {EDGE}; }}
QToolButton:focus {{ border: 1px solid {CHOSEN}; }}
QToolButton::menu-indicator {{ image: none; width: 0; }}
QToolButton#command {{ padding: 4px 7px; }}
QToolButton#main {{ background: {MAIN}; color: {ON_MAIN}; font-weight: bold; padding: 4px 10px; }}
QToolButton#main:hover {{ border: 1px solid {ON_MAIN}; }}
QToolButton#main:focus {{ border: 2px solid {ON_MAIN}; }}
QToolButton#main:disabled {{ background: {EDGE}; }}
QWidget#column {{ border-left: 1px solid {EDGE}; }}
QLabel#soft {{ color: {SOFT}; }}
QLabel#foot {{ padding: 5px 10px; border-top: 1px solid {EDGE}; }}
QLabel#card {{ background: {PAPER}; border: 1px solid {EDGE}; border-radius: 6px; padding: 6px; }}
QMenu#pictured {{ icon-size: 54px; }}
QMenu#pictured::item {{ padding: 0 14px 0 12px; }}
QMenu#pictured::icon {{ left: 6px; }}
QFrame#welcome {{ background: {PAPER}; border: 1px solid {EDGE}; border-radius: 8px; }}
QComboBox#title {{ font-weight: bold; }}
QTabBar::tab {{ padding: 4px 7px; border: 1px solid {EDGE}; border-bottom: 0;
    border-top-left-radius: 3px; border-top-right-radius: 3px; margin-right: 1px; }}
QTabBar::tab:selected {{ background: {PAPER}; border-bottom: 2px solid {CHOSEN}; }}
QTabBar::tab:focus {{ border: 1px solid {CHOSEN}; }}
QDialogButtonBox {{ dialogbuttonbox-buttons-have-icons: 0; }}
QTreeWidget::item {{ padding: 1px 0; }}
QTreeView, QListView, QTableView, QTextBrowser, QPlainTextEdit, QScrollArea[frameShape="6"] {{
    border: 1px solid {EDGE}; }}
QTreeView:focus, QListView:focus, QTableView:focus, QTextBrowser:focus, QPlainTextEdit:focus,
QScrollArea[frameShape="6"]:focus {{ border: 1px solid {CHOSEN}; }}
QPushButton:focus, QToolButton:focus {{ background-color: {FOCUS}; }}
QCheckBox::indicator:unchecked {{ border: 1px solid {BOX}; border-radius: 2px;
    background: {FIELD}; width: 12px; height: 12px; }}
QSplitter::handle {{ background: {EDGE}; }}
QSplitter::handle:horizontal {{ width: 3px; }}
QSplitter::handle:vertical {{ height: 3px; }}
"""


def dress(app: QApplication, look: str = "light") -> None:
    """Give the application its style, colours, letters and icon.

    `look` is "light", "dark", or "system" for what the desktop asks for.
    """
    app.setStyle("Fusion")
    put_on(app, look)
    for bold in (False, True):
        QFontDatabase.addApplicationFont(str(font_path(bold)))
    # Windows and macOS have good letters of their own; elsewhere there may be none at all.
    font = QFont() if sys.platform in ("win32", "darwin") else QFont("DejaVu Sans")
    font.setPointSizeF(max(POINT_SIZE, font.pointSizeF() if sys.platform == "darwin" else 0.0))
    app.setFont(font)
    app.setWindowIcon(program_icon())


def put_on(app: QApplication, look: str) -> None:
    """Give the application its light or dark colours."""
    wanted = app.styleHints().colorScheme() == Qt.ColorScheme.Dark
    dark = look == "dark" or (look == "system" and wanted)
    app.setPalette(_dark_palette() if dark else _palette())
    sheet = _SHEET
    if dark:
        sheet = sheet.replace(PAPER, DARK_FIELD).replace(EDGE, DARK_EDGE)
        sheet = sheet.replace(CHOSEN, DARK_CHOSEN).replace(FOCUS, DARK_FOCUS)
        sheet = sheet.replace(MAIN, DARK_HIGHLIGHT)
        sheet = sheet.replace(SOFT, ON_DARK[SOFT])
    set_sheet(app, sheet)


def _dark_palette() -> QPalette:
    palette = QPalette()
    roles = QPalette.ColorRole
    for role, colour in (
        (roles.Window, DARK_SURFACE),
        (roles.WindowText, LIGHT_INK),
        (roles.Base, DARK_FIELD),
        (roles.AlternateBase, DARK_SURFACE),
        (roles.Text, LIGHT_INK),
        (roles.Button, "#3d454a"),
        (roles.ButtonText, LIGHT_INK),
        (roles.Highlight, DARK_HIGHLIGHT),
        (roles.HighlightedText, PAPER),
        (roles.ToolTipBase, DARK_FIELD),
        (roles.ToolTipText, LIGHT_INK),
        (roles.PlaceholderText, "#98a2a7"),
        (roles.Link, "#8ec3ee"),
        (roles.Light, "#4a5256"),
        (roles.Midlight, "#40474b"),
        (roles.Mid, "#2e3437"),
        (roles.Dark, "#1a1e20"),
        (roles.Shadow, "#0e1011"),
    ):
        palette.setColor(role, QColor(colour))
    for role in (roles.WindowText, roles.Text, roles.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor("#adb5b8"))
    return palette


def _palette() -> QPalette:
    palette = QPalette()
    roles = QPalette.ColorRole
    for role, colour in (
        (roles.Window, SURFACE),
        (roles.WindowText, INK),
        (roles.Base, FIELD),
        (roles.AlternateBase, SURFACE),
        (roles.Text, INK),
        (roles.Button, "#e9e5db"),
        (roles.ButtonText, INK),
        (roles.Highlight, CHOSEN),
        (roles.HighlightedText, PAPER),
        (roles.ToolTipBase, PAPER),
        (roles.ToolTipText, INK),
        (roles.PlaceholderText, "#6d767a"),
        (roles.Link, CHOSEN),
    ):
        palette.setColor(role, QColor(colour))
    for role in (roles.WindowText, roles.Text, roles.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor("#5f666a"))
    return palette


def program_icon() -> QIcon:
    """A ball on the cloth beside a cushion, and the lane it leaves by."""
    icon = QIcon()
    for side in (16, 32, 48, 64, 128, 256):
        icon.addPixmap(icon_picture(side))
    return icon


def icon_picture(side: int) -> QPixmap:
    """The icon, `side` pixels wide and high."""
    pixmap = QPixmap(side, side)
    pixmap.fill(QColor(Qt.GlobalColor.transparent))
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(side / 64.0, side / 64.0)
    frame = QPainterPath()
    frame.addRoundedRect(QRectF(2, 2, 60, 60), 11, 11)
    painter.setPen(QPen(QColor(RIM_EDGE), 3.0))
    painter.setBrush(QColor(CLOTH))
    painter.drawPath(frame)
    painter.setClipPath(frame)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(CUSHION).darker(135))
    painter.drawRect(QRectF(2, 2, 60, 11))
    lane = QPainterPath(QPointF(20, 46))
    lane.quadTo(QPointF(30, 20), QPointF(50, 14))
    wide, line = QColor(LANE_PATTERNS[0].colour), QColor(LANE_PATTERNS[0].colour)
    wide.setAlphaF(0.28)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(wide, 18.0))
    painter.drawPath(lane)
    painter.setPen(QPen(line, 3.4))
    painter.drawPath(lane)
    painter.setPen(QPen(QColor(INK), 2.2))
    painter.setBrush(QColor(CHALK))
    painter.drawEllipse(QPointF(20, 46), 10.5, 10.5)
    painter.setBrush(QColor(BALL_INKS["red"].fill))
    painter.drawEllipse(QPointF(48, 44), 8.5, 8.5)
    painter.end()
    return pixmap
