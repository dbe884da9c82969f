"""The window's menus and the bar above the table."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from designer.exporting.diagram import write_diagram
from designer.guide import FOLDER as GUIDE
from designer.setting_up.clipboard import copy_balls, paste_balls
from designer.texts import tr
from designer.window.actions import Entry, LayerMenu, UnitChoice, action, fill_menu, step_text
from designer.window.command_bar import CommandBar
from designer.window.frame import MainFrame
from designer.window.help import show_about, show_keys
from designer.window.names import PANEL_KEYS, PANELS, PROGRAM
from designer.window.open_dialogs import OpenDialogs

Key = QKeySequence.StandardKey
_BESIDE = Path(__file__).resolve().parents[2] / "layouts_demo"
#: An installed package has no folder beside it; the guide's own routine comes along always.
EXAMPLES = _BESIDE if _BESIDE.is_dir() else GUIDE


class Menus:
    """Builds menus and bar for a window and keeps their words up to date."""

    def __init__(self, window: MainFrame) -> None:
        self._window, self._session = window, window.session
        self.undo = action(window, Entry(tr("Undo"), window.session.undo, Key.Undo))
        self.redo = action(window, Entry(tr("Redo"), window.session.redo, Key.Redo))
        self.layers = LayerMenu(window.session, window)
        self.units = UnitChoice(window.session, window)
        self.whole = action(
            window,
            Entry(tr("Whole table"), window.canvas.show_all, "Ctrl+0", tr("Show all of the table")),
        )
        self.turn = action(
            window,
            Entry(tr("Turn table"), window.turn, "Ctrl+T", tr("Lying or standing on the screen")),
        )
        self.about = action(
            window,
            Entry(
                tr("From the other end"),
                window.turn_about,
                "Ctrl+Shift+U",
                tr("Baulk at the other end of the screen"),
            ),
        )
        self.about.setCheckable(True)
        self.turn.setIconText(tr("Turn"))
        self.as_player = action(
            window,
            Entry(
                tr("From the player’s end"),
                window.see_as_player,
                "Ctrl+Shift+Y",
                tr("Upright, with the shot on show going up the screen"),
            ),
        )
        self.handout = action(
            window, Entry(tr("Make handout…"), self._make_handout, "Ctrl+P", tr("A PDF to print"))
        )
        self.play = action(
            window,
            Entry(
                tr("Play shot"),
                window.session.player.toggle,
                "Ctrl+R",
                tr("Play the selected lane"),
            ),
        )
        self.play.setIconText(tr("Play"))
        self.handout.setIconText(tr("Handout"))
        self.lesson = action(
            window, Entry(tr("Lesson: ask step by step"), window.begin_lesson, "F12")
        )
        self.lesson.setIconText(tr("Lesson"))
        self.dialogs = OpenDialogs(window)
        self._file_menu()
        self._edit_menu()
        self._view_menu()
        self._shot_menu()
        self.dialogs.fill(window.menuBar().addMenu(tr("&Routine")))
        self.dialogs.fill_lessons(window.menuBar().addMenu(tr("&Lessons")))
        self._help_menu()
        self._bar()
        self._session.changed.connect(self.refresh)
        self._session.view_changed.connect(self._show_end)
        self._session.pointed.connect(self.refresh)
        self._show_end()
        self.refresh()

    def refresh(self, _change: object = None) -> None:
        """Name the steps that can be undone and redone; offer what can be done now."""
        document, ball = self._session.document, self._session.ball
        for made, word, name in (
            (self.undo, tr("Undo"), document.undo_name),
            (self.redo, tr("Redo"), document.redo_name),
        ):
            made.setText(step_text(word, name))
            made.setIconText(word)
            made.setToolTip(step_text(word, name))
            made.setEnabled(bool(name))
        several = len(self._session.chosen) > 1
        for made in (self.remove_ball, self.lock_ball, self.copy, self.duplicate):
            made.setEnabled(ball is not None)
        self.remove_ball.setEnabled(ball is not None or self._session.mark is not None)
        locked = ball is not None and ball.locked
        if several:
            self.lock_ball.setText(tr("Unlock balls") if locked else tr("Lock balls"))
            self.remove_ball.setText(tr("Remove balls"))
        else:
            self.lock_ball.setText(tr("Unlock ball") if locked else tr("Lock ball"))
            self.remove_ball.setText(tr("Remove ball"))
        if self._session.mark is not None:
            self.remove_ball.setText(tr("Remove mark"))

    def _file_menu(self) -> None:
        window, files = self._window, self._window.files
        menu = window.menuBar().addMenu(tr("&File"))
        fill_menu(
            menu,
            window,
            [
                Entry(tr("New"), files.new, Key.New),
                Entry(tr("New window"), window.new_window_wanted.emit, "Ctrl+Shift+N"),
                Entry(tr("Open…"), files.open, Key.Open),
            ],
        )
        menu.addMenu(window.recent)
        window.recent.aboutToShow.connect(self._fill_recent)
        self.examples = menu.addMenu(tr("Open example"))
        self.examples.aboutToShow.connect(self._fill_examples)
        self.examples.menuAction().setVisible(EXAMPLES.is_dir())
        for pictured in (window.recent, self.examples):
            pictured.setObjectName("pictured")
        fill_menu(
            menu,
            window,
            [
                None,
                Entry(tr("Save"), files.save, Key.Save),
                Entry(tr("Save as…"), files.save_as, "Ctrl+Shift+S"),
                None,
                Entry(tr("Export diagram…"), self._export_diagram, "Ctrl+E"),
                Entry(tr("Export film of the shot…"), self._export_film, "Ctrl+Shift+E"),
            ],
        )
        menu.addAction(self.handout)
        fill_menu(menu, window, [None, Entry(tr("Close window"), window.close, "Ctrl+W")])

    def _edit_menu(self) -> None:
        window, session = self._window, self._session
        menu = window.menuBar().addMenu(tr("&Edit"))
        menu.addActions([self.undo, self.redo])
        menu.addSeparator()
        self.copy, _, self.duplicate = fill_menu(
            menu,
            window,
            [
                Entry(tr("Copy balls"), lambda: copy_balls(session), Key.Copy),
                Entry(tr("Paste balls"), lambda: paste_balls(session), Key.Paste),
                Entry(tr("Duplicate balls"), session.group.duplicate, "Ctrl+D"),
            ],
        )
        menu.addSeparator()
        self.remove_ball, self.lock_ball = fill_menu(
            menu,
            window,
            [
                # The bare key does it on the table alone: elsewhere it belongs to a field.
                Entry(tr("Remove ball"), session.group.remove, "Ctrl+Del"),
                Entry(tr("Lock ball"), self._toggle_lock, "Ctrl+L"),
            ],
        )
        menu.addSeparator()
        fill_menu(
            menu,
            window,
            [
                Entry(tr("Choose all balls"), self._choose_all, Key.SelectAll),
                Entry(
                    tr("Mirror across the long line"),
                    lambda: session.group.mirror("long"),
                    "Ctrl+Shift+M",
                    tr("The chosen balls, or with none chosen the whole routine"),
                ),
                Entry(
                    tr("Mirror across the cross line"),
                    lambda: session.group.mirror("cross"),
                    "Ctrl+Shift+K",
                    tr("The chosen balls, or with none chosen the whole routine"),
                ),
                Entry(tr("Reds in their triangle"), session.group.rack_reds, "Ctrl+Shift+F"),
            ],
        )
        self.marks = menu.addMenu(tr("Mark"))
        fill_menu(
            self.marks,
            window,
            [
                Entry(tr("Cross"), lambda: self._add_mark("cross"), "Ctrl+Shift+X"),
                Entry(tr("Dot"), lambda: self._add_mark("dot"), "Ctrl+Shift+O"),
                Entry(tr("Line"), lambda: self._add_mark("line"), "Ctrl+Shift+I"),
            ],
        )
        menu.addSeparator()
        self.draw_gap = action(
            window, Entry(tr("Draw gap"), self._draw_gap, None, tr("Drag from edge to edge (G)"))
        )
        self.draw_gap.setIconText(tr("Gap"))
        self.draw_gap.setCheckable(True)
        menu.addAction(self.draw_gap)
        window.canvas.drawing_changed.connect(
            lambda: self.draw_gap.setChecked(window.canvas.hands.pen.on)
        )
        menu.addSeparator()
        fill_menu(
            menu,
            window,
            [
                Entry(tr("Add lane"), session.shots.add_lane, "Ctrl+Shift+L"),
                Entry(tr("Standard three lanes"), session.shots.put_standard_lanes, "Ctrl+3"),
                Entry(tr("New shot"), session.shots.add, "Ctrl+Shift+T"),
            ],
        )

    def _view_menu(self) -> None:
        window = self._window
        menu = window.menuBar().addMenu(tr("&View"))
        menu.addMenu(self.layers)
        menu.addSeparator()
        menu.addActions([self.units.mm, self.units.inch])
        menu.addSeparator()
        fill_menu(
            menu,
            window,
            [
                Entry(tr("Zoom in"), window.canvas.zoom_in, Key.ZoomIn),
                Entry(tr("Zoom out"), window.canvas.zoom_out, Key.ZoomOut),
            ],
        )
        menu.addActions([self.whole, self.turn, self.about, self.as_player])
        menu.addSeparator()
        tabs: list[Entry | None] = [
            Entry(tr(name), _show_panel(window, name), PANEL_KEYS[name]) for name in PANELS
        ]
        fill_menu(menu, window, [Entry(tr("Table"), window.canvas.setFocus, "F4"), *tabs])
        self._look_menu(menu)
        fill_menu(
            menu, window, [Entry(tr("Table alone, or with its column"), self.toggle_column, "F9")]
        )

    def _look_menu(self, menu: QMenu) -> None:
        looks = menu.addMenu(tr("Light or dark"))
        self.looks = QActionGroup(looks)
        for look, text in (
            ("system", tr("As the desktop")),
            ("light", tr("Light")),
            ("dark", tr("Dark")),
        ):
            made = self.looks.addAction(text)
            made.setCheckable(True)
            made.setChecked(self._window.settings.look == look)
            made.triggered.connect(lambda _=False, wanted=look: self._window.set_look(wanted))
            looks.addAction(made)

    def _shot_menu(self) -> None:
        window, session = self._window, self._session
        player = session.player
        menu = window.menuBar().addMenu(tr("&Shot"))
        menu.addAction(self.play)
        fill_menu(
            menu,
            window,
            [
                Entry(tr("Next event"), lambda: player.step(1), "Ctrl+."),
                Entry(tr("Event before"), lambda: player.step(-1), "Ctrl+,"),
                Entry(tr("Back to the set-up"), player.close),
                None,
                Entry(tr("Next step"), lambda: session.show_step(1), "Ctrl+PgDown"),
                Entry(tr("Step before"), lambda: session.show_step(-1), "Ctrl+PgUp"),
                Entry(tr("Move step later"), lambda: session.shots.move(1), "Ctrl+Shift+PgDown"),
                Entry(tr("Move step earlier"), lambda: session.shots.move(-1), "Ctrl+Shift+PgUp"),
            ],
        )
        menu.addSeparator()
        menu.addAction(self.lesson)

    def _help_menu(self) -> None:
        window = self._window
        menu = window.menuBar().addMenu(tr("&Help"))
        fill_menu(
            menu,
            window,
            [
                Entry(tr("Guide"), self._show_guide, "Shift+F1"),
                Entry(tr("Keys and mouse"), lambda: show_keys(window), "F1"),
                Entry(tr("What is new"), lambda: self._show_guide("what-is-new")),
                Entry(tr("About {program}", program=PROGRAM), lambda: show_about(window)),
            ],
        )

    def _bar(self) -> None:
        bar = self.bar = CommandBar(self._session, self._window)
        bar.put(self.draw_gap, "separator-vertical")
        bar.put(self.marks, "x")
        bar.put(self.layers, "eye")
        bar.put(self.turn, "rotate-cw")
        bar.spread()
        bar.put_bare([(self.undo, "undo-2"), (self.redo, "redo-2")])
        bar.put(self.lesson, "presentation")
        bar.put(self.play, "play", main=True)
        bar.put(self.handout, "file-text", main=True)
        self._window.addToolBar(bar)

    def _fill_recent(self) -> None:
        self._fill_with_files(self._window.recent, self._window.settings.recent_files)

    def _fill_examples(self) -> None:
        self._fill_with_files(self.examples, sorted(EXAMPLES.glob("*.json")))

    def _fill_with_files(self, menu: QMenu, paths: list[Path]) -> None:
        from designer.window.routine_tiles import tile

        menu.clear()
        for path in paths:
            found = tile(path)
            entry: QAction = menu.addAction(found[0] if found else path.stem)
            if found:
                entry.setIcon(found[1])
            entry.setToolTip(str(path))
            entry.triggered.connect(lambda _=False, p=path: self._window.files.open(p))
        if not paths:
            menu.addAction(tr("None yet")).setEnabled(False)
        menu.setToolTipsVisible(True)

    def toggle_column(self) -> None:
        """Give the table the whole window, or bring column and commands back."""
        alone = self._window.column.isVisible()
        self._window.column.setVisible(not alone)
        self.bar.setVisible(not alone)

    def _toggle_lock(self) -> None:
        ball = self._session.ball
        if ball is not None:
            self._session.group.lock(not ball.locked)

    def _choose_all(self) -> None:
        self._session.choose_balls([ball.id for ball in self._session.routine.balls])

    def _show_end(self) -> None:
        self.about.setChecked(self._session.view.far)

    def _add_mark(self, kind: str) -> None:
        """Put a mark down and give the table the keys, so that it can be nudged at once."""
        if self._session.marks.add(kind):
            self._window.canvas.setFocus()

    def _show_guide(self, page: str = "") -> None:
        from designer.window.guide_window import show_guide

        show_guide(self._window, page)

    def _draw_gap(self) -> None:
        self._window.canvas.draw_gap(not self._window.canvas.hands.pen.on)

    def _export_diagram(self) -> None:
        path = self._window.files.asker.diagram_to_write(self._window.files.beside(".png"))
        if path is not None:
            write_diagram(self._session, path, self._window)

    def _export_film(self) -> None:
        from designer.exporting.film import write_film

        path = self._window.files.asker.film_to_write(self._window.files.beside(".gif"))
        if path is not None:
            write_film(self._session, path, self._window)

    def _make_handout(self) -> None:
        from designer.exporting.handout_dialog import HandoutDialog

        window = self._window

        def choose_file() -> Path | None:
            return window.files.asker.handout_to_write(window.files.beside(".pdf"))

        dialog = HandoutDialog(self._session, choose_file, window.other_routines, window)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()


def _show_panel(window: MainFrame, name: str) -> Callable[[], None]:
    return lambda: window.show_panel(name)
