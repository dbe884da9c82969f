"""What a coach marks in a photograph: known places of the table, and the balls.

Places in a picture are pixels of the upright picture, x to the right and y down; whole numbers
are the middles of pixels, so that (0, 0) is the middle of the upper left one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from engine.errors import UnknownNameError

Pixel = tuple[float, float]
Place = tuple[float, float, float]

#: How far a mark may be taken to lie off its place when nothing else is known, px (one sigma).
MARKING_PX = 1.5


@dataclass(frozen=True, slots=True)
class MarkPlace:
    """A place of the table that can be found in a picture, at a known height above the cloth."""

    id: str
    title: str
    x_mm: float
    y_mm: float
    z_mm: float

    @property
    def at_mm(self) -> Place:
        """The place as a triple, millimetres."""
        return (self.x_mm, self.y_mm, self.z_mm)


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a place of the table is seen in the picture.

    With `at_mm` it is a place of the coach's own (a chalk cross, say) of that name, at these table
    millimetres and this height above the cloth; without, one of `engine.photo.places`.
    """

    place: str
    x_px: float
    y_px: float
    at_mm: Place | None = None
    extra: Mapping[str, Any] = field(default_factory=dict, repr=False)

    @property
    def at_px(self) -> Pixel:
        """The mark as a pair, pixels."""
        return (self.x_px, self.y_px)


@dataclass(frozen=True, slots=True)
class BallMark:
    """The middle of a ball's outline in the picture; `spread_px` its error when it was fitted."""

    id: str
    kind: str
    x_px: float
    y_px: float
    spread_px: float | None = None
    extra: Mapping[str, Any] = field(default_factory=dict, repr=False)

    @property
    def at_px(self) -> Pixel:
        """The middle as a pair, pixels."""
        return (self.x_px, self.y_px)


@dataclass(frozen=True, slots=True)
class PhotoMarks:
    """One photograph with what was marked in it.

    `picture` is the picture's file, as seen from the marks' own file; `size_px` its width and
    height when upright. `focal_35mm` is the focal length a film camera would have had, 0 when it
    is not known. `marking_px` is how exactly the coach marks (one sigma).
    """

    picture: str = ""
    size_px: tuple[int, int] = (0, 0)
    table: str = "snooker-12ft"
    focal_35mm: float = 0.0
    marking_px: float = MARKING_PX
    marks: tuple[Mark, ...] = ()
    balls: tuple[BallMark, ...] = ()
    extra: Mapping[str, Any] = field(default_factory=dict, repr=False)

    def mark(self, place: str) -> Mark | None:
        """The mark of that place, if it was made."""
        return next((mark for mark in self.marks if mark.place == place), None)

    def ball(self, ball_id: str) -> BallMark:
        """The ball of that id; `UnknownNameError` lists the ones there are."""
        for ball in self.balls:
            if ball.id == ball_id:
                return ball
        raise UnknownNameError("ball", ball_id, [ball.id for ball in self.balls])

    def with_mark(self, mark: Mark) -> PhotoMarks:
        """With this mark in place of another of its place, or as one more."""
        kept = tuple(one for one in self.marks if one.place != mark.place)
        return replace(self, marks=(*kept, mark))

    def without_mark(self, place: str) -> PhotoMarks:
        """Without the mark of that place."""
        return replace(self, marks=tuple(one for one in self.marks if one.place != place))

    def with_ball(self, ball: BallMark) -> PhotoMarks:
        """With this ball in place of another of its id, or as one more."""
        if any(one.id == ball.id for one in self.balls):
            changed = tuple(ball if one.id == ball.id else one for one in self.balls)
            return replace(self, balls=changed)
        return replace(self, balls=(*self.balls, ball))

    def without_ball(self, ball_id: str) -> PhotoMarks:
        """Without the ball of that id."""
        return replace(self, balls=tuple(one for one in self.balls if one.id != ball_id))
