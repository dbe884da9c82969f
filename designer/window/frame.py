"""The frame: the table as large as it can be, a column beside it, a line below."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QRect, Qt, Signal
from PySide6.QtGui import (
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QShowEvent,
)
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QMenu,
    QScrollArea,
    QSizePolicy,
    QStyle,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from designer.answers.gaps import GapsPanel
from designer.answers.shot import ShotPanel
from designer.answers.todo import TodoPanel
from designer.files.asker import Asker
from designer.files.open_and_save import Files
from designer.open_routine import Message, OpenRoutine, Settings
from designer.open_routine.todo import Todo
from designer.setting_up.balls import BallsPanel
from designer.setting_up.sheet import SheetPanel
from designer.table_view import TableCanvas
from designer.table_view.playback import PlaybackBar
from designer.texts import tr, tr_count
from designer.widgets.panel import Panel
from designer.widgets.text_fields import commit_typing
from designer.window.faults import FaultsDialog
from designer.window.left_work import Recovery
from designer.window.look import put_on
from designer.window.message_bar import MessageBar
from designer.window.names import PANELS, PROGRAM
from designer.words.lanes import doubt

if TYPE_CHECKING:
    from designer.lesson.lesson import Lesson
    from engine.results import RoutineAnswer
    from engine.routine.values import Routine

#: The column's width, px, unless its letters need more.
COLUMN_PX = 308


class MainFrame(QMainWindow):
    """One window with one routine: its parts and what they tell each other, without its menus."""

    closed = Signal(object)
    new_window_wanted = Signal()

    def __init__(self, session: OpenRoutine, settings: Settings) -> None:
        super().__init__()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.session, self.settings = session, settings
        session.setParent(self)
        self.canvas = TableCanvas(session)
        self.shot, self.balls = ShotPanel(session), BallsPanel(session)
        self.gaps, self.sheet = GapsPanel(session), SheetPanel(session)
        self.todo = TodoPanel(session)
        self.playback = PlaybackBar(session)
        session.levels.put(settings.load_players())
        session.levels.changed.connect(lambda: settings.save_players(session.levels.players))
        self.files = Files(session, settings, Asker(self), self)
        self.files.leaving.connect(lambda: commit_typing(self))
        self.recovery = Recovery(session, settings.recovery_folder, self, lambda: self.files.seen)
        self.messages = MessageBar()
        self.recent = QMenu(tr("Open recent"), self)
        #: The lesson that is being given.
        self.lesson: Lesson | None = None
        self._lay_out()
        self.setAcceptDrops(True)
        session.changed.connect(self._show_name)
        self.files.opened.connect(self._on_opened)
        session.view_changed.connect(self._on_view)
        session.messages.told.connect(self._on_message)
        for signal in (session.answered, session.pointed):
            signal.connect(self._show_doubt)
        self.messages.whole_wanted.connect(self._read_whole)
        self.todo.went.connect(self._on_went)
        self.todo.counted.connect(self._show_count)
        session.attend.connect(self._on_attend)
        self._show_name()
        self._place()

    # Files -----------------------------------------------------------------------------------

    def open_at_start(self, path: Path) -> None:
        """Open a file named at the start; a faulty one leaves the window empty with a message."""
        self.files.open(path)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files of this computer."""
        if _dropped_file(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the file dropped."""
        path = _dropped_file(event)
        if path is not None:
            event.acceptProposedAction()
            self.files.open(path)

    def changeEvent(self, event: QEvent) -> None:
        """Back from another program: see whether it has changed the file."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow():
            self.files.look_again()

    # Layout ----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        panels: tuple[Panel, ...] = (self.shot, self.balls, self.gaps, self.sheet, self.todo)
        for name, panel in zip(PANELS, panels, strict=True):
            self.tabs.setTabText(self.tabs.addTab(_scrolled(panel, name), ""), tr(name))
        self.to_fix = QLabel()
        self.to_fix.setObjectName("foot")
        # A line and its padding, so that nothing moves when there is something to say.
        self.to_fix.setFixedHeight(self.fontMetrics().lineSpacing() + 14)
        self.to_fix.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse
            | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        self.to_fix.linkActivated.connect(lambda _link: self.show_panel("To fix"))
        self.column = QWidget()
        self.column.setObjectName("column")
        self.column.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        beside = QVBoxLayout(self.column)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(0)
        beside.addWidget(self.tabs, 1)
        beside.addWidget(self.playback)
        beside.addWidget(self.to_fix)
        across = QHBoxLayout()
        across.setSpacing(0)
        across.addWidget(self.canvas, 1)
        across.addWidget(self.column)
        whole = QWidget()
        layout = QVBoxLayout(whole)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(across, 1)
        layout.addWidget(self.messages)
        self.setCentralWidget(whole)
        self.canvas.setFocus()

    def _place(self) -> None:
        """Take the size of last time, or most of the screen."""
        geometry = self.settings.load_bytes("window")
        screen = QGuiApplication.primaryScreen()
        room = screen.availableGeometry() if screen is not None else QRect(0, 0, 1280, 800)
        if geometry is None or not self.restoreGeometry(geometry):
            self.resize(min(room.width(), 1500), min(room.height(), 950))

    def share_room(self) -> None:
        """Give the column the width it needs, the table all the rest."""
        bar = self.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent)
        panels = (self.shot, self.balls, self.gaps, self.sheet, self.todo)
        needed = max(panel.minimumSizeHint().width() for panel in panels) + bar + 4
        needed = max(needed, self.tabs.tabBar().sizeHint().width() + 2)
        self.column.setFixedWidth(max(COLUMN_PX, needed))

    def showEvent(self, event: QShowEvent) -> None:
        """Share the room out once it is known."""
        super().showEvent(event)
        if not event.spontaneous():
            self.share_room()

    def turn(self) -> None:
        """Lay the table on its side, or stand it up with baulk at the bottom."""
        view = self.session.view
        self.session.set_view(replace(view, turned=not view.turned))

    def turn_about(self) -> None:
        """Show the table from its other end."""
        view = self.session.view
        self.session.set_view(replace(view, far=not view.far))

    def see_as_player(self) -> None:
        """Show the table as the player of the shot on show sees it: upright, the shot going up."""
        self.session.set_view(
            replace(self.session.view, turned=False, far=self.session.plays_down())
        )

    def other_routines(self) -> list[tuple[Routine, RoutineAnswer | None]]:
        """The routines of the other windows, each with its full answer if it is there."""
        return [
            (one.session.routine, one.session.answer if one.session.answer_is_full else None)
            for one in QApplication.topLevelWidgets()
            if isinstance(one, MainFrame) and one is not self and one.isVisible()
        ]

    def set_look(self, look: str) -> None:
        """Show the program light, dark, or as the desktop does; every window follows."""
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        self.settings.look = look
        put_on(app, look)
        for window in app.topLevelWidgets():
            if isinstance(window, MainFrame):
                window.messages.retone()
                # Panels write their words anew, in colours for the new ground.
                window.session.view_changed.emit()

    def begin_lesson(self) -> Lesson | None:
        """Ask the routine's shots on the whole screen; told when there is nothing to ask."""
        from designer.lesson.lesson import Lesson

        if not self.session.routine.shots:
            self.session.messages.warn(tr("There is nothing to ask yet."), tr("Add a shot first."))
            return None
        if self.lesson is not None:
            self.lesson.begin()
            return self.lesson
        lesson = self.lesson = Lesson(self.session, self.settings, self)
        lesson.left.connect(lambda: setattr(self, "lesson", None))
        lesson.left.connect(self.activateWindow)
        lesson.left.connect(self.canvas.setFocus)
        lesson.begin()
        return lesson

    def show_panel(self, name: str) -> None:
        """Show one of the tabs by its name and go to it."""
        self.column.show()
        self.tabs.setCurrentIndex(self._index_of(name))
        self.tabs.currentWidget().setFocus()

    def _index_of(self, name: str) -> int:
        return next((i for i in range(self.tabs.count()) if self._name_of(i) == name), 0)

    def _name_of(self, index: int) -> str:
        page = self.tabs.widget(index)
        return page.objectName() if page is not None else ""

    # Listening -------------------------------------------------------------------------------

    def _show_name(self, change: object = None) -> None:
        document = self.session.document
        self.setWindowTitle(f"{self.files.name}[*] – {PROGRAM}")
        self.setWindowModified(document.changed_since_save)
        self.setWindowFilePath(str(document.path) if document.path is not None else "")

    def _on_opened(self) -> None:
        """A routine with a shot is opened to be looked at, one without to be set up."""
        shown = "Shot" if self.session.routine.shots else "Balls"
        self.tabs.setCurrentIndex(self._index_of(shown))

    def _on_went(self, todo: Todo) -> None:
        """Show the panel of what is to be seen to; balls are on the table."""
        if todo.gap or todo.claim is not None:
            self.show_panel("Gaps")
            self.gaps.point_at(gap_id=todo.gap, claim=todo.claim)
        elif todo.lane or (todo.shot and not todo.balls):
            self.show_panel("Shot")
        else:
            self.canvas.setFocus()

    def _on_attend(self, panel: str) -> None:
        self.show_panel(panel)
        if self.session.mark is not None:
            self.balls.mark.note.setFocus()

    def _show_count(self, count: int, waiting: bool) -> None:
        """What there is to fix, at the foot of the column."""
        words = tr_count("{count} thing to fix", "{count} things to fix", count)
        link = f'<a href="fix">{words}</a>'
        calm = tr("being checked …") if waiting else tr("✓ Nothing to fix")
        begun = bool(self.session.routine.balls)
        self.to_fix.setText((link if count else calm) if begun else "")

    def _show_doubt(self) -> None:
        """That what is shown is a prediction, and how far off to expect it where that is known."""
        lane = self.session.lane_answer
        told = tr("a prediction, to be tried on the table") if lane is not None else ""
        if lane is not None and lane.doubt is not None:
            told = tr("a prediction: {doubt}", doubt=doubt(self.session.wording, lane.doubt))
        self.messages.show_beside(told)

    def _on_view(self) -> None:
        self.settings.save_view(self.session.view)

    def _on_message(self, message: Message) -> None:
        self.messages.tell(message)
        if message.details:
            self._read_whole(message)

    def _read_whole(self, message: Message) -> None:
        FaultsDialog(message, self).open()


def _scrolled(panel: QWidget, name: str) -> QScrollArea:
    """A panel that can be scrolled where the window is too low for it."""
    area = QScrollArea()
    area.setObjectName(name)
    area.setWidget(panel)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
    return area


def _dropped_file(event: QDropEvent) -> Path | None:
    for url in event.mimeData().urls():
        if url.isLocalFile() and Path(url.toLocalFile()).is_file():
            return Path(url.toLocalFile())
    return None
