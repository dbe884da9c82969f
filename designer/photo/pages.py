"""The pages beside a photograph: places of the table, balls, and what is drawn over it."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from designer.drawing import Layers
from designer.open_routine import OpenRoutine
from designer.open_routine.view import SWITCHES
from designer.overlay import PHOTO_LAYERS
from designer.photo.work import PhotoWork
from designer.texts import mark, tr
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.lists import Row, bare_list, fill_list, key_of
from designer.words.figures import first_up
from designer.words.names import ball_name, kind_name
from designer.words.notes import note_told
from designer.words.photo import PEOPLE, where_to_look
from engine.balls import KINDS
from engine.units import length_text

PLACES_TOLD = mark(
    "Choose a place, then press on it in the photograph and let go where it is exactly. "
    "Four or more are needed; mark all that can be seen."
)
GUIDES_TOLD = mark(
    "For a corner, drag with Shift along each of its noses: a mark set near where the lines cross "
    "holds to the crossing."
)
BALLS_TOLD = mark(
    "Press on each ball: its outline is looked for. Drag the middle where that is not right."
)
DRAW_TOLD = mark(
    "The drawing lies on the cloth: a lane is the way of the point where the ball touches it. "
    "Balls and cushions hide what is behind them."
)
DATA = mark("What the file says of place and device is left out of everything that is exported.")
RESTS = mark(
    "± is the distance within which 95 of 100 balls so read stand, if the table has the sizes "
    "stated: measure your own table for better ones."
)


class PlacesPage(QWidget):
    """Every place with how far its mark is off; the chosen one is marked next."""

    chosen = Signal()

    def __init__(self, work: PhotoWork) -> None:
        super().__init__()
        self._work = work
        self.rows = bare_list((tr("Place"), tr("Off"), tr("On table"), ""), wide=0)
        self.rows.setAccessibleName(tr("Places of the table"))
        self.rows.itemSelectionChanged.connect(self._on_chosen)
        self.told = _note(tr("Where the chosen place is"))
        self.state = _note(tr("What the marks say"))
        self.remove = _button(tr("Remove mark"))
        self.remove.clicked.connect(lambda: work.remove_mark(self.place))
        self.clear = _button(tr("Clear help lines"))
        row = QHBoxLayout()
        row.addWidget(self.remove)
        row.addWidget(self.clear)
        row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.addWidget(_plain(tr(PLACES_TOLD)))
        layout.addWidget(self.rows, 20)
        layout.addWidget(self.told)
        layout.addLayout(row)
        layout.addWidget(self.state)
        layout.addWidget(_plain(tr(GUIDES_TOLD)))
        layout.addStretch(1)

    @property
    def place(self) -> str:
        """The place that is chosen."""
        return key_of(self.rows)

    def choose(self, place: str) -> None:
        """Choose a place."""
        self._fill(place)
        self.chosen.emit()

    def refresh(self) -> None:
        """Show the marks as they are."""
        self._fill(self.place or self._work.next_place())

    def _fill(self, place: str) -> None:
        work = self._work
        checks = {one.place.id: one for one in work.fit.checks} if work.fit is not None else {}
        rows: list[Row] = []
        for one in work.places:
            check = checks.get(one.id)
            if work.photo.mark(one.id) is None:
                texts: tuple[str, ...] = (
                    first_up(tr(one.title)),
                    "",
                    "",
                    tr("not marked"),
                )
            elif check is None:
                texts = (first_up(tr(one.title)), "", "", tr("marked"))
            else:
                texts = (
                    first_up(tr(one.title)),
                    tr("{off:.1f} px", off=check.distance_px),
                    tr("{off:.0f} mm", off=check.off_mm),
                    tr("SET ASIDE") if check.bad else tr("marked"),
                )
            rows.append((one.id, texts, None))
        fill_list(self.rows, rows, place)
        made = work.photo.mark(place)
        told = where_to_look(place) if made is None or made.at_mm is None else ""
        self.told.setText(tr("It is {where}.", where=told) if told else "")
        self.remove.setEnabled(made is not None)
        self.state.setText(_state(work))

    def _on_chosen(self) -> None:
        self._fill(self.place)
        self.chosen.emit()


class BallsPage(QWidget):
    """Every ball with where it stands and its ±; which ball is clicked next."""

    chosen = Signal()

    def __init__(self, work: PhotoWork, session: OpenRoutine) -> None:
        super().__init__()
        self._work, self._session = work, session
        self.next_kind = ChoiceField()
        self.next_kind.setAccessibleName(tr("Next ball to be marked"))
        kinds = [(kind, first_up(kind_name(kind))) for kind in KINDS]
        fill_choices(self.next_kind, [("", tr("Next ball: as its colour says")), *kinds])
        self.rows = bare_list((tr("Ball"), tr("From left"), tr("From bottom"), "±"), wide=0)
        self.rows.setAccessibleName(tr("Balls in the photograph"))
        self.rows.itemSelectionChanged.connect(self._on_chosen)
        self.kind = ChoiceField()
        self.kind.setAccessibleName(tr("Which ball the chosen one is"))
        fill_choices(self.kind, kinds)
        self.kind.currentIndexChanged.connect(self._on_kind)
        self.fit = _button(tr("Lay onto the outline"))
        self.fit.clicked.connect(self._on_fit)
        self.remove = _button(tr("Remove"))
        self.remove.clicked.connect(lambda: work.remove_ball(self.ball))
        self.take = _button(tr("Put the balls on the table"))
        self.take.clicked.connect(self._on_take)
        self.state = _note(tr("What the balls say"))
        row = QHBoxLayout()
        row.addWidget(self.kind, 1)
        row.addWidget(self.fit)
        row.addWidget(self.remove)
        layout = QVBoxLayout(self)
        layout.addWidget(_plain(tr(BALLS_TOLD)))
        layout.addWidget(self.next_kind)
        layout.addWidget(self.rows, 20)
        layout.addLayout(row)
        layout.addWidget(self.take)
        layout.addWidget(self.state)
        layout.addStretch(1)

    @property
    def ball(self) -> str:
        """The ball that is chosen."""
        return key_of(self.rows)

    def choose(self, ball_id: str) -> None:
        """Choose a ball."""
        self._fill(ball_id)
        self.chosen.emit()

    def refresh(self) -> None:
        """Show the balls as they are."""
        self._fill(self.ball)

    def _fill(self, ball_id: str) -> None:
        work, unit = self._work, self._session.view.unit
        read = {one.mark.id: one for one in work.reading.balls} if work.reading else {}
        rows: list[Row] = []
        for ball in work.photo.balls:
            one = read.get(ball.id)
            name = marked_ball(work, self._session, ball.id)
            texts: tuple[str, ...] = (name, "", "", "")
            if one is not None:
                x, y = (length_text(value, unit) for value in one.placed_mm)
                texts = (name, x, y, tr("{far:.0f} mm", far=one.within_mm))
            rows.append((ball.id, texts, None))
        fill_list(self.rows, rows, ball_id)
        ball_there = ball_id in read or any(b.id == ball_id for b in work.photo.balls)
        for part in (self.kind, self.fit, self.remove):
            part.setEnabled(ball_there)
        if ball_there:
            choose(self.kind, work.photo.ball(ball_id).kind)
        self.take.setEnabled(bool(read))
        notes = work.reading.notes if work.reading is not None else ()
        told = [note_told(one, partial(marked_ball, work, self._session)) for one in notes]
        words = tr(work.trouble) or " ".join((*told, tr(RESTS) if read else ""))
        self.state.setText(words)

    def _on_chosen(self) -> None:
        self._fill(self.ball)
        self.chosen.emit()

    def _on_kind(self) -> None:
        if self.ball:
            self.choose(self._work.set_kind(self.ball, str(self.kind.currentData())))

    def _on_fit(self) -> None:
        if self.ball and not self._work.fit_ball(self.ball):
            self.state.setText(tr("No outline is made out there: set the middle by hand."))

    def _on_take(self) -> None:
        if self._work.take_over():
            self._session.messages.note(
                tr("The balls stand where the photograph has them."),
                tr("Undo brings back how they stood."),
            )


class DrawPage(QWidget):
    """What is drawn over the photograph, and files of it."""

    switched = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.on = QCheckBox(tr("Draw the routine over the photograph"))
        self.on.setChecked(True)
        self.on.toggled.connect(self.switched)
        grid = QGridLayout()
        self.ticks: list[tuple[QCheckBox, tuple[str, ...]]] = []
        switches = [(switch.text, switch.names) for switch in SWITCHES]
        chosen = [(mark("Balls"), ("balls",)), (mark("Table"), ("table",))]
        for index, (text, names) in enumerate([*switches, *chosen]):
            tick = QCheckBox(tr(text))
            tick.setChecked(all(getattr(PHOTO_LAYERS, name) for name in names))
            tick.toggled.connect(self.switched)
            self.ticks.append((tick, names))
            grid.addWidget(tick, index // 2, index % 2)
        self.picture = _button(tr("Export picture…"))
        self.overlay = _button(tr("Export overlay…"))
        self.overlay.setToolTip(tr("The drawing alone, see-through, for a video editor"))
        row = QHBoxLayout()
        row.addWidget(self.picture)
        row.addWidget(self.overlay)
        row.addStretch(1)
        self.state = _note(tr("About the drawing"))
        layout = QVBoxLayout(self)
        layout.addWidget(_plain(tr(DRAW_TOLD)))
        layout.addWidget(self.on)
        layout.addLayout(grid)
        layout.addLayout(row)
        layout.addWidget(self.state)
        layout.addWidget(_plain(f"{tr(PEOPLE)} {tr(DATA)}"))
        layout.addStretch(1)

    @property
    def layers(self) -> Layers:
        """What is ticked."""
        named = {name: tick.isChecked() for tick, names in self.ticks for name in names}
        return replace(PHOTO_LAYERS, **named)


def marked_ball(work: PhotoWork, session: OpenRoutine, ball_id: str) -> str:
    """The coach's name of a ball marked in the photograph."""
    routine = work.reading.routine if work.reading is not None else session.routine
    return ball_name(routine, ball_id)


def _state(work: PhotoWork) -> str:
    if work.fit is None:
        return tr(work.trouble)
    camera = work.fit.camera
    words = tr(
        "The camera stood {high:.2f} m above the cloth; the marks lie {off:.1f} px off, as they "
        "go. The lines show the table as the camera has it: they should lie on the noses.",
        high=camera.at_mm[2] / 1000.0, off=work.fit.marking_px,
    )  # fmt: skip
    return " ".join((words, *map(note_told, work.fit.notes)))


def _note(name: str) -> QLabel:
    label = QLabel()
    label.setWordWrap(True)
    label.setAccessibleName(name)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label


def _plain(words: str) -> QLabel:
    label = QLabel(words)
    label.setWordWrap(True)
    return label


def _button(words: str) -> QPushButton:
    made = QPushButton(words)
    made.setAutoDefault(False)
    return made
