"""Opens every side window at one scale, in one look and language, and tells what does not fit.

Run as a program, for the scale is settled when Qt starts:
    python -m tests.designer.windows_looked_at PICTURES SCALE LOOK LONGER(0 or 1)
It prints one fault a line; pictures of all windows go into the folder, if one is named.
"""

import gettext
import json
import math
import os
import re
import sys
import tempfile
from pathlib import Path

#: The smallest screen every side window fits, in logical pixels, and its frame.
SCREEN, FRAME = (1280, 720), (8, 36)
_KEPT = re.compile(r"\{[^}]*\}|<[^>]*>|\(\*[^)]*\)|&[a-z]+;")


class LongerCatalogue(gettext.NullTranslations):
    """Makes every word three tenths longer, as other languages do."""

    def gettext(self, message):
        parts, end = [], 0
        for kept in _KEPT.finditer(message):
            parts += [_longer(message[end : kept.start()]), kept.group()]
            end = kept.end()
        return "".join(parts) + _longer(message[end:])

    def ngettext(self, one, many, count):
        return self.gettext(one if count == 1 else many)


def _longer(text):
    return re.sub(r"[^\W\d_]{2,}", lambda w: w[0] + w[0][-1] * math.ceil(0.3 * len(w[0])), text)


def screen_of(scale, folder):
    """What makes Qt draw on a screen of that size that is not there."""
    size = [round(scale * side) for side in SCREEN]
    config = Path(folder) / "screen.json"
    screen = {"name": "desk", "x": 0, "y": 0, "width": size[0], "height": size[1], "dpr": 1,
              "logicalDpi": 96, "logicalBaseDpi": 96}  # fmt: skip
    config.write_text(json.dumps({"screens": [screen]}))
    return {"QT_QPA_PLATFORM": f"offscreen:configfile={config}", "QT_SCALE_FACTOR": str(scale)}


def faults_of(window):
    """What of a window does not fit: the window itself, and texts in their widgets."""
    from PySide6.QtWidgets import QWidget

    room = [side - frame for side, frame in zip(SCREEN, FRAME, strict=True)]
    size = (window.width(), window.height())
    if size[0] > room[0] or size[1] > room[1]:
        yield f"is {size[0]} x {size[1]}, more than {room[0]} x {room[1]}"
    screen = window.screen().availableGeometry()
    if not screen.contains(window.geometry()):
        yield f"lies off the screen: {window.geometry().getRect()}"
    # Where the coach's window of a lesson stands depends on the screens: see test_screens.
    led = type(window).__name__ == "CoachWindow"
    if window.pos().isNull() and size != tuple(room) and not led:
        yield "opened in the corner"
    for widget in window.findChildren(QWidget):
        if widget.isVisible():
            for text in cut_texts(widget):
                yield f"{type(widget).__name__} cuts “{text[:60]}” at {widget.width()} px"


def cut_texts(widget):
    """The texts of a widget that its room cuts off."""
    from PySide6.QtCore import Qt
    from PySide6.QtWidgets import (
        QAbstractButton,
        QAbstractSpinBox,
        QCheckBox,
        QComboBox,
        QHeaderView,
        QLabel,
        QLineEdit,
        QPushButton,
        QStyle,
        QStyleOptionButton,
        QStyleOptionComboBox,
        QTabBar,
        QToolButton,
    )  # fmt: skip

    metrics, style = widget.fontMetrics(), widget.style()

    def wide(text):
        return metrics.size(Qt.TextFlag.TextShowMnemonic, text).width()

    match widget:
        case QLabel() if widget.text():
            if widget.wordWrap():
                needed = widget.heightForWidth(widget.width())
                cut = needed > widget.height() or wide(_longest_word(widget.text())) > (
                    widget.contentsRect().width()
                )
            else:
                hint = widget.minimumSizeHint()
                cut = hint.width() > widget.width() or hint.height() > widget.height()
            if cut:
                yield widget.text()
        case QCheckBox() | QPushButton():
            option = QStyleOptionButton()
            widget.initStyleOption(option)
            part = (
                QStyle.SubElement.SE_CheckBoxContents
                if isinstance(widget, QCheckBox)
                else QStyle.SubElement.SE_PushButtonContents
            )
            room = style.subElementRect(part, option, widget)
            if wide(widget.text()) > room.width() or metrics.ascent() > room.height():
                yield widget.text()
        case QToolButton() if widget.toolButtonStyle() == Qt.ToolButtonStyle.ToolButtonIconOnly:
            return
        case QAbstractButton() if widget.text():
            if wide(widget.text()) > widget.width():
                yield widget.text()
        case QComboBox():
            option = QStyleOptionComboBox()
            widget.initStyleOption(option)
            part = QStyle.SubControl.SC_ComboBoxEditField
            room = style.subControlRect(QStyle.ComplexControl.CC_ComboBox, option, part, widget)
            if wide(widget.currentText()) > room.width():
                yield widget.currentText()
        case QLineEdit():
            inner = isinstance(widget.parent(), QAbstractSpinBox)
            text = widget.text() if inner else widget.placeholderText()
            room = widget.contentsRect()
            if wide(text) > room.width() or (inner and metrics.height() > room.height()):
                yield text
        case QTabBar():
            for index in range(widget.count()):
                rect, text = widget.tabRect(index), widget.tabText(index)
                if rect.right() > widget.width() or wide(text) > rect.width():
                    yield text
        case QHeaderView() if widget.orientation() == Qt.Orientation.Horizontal:
            for index in range(widget.count()):
                text = widget.model().headerData(index, widget.orientation())
                if text and wide(str(text)) + 6 > widget.sectionSize(index) > 0:
                    yield str(text)
            view, off = widget.parent(), Qt.ScrollBarPolicy.ScrollBarAlwaysOff
            if widget.length() > widget.width() and view.horizontalScrollBarPolicy() == off:
                yield "the last columns"


def settle(window):
    """Let a window finish what it does by itself."""
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    def until(state):
        for _ in range(3000):
            if state():
                return
            QTest.qWait(20)
        raise AssertionError("a window does not come to rest within a minute")

    QApplication.processEvents()
    if hasattr(window, "catch_up"):
        window.catch_up()
    until(lambda: not getattr(getattr(getattr(window, "work", 0), "task", 0), "running", False))
    if hasattr(window, "entries") and window.entries.rowCount():
        window.list.setCurrentIndex(window.entries.index(0))
        until(lambda: window.entries.pictures_shown > 0)
    QApplication.processEvents()


def _longest_word(text):
    plain = re.sub(r"<[^>]*>", " ", text)
    # A path or an address breaks nowhere, and is nobody's wording.
    words = [word for word in plain.split() if "/" not in word and "\\" not in word]
    return max(words, key=len, default="")


def main(pictures, scale, look, longer):
    """Print the faults of every side window; the number of windows last."""
    from PySide6.QtWidgets import QApplication

    from designer import texts
    from designer.lesson.lesson import Lesson
    from designer.open_routine import OpenRoutine, Predictions, Settings
    from designer.window.garbage import GarbageSearch
    from designer.window.look import dress, put_on
    from designer.window.main_window import DesignerWindow
    from engine.routine.document import Document
    from engine.storage import load_routine
    from tests.designer.every_window import every_window

    app = QApplication(sys.argv[:1])
    dress(app)
    GarbageSearch(app)
    put_on(app, look)
    if longer:
        texts.use_catalogue(LongerCatalogue())
    house = Path(__file__).resolve().parents[2]
    folder = Path(tempfile.mkdtemp())
    settings = Settings(folder / "settings.ini")
    routine = load_routine(house / "layouts_demo" / "04-left-right-or-between.json")
    session = OpenRoutine(Document(routine), Predictions(aside=False))
    session.predictions.prepare()
    session.predictions.ask_now(session.routine)
    window = DesignerWindow(session, settings)
    window.resize(SCREEN[0] - FRAME[0] - 8, SCREEN[1] - FRAME[1] - 8)
    window.move(4, 4)
    window.show()
    count = 0
    for shown in every_window(window, settings, folder):
        if isinstance(shown, Lesson):
            continue
        settle(shown)
        count += 1
        name = f"{count:02}-{type(shown).__name__}"
        if pictures:
            shown.grab().save(str(Path(pictures) / f"{name}.png"))
        for fault in faults_of(shown):
            print(f"{name}: {fault}", flush=True)
    print(f"{count} windows", flush=True)
    # The windows are not worth taking apart one by one.
    os._exit(0)


if __name__ == "__main__":
    main(sys.argv[1], float(sys.argv[2]), sys.argv[3], sys.argv[4] == "1")
