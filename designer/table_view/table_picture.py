"""What the canvas paints: the routine's drawing, and the table under it kept as a picture."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPixmap, QTransform

from designer.drawing import Drawing, Layers, Look, build_drawing, roles
from designer.drawing.dark import in_dark
from designer.drawing.model import Bounds, Item
from designer.drawing.table import table_bounds
from designer.open_routine import OpenRoutine
from designer.painters.qt import paint, paint_item
from designer.painters.text_pictures import TextPictures

#: Roles that only change with the table, its size on screen and the layers.
STILL = frozenset({roles.RIM, roles.BED, roles.CUSHION, roles.POCKET, roles.MARKS})

#: Roles whose edges need no smoothing while a ball is in hand.
ROUGH = frozenset({roles.CORRIDOR})

#: Sizes aimed at on screen, in pixels, and their limits in table mm.
TEXT_PX, LEAST_TEXT_PX, LINE_PX = 17.0, 12.0, 1.4


def look_at(px_per_mm: float, turned: bool, far: bool = False) -> Look:
    """Sizes of texts and lines that stay readable at any zoom."""
    text = min(max(TEXT_PX / px_per_mm, 20.0), 92.0)
    least = min(max(LEAST_TEXT_PX / px_per_mm, 8.0), 60.0)
    line = min(max(LINE_PX / px_per_mm, 0.8), 8.0)
    return Look(round(text, 1), round(least, 1), round(line, 2), turned=turned, far=far)


class TablePicture:
    """Builds the drawing when something it rests on has changed, and paints it."""

    def __init__(self, session: OpenRoutine, layers: Layers | None = None) -> None:
        self._session = session
        #: Shown instead of the layers the coach has chosen, if given.
        self.layers = layers
        #: The em of all texts, px, and the part that is seen; None for what goes with the zoom.
        self.text_px: float | None = None
        self.part: Bounds | None = None
        #: Whether the drawing is wanted in the colours of a dark screen.
        self.dark = False
        self._key: tuple[object, ...] = ()
        self._drawing: Drawing | None = None
        self._picture: QPixmap | None = None
        self._picture_key: tuple[object, ...] = ()
        self._still: tuple[Item, ...] = ()
        self._texts = TextPictures()

    @property
    def _layers(self) -> Layers:
        return self._session.view.layers if self.layers is None else self.layers

    def bounds(self) -> Bounds:
        """The part of the plane to fit on screen: the table, and measurements if shown."""
        table = table_bounds(self._session.table)
        if not self._layers.measurements or self._drawing is None:
            return table
        shown = self._drawing.bounds
        return (
            min(table[0], shown[0]),
            min(table[1], shown[1]),
            max(table[2], shown[2]),
            max(table[3], shown[3]),
        )

    def drawing(self, px_per_mm: float, moving: bool = False) -> Drawing:
        """The drawing of the routine as it stands; the same object while nothing changed.

        While something is `moving` letters and names stay where they were beside what they name.
        """
        session, view = self._session, self._session.view
        look = look_at(px_per_mm, view.turned, view.far)
        if self.text_px is not None:
            em, line = round(self.text_px / px_per_mm, 1), round(self.text_px / px_per_mm / 11, 2)
            look = Look(em, em, line, turned=view.turned, far=view.far, within=self.part)
        answer = session.reach.answer_to_draw()
        beneath = session.comparison.shot_answer()
        # With layers of its own (the lesson) every lane is shown.
        lanes = session.lanes_to_draw() if self.layers is None else None
        chosen = session.shown_lane if self.layers is None else ""
        key = (
            session.routine, answer, beneath, self._layers, view.unit, look, session.shown_shot,
            lanes, chosen, moving, self.dark,
        )  # fmt: skip
        if self._drawing is None or not _same(key, self._key):
            shot = session.shown_shot or None
            drawing = build_drawing(
                session.routine,
                answer,
                self._layers,
                view.unit,
                look=look,
                shot=shot,
                lanes=lanes,
                chosen=chosen,
                names=self.layers is None,
                beneath=beneath,
                held=self._drawing.offsets if moving and self._drawing is not None else None,
            )
            self._drawing, self._key = in_dark(drawing) if self.dark else drawing, key
        return self._drawing

    def paint(
        self,
        painter: QPainter,
        size: QRectF,
        matrix: QTransform,
        ratio: float,
        ground: QColor,
        leave_out: frozenset[str] = frozenset(),
        moving: bool = False,
        beneath: Callable[[], None] | None = None,
    ) -> None:
        """Paint the kept picture of the table on its ground, and everything else over it.

        What `beneath` paints comes between the two: on the cloth, under balls and names.

        Items of the roles in `leave_out` are not painted. While something is `moving` the faint
        tint of the corridors, the dearest part by far, has edges that are not smoothed.
        """
        drawing = self.drawing(_scale(matrix), moving)
        still = tuple(item for item in drawing.items if item.role in STILL)
        key = (matrix, ratio, size.size(), ground)
        if self._picture is None or key != self._picture_key or still != self._still:
            self._picture = _picture(still, size, matrix, ratio, ground)
            self._picture_key, self._still = key, still
        painter.drawPixmap(0, 0, self._picture)
        if beneath is not None:
            beneath()
        painter.save()
        painter.setTransform(matrix, True)
        quick = ROUGH if moving else frozenset()
        paint(drawing, painter, STILL | leave_out, quick - leave_out, self._texts.paint)
        painter.restore()


def _picture(
    items: tuple[Item, ...], size: QRectF, matrix: QTransform, ratio: float, ground: QColor
) -> QPixmap:
    """The table as a picture; it has no see-through part, so it is put down in no time."""
    pixmap = QPixmap((size.size() * ratio).toSize())
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(ground)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setTransform(matrix, True)
    for item in items:
        paint_item(item, painter)
    painter.end()
    return pixmap


def _scale(matrix: QTransform) -> float:
    return abs(matrix.m11()) or abs(matrix.m12())


def _same(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    """Whether two keys mean the same, without comparing whole routines."""
    if len(one) != len(other):
        return False
    return all(a is b for a, b in zip(one[:3], other[:3], strict=True)) and one[3:] == other[3:]
