"""The photograph beside its plan: marks on the table, balls read off it, lanes drawn onto it."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Literal

import numpy as np
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QGuiApplication, QImage, QKeySequence, QPainter, QShortcut
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QPushButton,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from designer.files.asking import rules_to_write, where_to_write
from designer.files.losses import LossAsker
from designer.open_routine import OpenRoutine
from designer.overlay import PhotoDrawing, photo_drawing
from designer.overlay.onto import seen_balls
from designer.photo.lines import table_lines
from designer.photo.marks import Shown
from designer.photo.pages import BallsPage, DrawPage, PlacesPage, marked_ball
from designer.photo.plan import PlanView
from designer.photo.view import PhotoView
from designer.photo.work import PhotoWork
from designer.texts import mark, tr
from designer.widgets.buttons import action_button
from designer.widgets.file_links import FileLinks
from designer.widgets.plain_label import PlainLabel
from designer.widgets.side_window import RoutineWindow
from designer.words.errors import error_told
from designer.words.notes import note_told
from designer.words.photo import PEOPLE
from engine.errors import BaizewrightError
from engine.photo import jpeg_of, laid_over, outline, png_of
from engine.storage import write_file
from engine.storage.file_kinds import KIND_OF_ENDING
from engine.units import length_text

TITLE = mark("Photograph of the table")
PICTURES = mark("Photographs and their marks (*.jpg *.jpeg *.png *.json);;All files (*)")
MARKS = mark("Marks in a photograph (*.json)")
PICTURE_OUT = mark("Picture, exact (*.png);;Picture, smaller (*.jpg)")
OVERLAY_OUT = mark("See-through picture (*.png)")
ENDINGS = {"marks": (".json",), "picture": (".png", ".jpg", ".jpeg"), "overlay": (".png",)}
PLACES, BALLS, DRAW = range(3)
#: Work that takes a while waits until nothing has changed for this long, ms.
REST_MS = 300


class PhotoAsker(LossAsker):
    """Asks for files; tests and scripts put another in its place."""

    def to_open(self, folder: Path) -> Path | None:
        """A photograph, or the marks made in one."""
        name, _ = QFileDialog.getOpenFileName(
            self._parent, tr("Open photograph"), str(folder), tr(PICTURES)
        )
        return Path(name) if name else None

    def to_write(self, what: Literal["marks", "picture", "overlay"], start: Path) -> Path | None:
        """Where to write."""
        title, kinds = {
            "marks": (tr("Save marks"), tr(MARKS)),
            "picture": (tr("Export picture"), tr(PICTURE_OUT)),
            "overlay": (tr("Export overlay"), tr(OVERLAY_OUT)),
        }[what]
        return where_to_write(self._parent, title, start, kinds, ENDINGS[what])


class PhotoDialog(RoutineWindow):
    """Photograph, pages and plan side by side."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, tr(TITLE), parent)
        self.resize(1320, 820)
        self.asker = PhotoAsker(self)
        self.work = PhotoWork(session, self)
        self.view, self.plan = PhotoView(), PlanView()
        self.places = PlacesPage(self.work)
        self.balls = BallsPage(self.work, session)
        self.draw = DrawPage()
        self.pages = QTabWidget()
        for page, name in (
            (self.places, tr("Places")), (self.balls, tr("Balls")), (self.draw, tr("Draw")),
        ):  # fmt: skip
            self.pages.addTab(page, name)
        self.told = PlainLabel(tr("No photograph yet."), tr("Place under the pointer"))
        self.links = FileLinks()
        self.links.failed.connect(self._tell)
        self.trouble = PlainLabel(name=tr("What went wrong"))
        self.trouble.hide()
        self._drawn: PhotoDrawing | None = None
        self._drawn_of: tuple[object, ...] = ()
        # the drawing takes a while: it waits until the hand rests
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._show_over)
        self._read_again = QTimer(self)
        self._read_again.setSingleShot(True)
        self._read_again.setInterval(REST_MS)
        self._read_again.timeout.connect(self.work.read)
        self._lay_out()
        self._listen()

    # What is shown ---------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show the marks, the reading and the drawing as they are."""
        work = self.work
        self.places.refresh()
        self.balls.refresh()
        self.view.show_picture(work.picture.pixels if work.picture is not None else None)
        if self.pages.currentIndex() == DRAW and self._drawn is not None:
            self._rest.start()
        else:
            self._show_over()
        there = work.picture is not None
        self.save_button.setEnabled(there)
        self.undo_button.setEnabled(work.can_undo)
        self.redo_button.setEnabled(work.can_redo)
        self.pages.setEnabled(there)
        for part in (self.draw.picture, self.draw.overlay):
            part.setEnabled(work.fit is not None)
        name = work.picture_path.name if work.picture_path is not None else ""
        self.setWindowTitle(f"{tr(TITLE)}: {name}[*]" if name else f"{tr(TITLE)}[*]")
        self.setWindowModified(work.changed_since_save)

    def _show_over(self) -> None:
        """Marks, balls, the table's lines, and on the last page the drawing."""
        work, view = self.work, self.view
        drawing = self.pages.currentIndex() == DRAW
        view.shown = [] if drawing else [*self._shown_places(), *self._shown_balls()]
        on_places = self.pages.currentIndex() == PLACES
        view.lines = (
            table_lines(self.session.table, work.fit.camera)
            if work.fit is not None and on_places
            else ()
        )
        on = drawing and self.draw.on.isChecked()
        view.lay_over(self._screen_overlay() if on else None)
        self._show_plan()

    def _show_plan(self) -> None:
        """The plan: what was read, or beside the drawing the same drawing from above."""
        session, reading = self.session, self.work.reading
        if self.pages.currentIndex() == DRAW:
            layers = replace(self.draw.layers, table=True, marks=True, balls=True)
            answer = session.answer if self.draw.on.isChecked() else None
            self.plan.show_routine(session.routine, (), answer, layers, session.shown_shot)
        elif reading is not None:
            self.plan.show_routine(reading.routine, reading.balls)
        else:
            self.plan.show_routine(session.routine)

    def _shown_places(self) -> list[Shown]:
        if self.pages.currentIndex() != PLACES:
            return []
        bad = {one.place.id for one in self.work.fit.bad_marks} if self.work.fit else set()
        titles = {one.id: tr(one.title) for one in self.work.places}
        return [
            Shown(
                f"place {one.place}", one.at_px, titles.get(one.place, one.place),
                one.place == self.places.place, one.place in bad,
            )
            for one in self.work.photo.marks
        ]  # fmt: skip

    def _shown_balls(self) -> list[Shown]:
        if self.pages.currentIndex() != BALLS:
            return []
        rims = self._outlines()
        return [
            Shown(
                f"ball {one.id}", one.at_px, marked_ball(self.work, self.session, one.id),
                one.id == self.balls.ball, outline=rims.get(one.id),
            )
            for one in self.work.photo.balls
        ]  # fmt: skip

    def _outlines(self) -> dict[str, np.ndarray]:
        """The outline of every ball that was read, as the camera must see it."""
        reading = self.work.reading
        if reading is None:
            return {}
        found = {}
        for one in reading.balls:
            radius = self.session.radius_of(one.mark.kind)
            rim = outline(reading.fit.camera, np.array([*one.read_mm, radius]), radius, 60)
            if np.isfinite(rim).all():
                found[one.mark.id] = rim
        return found

    def _drawing(self) -> PhotoDrawing | None:
        """The routine's drawing over the photograph, kept until something changes."""
        work, session = self.work, self.session
        if work.fit is None:
            return None
        key = (
            session.routine, session.answer, session.shown_shot, session.view.unit, work.photo,
            self.draw.layers,
        )  # fmt: skip
        if self._drawn is None or key != self._drawn_of:
            self._drawn_of = key
            named = partial(marked_ball, work, session)
            balls, notes = seen_balls(session.routine, work.photo, work.fit)
            self.draw.state.setText(" ".join(note_told(one, named) for one in notes))
            self._drawn = photo_drawing(
                session.routine, session.answer, work.fit.camera, self.draw.layers,
                session.view.unit, shot=session.shown_shot or None, balls=balls,
            )  # fmt: skip
        return self._drawn

    def _screen_overlay(self) -> QImage | None:
        """The overlay no larger than the screen needs it."""
        drawing = self._drawing()
        if drawing is None:
            return None
        from designer.overlay.paint import paint_over

        wide, high = drawing.size_px
        rate = min(1.0, 2200.0 / max(wide, high))
        image = QImage(
            max(1, round(wide * rate)), max(1, round(high * rate)),
            QImage.Format.Format_ARGB32_Premultiplied,
        )  # fmt: skip
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        painter.scale(image.width() / wide, image.height() / high)
        painter.translate(0.5, 0.5)
        paint_over(drawing, painter)
        painter.end()
        return image

    # Hands -----------------------------------------------------------------------------------

    def _listen(self) -> None:
        view, work = self.view, self.work
        work.changed.connect(self.catch_up)
        view.pressed.connect(self._on_pressed)
        view.grabbed.connect(self._on_grabbed)
        view.dragged.connect(self._on_dragged)
        view.dropped.connect(work.drop)
        view.hovered.connect(self._on_hovered)
        view.nudged.connect(self._on_nudged)
        view.removed.connect(self._on_removed)
        for page in (self.places, self.balls):
            page.chosen.connect(self._show_over)
        self.pages.currentChanged.connect(self._show_over)
        self.places.clear.clicked.connect(self._on_clear)
        self.draw.switched.connect(self._on_switched)
        self.draw.picture.clicked.connect(lambda: self._export("picture"))
        self.draw.overlay.clicked.connect(lambda: self._export("overlay"))
        self.session.changed.connect(self._on_session)

    def _on_pressed(self, x: float, y: float) -> None:
        if self.pages.currentIndex() == PLACES and self.places.place:
            place = self.places.place
            if self.work.photo.mark(place) is not None:
                # a stray press must not move a mark that is made: go on with the next
                place = self.work.next_place(place)
            if place:
                self.work.put_mark(place, (x, y))
                self.places.choose(self.work.next_place(place) or place)
        elif self.pages.currentIndex() == BALLS:
            kind = str(self.balls.next_kind.currentData() or "")
            self.balls.choose(self.work.put_ball((x, y), kind))

    def _on_grabbed(self, key: str) -> None:
        kind, name = key.split(" ", 1)
        (self.places if kind == "place" else self.balls).choose(name)

    def _on_dragged(self, key: str, x: float, y: float) -> None:
        kind, name = key.split(" ", 1)
        self.work.drag(kind, name, (x, y))

    def _on_nudged(self, dx: float, dy: float) -> None:
        if self.pages.currentIndex() == PLACES:
            found = self.work.photo.mark(self.places.place)
            if found is not None:
                self.work.put_mark(found.place, (found.x_px + dx, found.y_px + dy))
        elif self.pages.currentIndex() == BALLS and self.balls.ball:
            x, y = self.work.photo.ball(self.balls.ball).at_px
            self.work.move_ball(self.balls.ball, (x + dx, y + dy))

    def _on_removed(self) -> None:
        page = self.pages.currentWidget()
        if page is self.places or page is self.balls:
            page.remove.click()

    def _on_hovered(self, x: float, y: float) -> None:
        if math.isnan(x) or self.work.picture is None:
            self.told.setText("")
            return
        found = self.work.at_pointer((x, y))
        if found is None:
            self.told.setText(tr("{x:.0f}, {y:.0f} px", x=x, y=y))
            return
        unit = self.session.view.unit
        self.told.setText(
            tr(
                "On the cloth: {across} from the left, {up} from the bottom, ± {far:.0f} mm",
                across=length_text(found[0], unit),
                up=length_text(found[1], unit),
                far=found[2],
            )
        )

    def _on_clear(self) -> None:
        self.view.guides.clear()
        self.view.update()

    def _on_session(self, _change: object) -> None:
        self._read_again.start()

    def _on_switched(self) -> None:
        self._show_over()

    # Files -----------------------------------------------------------------------------------

    def open_file(self, path: Path) -> bool:
        """Open a photograph, or the marks made in one; told when it cannot be."""
        try:
            with _waiting():
                if path.suffix.lower() == ".json":
                    self.work.open_marks(path)
                else:
                    self.work.open_picture(path)
        except BaizewrightError as error:
            self._tell(tr("The photograph was not opened. {why}", why=error_told(error)))
            return False
        self._tell("")
        self.view.guides.clear()
        self.told.setText(tr(PEOPLE))
        return True

    def _on_open(self) -> None:
        if not self.may_leave():
            return
        path = self.asker.to_open(self._folder())
        if path is not None:
            self.open_file(path)

    def may_leave(self) -> bool:
        """Ask before marks are lost."""
        if not self.work.changed_since_save:
            return True
        answer = self.asker.about_unsaved(
            tr("The marks in the photograph are not saved."), tr("Save them first?")
        )
        return self.save() if answer == "save" else answer == "drop"

    def save(self) -> bool:
        """Save the marks, asked where for the first time; told when they cannot be."""
        if self.work.picture_path is None:
            return False
        beside = self.work.picture_path.with_suffix(".photo.json")
        path = self.work.marks_path or self.asker.to_write("marks", beside)
        read = [self.work.picture_path]
        rules = rules_to_write(self, path, "photo", read) if path is not None else None
        if path is None or rules is None:
            return False
        try:
            self.work.save(path, rules)
        except BaizewrightError as error:
            self._tell(tr("The marks were not saved. {why}", why=error_told(error)))
            return False
        self._tell("")
        self.told.setText(tr("The marks are in {path}.", path=path))
        return True

    def _export(self, what: Literal["picture", "overlay"]) -> None:
        work = self.work
        if work.picture is None or work.picture_path is None or work.fit is None:
            return
        name = "drawn" if what == "picture" else "overlay"
        start = work.picture_path.with_name(f"{work.picture_path.stem}-{name}.png")
        path = self.asker.to_write(what, start)
        kind = KIND_OF_ENDING.get(path.suffix.lower(), "png") if path is not None else ""
        read = [work.picture_path, work.marks_path, self.session.document.path]
        rules = rules_to_write(self, path, kind, read) if path is not None else None
        if path is None or rules is None:
            return
        try:
            with _waiting():
                self.session.full_answer()
                write_file(path, self.file_of(what, path.suffix.lower()), kind, rules)
        except BaizewrightError as error:
            self._tell(tr("The file was not written. {why}", why=error_told(error)))
            return
        self._tell("")
        self.told.setText(tr("{path} is written, without place and device.", path=path))
        self.links.show_file(path)

    def file_of(self, what: Literal["picture", "overlay"], ending: str) -> bytes:
        """The picture with the drawing, or the drawing alone, at the photograph's own size."""
        from designer.overlay.paint import overlay_pixels

        drawing, picture = self._drawing(), self.work.picture
        assert drawing is not None and picture is not None
        overlay = overlay_pixels(drawing)
        if what == "overlay":
            return png_of(overlay)
        both = laid_over(picture.pixels, overlay)
        return jpeg_of(both) if ending in (".jpg", ".jpeg") else png_of(both)

    def _tell(self, words: str) -> None:
        self.links.show_file(None)
        self.trouble.setText(words)
        self.trouble.setVisible(bool(words))

    def _folder(self) -> Path:
        known = self.work.picture_path or self.session.document.path
        return known.parent if known is not None else Path.home()

    # Layout ----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        self.open_button = _button(
            tr("Open photograph…"), self._on_open, QKeySequence.StandardKey.Open
        )
        self.save_button = _button(tr("Save marks"), self.save, QKeySequence.StandardKey.Save)
        self.undo_button = _button(tr("Undo"), self.work.undo, QKeySequence.StandardKey.Undo)
        self.redo_button = _button(tr("Redo"), self.work.redo, QKeySequence.StandardKey.Redo)
        self.whole_button = _button(tr("Whole picture"), self.view.show_all)
        self.closer_button = _button(tr("Zoom in"), lambda: self.view.zoom(1.6))
        row = QHBoxLayout()
        for part in (
            self.open_button,
            self.save_button,
            self.undo_button,
            self.redo_button,
            self.whole_button,
            self.closer_button,
        ):
            row.addWidget(part)
        row.addStretch(1)
        columns = QSplitter(Qt.Orientation.Horizontal)
        for column in (self.view, self.plan, self.pages):
            columns.addWidget(column)
        columns.setStretchFactor(0, 3)
        columns.setStretchFactor(1, 1)
        columns.setStretchFactor(2, 0)
        columns.setSizes([690, 270, 360])
        layout = QVBoxLayout(self)
        layout.addLayout(row)
        layout.addWidget(self.trouble)
        layout.addWidget(columns, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.told, 1)
        foot.addWidget(self.links)
        layout.addLayout(foot)


@contextlib.contextmanager
def _waiting() -> Iterator[None]:
    """The pointer says that a large picture takes a while."""
    QGuiApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
    try:
        yield
    finally:
        QGuiApplication.restoreOverrideCursor()


def _button(
    words: str, do: Callable[[], object], keys: QKeySequence.StandardKey | None = None
) -> QPushButton:
    made = action_button(words, do)
    if keys is not None:
        shortcut = QShortcut(QKeySequence(keys), made)
        shortcut.setContext(Qt.ShortcutContext.WindowShortcut)
        shortcut.activated.connect(made.click)
        shown = QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText)
        made.setToolTip(tr("Key: {key}", key=shown))
    return made
