"""Diagrams and handouts out of the window, by the same painters as the command line's."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QWidget

from designer.drawing import Drawing, Look, build_drawing
from designer.files.asker import DIAGRAMS
from designer.files.asking import rules_to_write
from designer.open_routine import OpenRoutine
from designer.texts import tr
from engine.errors import BaizewrightError, OutOfRangeError
from engine.storage import write_file
from engine.storage.file_kinds import KIND_OF_ENDING

#: Width of a PNG diagram: sharp on a whole A4 page.
PICTURE_PX = 2400


def write_diagram(session: OpenRoutine, path: Path, parent: QWidget | None = None) -> bool:
    """Write what the canvas shows as a diagram; told how it went, asked on top of the parent."""
    kind = KIND_OF_ENDING.get(path.suffix.lower(), "")
    rules = rules_to_write(parent, path, kind, [session.document.path])
    if rules is None:
        return False
    try:
        data = diagram_bytes(session, path.suffix.lower())
    except BaizewrightError as error:
        session.messages.fail(tr("The diagram was not written."), tr("Fix this first:"), error)
        return False
    try:
        write_file(path, data, kind, rules)
    except BaizewrightError as error:
        session.messages.fail(
            tr("The diagram was not written."), tr("Choose another place."), error
        )
        return False
    session.messages.note(tr("The diagram is in {path}.", path=path), file=path)
    return True


def diagram_bytes(session: OpenRoutine, ending: str) -> bytes:
    """The diagram as a file of that ending (.svg, .png or .pdf)."""
    if ending not in DIAGRAMS:
        raise OutOfRangeError("ending of the diagram’s file", repr(ending), ", ".join(DIAGRAMS))
    drawing = diagram(session)
    if ending == ".svg":
        from designer.painters.svg import svg_bytes

        return svg_bytes(drawing)
    if ending == ".pdf":
        from designer.painters.pdf import pdf_bytes

        return pdf_bytes(drawing)
    from designer.painters.png import png_bytes

    return png_bytes(drawing, PICTURE_PX)


def diagram(session: OpenRoutine) -> Drawing:
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
