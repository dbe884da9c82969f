"""Work on one photograph: its picture, what is marked in it, and what was read off it."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
from PySide6.QtCore import QObject, Signal

from designer.open_routine.open_routine import OpenRoutine
from designer.texts import tr
from engine.balls import KINDS
from engine.errors import BaizewrightError
from engine.photo import (
    BallMark,
    CameraFit,
    Mark,
    MarkPlace,
    PhotoMarks,
    PhotoReading,
    Picture,
    check_table,
    fit_camera,
    mark_places,
    read_photo,
    suggest_middle,
    within_mm,
)
from engine.photo.values import Pixel
from engine.storage.photo_files import (
    checked_picture,
    load_photo_marks,
    load_picture,
    picture_beside,
    picture_name,
    save_photo_marks,
)
from engine.storage.writing import SAVING, WriteRules

#: Steps that can be taken back.
_MOST_STEPS = 200


class PhotoWork(QObject):
    """Holds the marks with their own undo; reads them anew after every change.

    `changed` tells of everything. `trouble` says why there is no reading, "" when there is one;
    `fit` may be there although the balls cannot be read.
    """

    changed = Signal()

    def __init__(self, session: OpenRoutine, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.picture: Picture | None = None
        self.picture_path: Path | None = None
        self.marks_path: Path | None = None
        self.photo = PhotoMarks()
        self.fit: CameraFit | None = None
        self.reading: PhotoReading | None = None
        self.trouble = ""
        self._past: list[PhotoMarks] = []
        self._future: list[PhotoMarks] = []
        self._saved = self.photo
        self._before_drag: PhotoMarks | None = None

    # Files -----------------------------------------------------------------------------------

    def open_picture(self, path: Path) -> None:
        """Begin with a picture; what was marked in another of the same size is kept aside.

        Raises what `load_picture` does, and nothing is lost then.
        """
        picture = load_picture(path)
        table = self._session.routine.table
        self._begin(
            picture, path, None,
            PhotoMarks(path.name, picture.size_px, table, picture.focal_35mm),
        )  # fmt: skip

    def open_marks(self, path: Path) -> None:
        """Go on with marks made before, and their picture beside them; raises as the loaders."""
        photo = load_photo_marks(path)
        check_table(photo, self._session.routine)
        picture = checked_picture(path, photo)
        self._begin(picture, picture_beside(path, photo), path, photo)

    def save(self, path: Path, rules: WriteRules = SAVING) -> None:
        """Write the marks; the picture is named as seen from the file."""
        assert self.picture_path is not None
        name = picture_name(self.picture_path, path)
        self.photo = replace(self.photo, picture=name, table=self._session.routine.table)
        save_photo_marks(self.photo, path, rules)
        self.marks_path, self._saved = path, self.photo
        self.changed.emit()

    @property
    def changed_since_save(self) -> bool:
        """Whether marks would be lost by closing."""
        return self.photo != self._saved and bool(self.photo.marks or self.photo.balls)

    def _begin(
        self, picture: Picture, path: Path, marks_path: Path | None, photo: PhotoMarks
    ) -> None:
        self.picture, self.picture_path, self.marks_path = picture, path, marks_path
        self.photo = self._saved = photo
        self._past, self._future, self._before_drag = [], [], None
        self.read()

    # Marks -----------------------------------------------------------------------------------

    @property
    def places(self) -> tuple[MarkPlace, ...]:
        """The places of the routine's table, and the coach's own that are marked."""
        own = [
            MarkPlace(one.place, one.place, *one.at_mm)
            for one in self.photo.marks
            if one.at_mm is not None
        ]
        return (*mark_places(self._session.table), *own)

    def next_place(self, after: str = "") -> str:
        """The next place without a mark, "" when all are marked."""
        ids = [place.id for place in self.places]
        start = ids.index(after) + 1 if after in ids else 0
        open_ones = [one for one in ids[start:] + ids[:start] if self.photo.mark(one) is None]
        return open_ones[0] if open_ones else ""

    def put_mark(self, place: str, at: Pixel) -> None:
        """Mark a place, or move its mark."""
        self._change(lambda photo: photo.with_mark(_moved(photo, place, at)))

    def remove_mark(self, place: str) -> None:
        """Take a mark away."""
        if self.photo.mark(place) is not None:
            self._change(lambda photo: photo.without_mark(place))

    def put_ball(self, at: Pixel, kind: str = "") -> str:
        """Mark the ball at a click, its middle fitted to the outline where one is made out.

        With no kind its colour decides. The ball's id.
        """
        ball = BallMark("", kind or "plain", *at)
        found = self._suggested(at, kind)
        if found is not None:
            ball = replace(found, kind=kind or found.kind or "plain")
        ball = replace(ball, id=self._free_id(ball.kind))
        self._change(lambda photo: photo.with_ball(ball))
        return ball.id

    def move_ball(self, ball_id: str, at: Pixel) -> None:
        """Correct a ball's middle by hand; it is then as exact as a mark."""
        moved = replace(self.photo.ball(ball_id), x_px=at[0], y_px=at[1], spread_px=None)
        self._change(lambda photo: photo.with_ball(moved))

    def fit_ball(self, ball_id: str) -> bool:
        """Lay a ball's middle onto its outline; False when none is made out."""
        ball = self.photo.ball(ball_id)
        found = self._suggested(ball.at_px, ball.kind)
        if found is None:
            return False
        put = replace(ball, x_px=found.x_px, y_px=found.y_px, spread_px=found.spread_px)
        self._change(lambda photo: photo.with_ball(put))
        return True

    def set_kind(self, ball_id: str, kind: str) -> str:
        """Say which ball it is; its new id."""
        ball = self.photo.ball(ball_id)
        rest = self.photo.without_ball(ball_id)
        new = replace(ball, kind=kind, id=self._free_id(kind, rest))
        self._change(lambda _: rest.with_ball(new))
        return new.id

    def remove_ball(self, ball_id: str) -> None:
        """Take a ball's mark away."""
        self._change(lambda photo: photo.without_ball(ball_id))

    def drag(self, kind: str, key: str, at: Pixel) -> None:
        """Move a mark ("place") or a ball ("ball") while the hand is on it; `drop` ends it."""
        if self._before_drag is None:
            self._before_drag = self.photo
        if kind == "place":
            self.photo = self.photo.with_mark(_moved(self.photo, key, at))
        else:
            moved = replace(self.photo.ball(key), x_px=at[0], y_px=at[1], spread_px=None)
            self.photo = self.photo.with_ball(moved)
        self.changed.emit()

    def drop(self) -> None:
        """End a drag: one step, and read anew."""
        before, self._before_drag = self._before_drag, None
        if before is not None and before != self.photo:
            after, self.photo = self.photo, before
            self._change(lambda _: after)

    # Steps -----------------------------------------------------------------------------------

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return bool(self._past)

    @property
    def can_redo(self) -> bool:
        """Whether a step taken back can be done again."""
        return bool(self._future)

    def undo(self) -> None:
        """Take back the last change of the marks."""
        if self._past:
            self._future.append(self.photo)
            self.photo = self._past.pop()
            self.read()

    def redo(self) -> None:
        """Do the change taken back once more."""
        if self._future:
            self._past.append(self.photo)
            self.photo = self._future.pop()
            self.read()

    # What was read ---------------------------------------------------------------------------

    def read(self) -> None:
        """Find the camera and the balls from the marks as they are."""
        self.fit, self.reading, self.trouble = None, None, ""
        if self.picture is not None:
            # the table is the routine's, should the coach change it meanwhile
            self.photo = replace(self.photo, table=self._session.routine.table)
            try:
                self.reading = read_photo(self.photo, self._session.routine)
                self.fit = self.reading.fit
            except BaizewrightError as error:
                self.trouble = str(error)
                # the balls may be what cannot be read
                with contextlib.suppress(BaizewrightError):
                    self.fit = fit_camera(self._session.table, self.photo)
        self.changed.emit()

    def at_pointer(self, at: Pixel) -> tuple[float, float, float] | None:
        """Place on the cloth and its ±, mm, under a pixel; None off the table or with no camera."""
        if self.fit is None:
            return None
        x, y = self.fit.camera.on_level(np.array(at), 0.0)
        table = self._session.table
        if not (0.0 <= x <= table.width_mm and 0.0 <= y <= table.length_mm):
            return None
        return (float(x), float(y), float(within_mm(self.fit, np.array([[x, y, 0.0]]))[0]))

    def take_over(self) -> bool:
        """Put the balls on the table where they were read: one step of the document."""
        if self.reading is None or not self.photo.balls:
            return False
        photo = self.photo
        return self._session.apply(
            tr("Put balls where the photograph has them"), lambda r: read_photo(photo, r).routine
        )

    # Inside ----------------------------------------------------------------------------------

    def _change(self, edit: Callable[[PhotoMarks], PhotoMarks]) -> None:
        after = edit(self.photo)
        if after == self.photo:
            return
        self._past = [*self._past[-_MOST_STEPS:], self.photo]
        self._future = []
        self.photo = after
        self.read()

    def _suggested(self, at: Pixel, kind: str) -> BallMark | None:
        if self.picture is None:
            return None
        found = suggest_middle(
            self.picture.pixels, at,
            camera=self.fit.camera if self.fit is not None else None,
            radius_mm=self._session.radius_of(kind or "red"),
        )  # fmt: skip
        if found is None:
            return None
        return BallMark("", found.kind, *found.middle_px, spread_px=found.spread_px)

    def _free_id(self, kind: str, photo: PhotoMarks | None = None) -> str:
        """An id for one more ball of a kind: that of the routine's own ball of it first."""
        photo = self.photo if photo is None else photo
        taken = {ball.id for ball in photo.balls}
        mine = [ball.id for ball in self._session.routine.balls if ball.kind == kind]
        for ball_id in mine:
            if ball_id not in taken:
                return ball_id
        others = {ball.id for ball in self._session.routine.balls} | taken
        if kind in KINDS and kind not in ("red", "plain") and kind not in others:
            return kind
        number = 1
        while f"{kind}-{number}" in others:
            number += 1
        return f"{kind}-{number}"


def _moved(photo: PhotoMarks, place: str, at: Pixel) -> Mark:
    """The mark of a place at another pixel; what else it holds is kept."""
    known = photo.mark(place)
    return Mark(place, *at) if known is None else replace(known, x_px=at[0], y_px=at[1])
