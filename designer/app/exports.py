"""Diagrams and handouts out of the window, by the same painters as the command line's."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from designer.app.asking import DIAGRAMS
from designer.drawing import Drawing, Look, build_drawing
from designer.session import Session
from designer.texts import tr
from engine.errors import BaizewrightError, OutOfRangeError
from engine.units import LengthUnit

#: Width of a PNG diagram: sharp on a whole A4 page.
PICTURE_PX = 2400


@dataclass(frozen=True, slots=True)
class HandoutWish:
    """What kind of handout is wanted."""

    paper: Literal["a4", "letter"] = "a4"
    audience: Literal["coach", "player"] = "coach"
    unit: LengthUnit = "mm"


def write_diagram(session: Session, path: Path) -> bool:
    """Write what the canvas shows as a diagram; told how it went."""
    try:
        data = diagram_bytes(session, path.suffix.lower())
    except BaizewrightError as error:
        session.messages.fail(tr("The diagram was not written."), tr("See to this first:"), error)
        return False
    return _written(
        session,
        path,
        data,
        tr("The diagram is in {path}.", path=path),
        tr("The diagram was not written."),
    )


def diagram_bytes(session: Session, ending: str) -> bytes:
    """The diagram as a file of that ending (.svg, .png or .pdf)."""
    if ending not in DIAGRAMS:
        raise OutOfRangeError("ending of the diagram's file", repr(ending), ", ".join(DIAGRAMS))
    drawing = diagram(session)
    if ending == ".svg":
        from designer.painters.svg import svg_bytes

        return svg_bytes(drawing)
    if ending == ".pdf":
        from designer.painters.pdf import pdf_bytes

        return pdf_bytes(drawing)
    from designer.painters.png import png_bytes

    return png_bytes(drawing, PICTURE_PX)


def diagram(session: Session) -> Drawing:
    """The drawing of the shot on show with the layers on show, in full."""
    view = session.view
    answer = session.full_answer()
    look = Look(turned=view.turned, far=view.far)
    shot = session.shown_shot or None
    return build_drawing(
        session.routine,
        answer,
        view.layers,
        view.unit,
        look=look,
        shot=shot,
        lanes=session.lanes_to_draw(),
    )


def write_handout(session: Session, path: Path, wish: HandoutWish) -> bool:
    """Write the handout; told how it went."""
    from designer.handouts import handout_pdf

    try:
        pairs = [(session.routine, session.full_answer())]
        data = handout_pdf(pairs, wish.paper, wish.audience, wish.unit)
    except BaizewrightError as error:
        session.messages.fail(tr("The handout was not written."), tr("See to this first:"), error)
        return False
    return _written(
        session,
        path,
        data,
        tr("The handout is in {path}.", path=path),
        tr("The handout was not written."),
    )


def _written(session: Session, path: Path, data: bytes, done: str, not_done: str) -> bool:
    from designer.commands.output import write_whole

    try:
        write_whole(path, data)
    except BaizewrightError as error:
        session.messages.fail(not_done, tr("Choose another place."), error)
        return False
    session.messages.note(done)
    return True


class HandoutDialog(QDialog):
    """For whom the handout is, on which paper, in which unit."""

    def __init__(self, unit: LengthUnit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(tr("Make handout"))
        self.audience, self.paper, self.unit = QComboBox(), QComboBox(), QComboBox()
        for box, choices in (
            (
                self.audience,
                (("coach", tr("Coach: with the answers")), ("player", tr("Player: without"))),
            ),
            (self.paper, (("a4", "A4"), ("letter", tr("Letter")))),
            (self.unit, (("mm", tr("Millimetres")), ("inch", tr("Inches")))),
        ):
            for key, words in choices:
                box.addItem(words, key)
        self.unit.setCurrentIndex(self.unit.findData(unit))
        form = QFormLayout()
        form.addRow(tr("For"), self.audience)
        form.addRow(tr("Paper"), self.paper)
        form.addRow(tr("Lengths in"), self.unit)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        make = buttons.addButton(tr("Choose file…"), QDialogButtonBox.ButtonRole.AcceptRole)
        make.setDefault(True)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(QLabel(tr("The sheet is written as a PDF, to be printed at full size.")))
        layout.addLayout(form)
        layout.addWidget(buttons)

    def wish(self) -> HandoutWish:
        """What was chosen."""
        return HandoutWish(
            self.paper.currentData(), self.audience.currentData(), self.unit.currentData()
        )
