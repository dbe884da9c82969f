"""What a routine is made of: shots with their lanes, gaps, claims, and the routine itself.

All are frozen values: an edit makes a new routine that shares what it left alone. Half-made
routines are allowed; `engine.problems` says what is wrong with one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from engine.balls import Ball
from engine.errors import UnknownNameError
from engine.tables.measured import MeasuredTable

Extra = Mapping[str, Any]

#: Tip height that arrives at the object ball with no spin, found by the engine.
STUN: Literal["stun"] = "stun"
TipHeight = float | Literal["stun"]

GAP_KINDS: tuple[str, ...] = (
    "ball-ball",
    "ball-cushion",
    "cushion-stretch",
    "cloth-area",
    "cannon",
    "in-order",
)
MARK_KINDS: tuple[str, ...] = ("cross", "dot", "line")
CLAIM_KINDS: tuple[str, ...] = (
    "pot-on",
    "pot-off",
    "lane-clears",
    "lane-contacts",
    "lane-threads",
    "gap-reachable",
    "gap-unreachable",
    "lane-passes",
    "lane-same-line",
    "lane-near-ninety",
    "lane-more-room",
    "cue-ball-stops-in",
    "object-ball-stops-in",
)


@dataclass(frozen=True, slots=True)
class LaneAsk:
    """One lane to predict: how the cue ball is struck, and the letter it goes by.

    `tip_height` is the offset of the tip above (+) or below (−) centre over the ball radius,
    or "stun". `pace` is on the coach's 1–10 scale; `speed_m_s`, when given, is used instead.
    `side` is the tip's offset to the right (+) over the radius; `elevation_deg` the cue's.
    """

    label: str
    tip_height: TipHeight = 0.0
    pace: float = 4.0
    speed_m_s: float | None = None
    side: float = 0.0
    elevation_deg: float = 0.0
    title: str = ""
    extra: Extra = field(default_factory=dict, repr=False)


@dataclass(frozen=True, slots=True)
class Shot:
    """A pot (object ball and pocket), or a plain shot along `aim_deg` (from +x, anticlockwise).

    With `allow_for_throw` the contact is set so that the object ball leaves along the potting
    line although ball friction throws it; otherwise the line of centres is the potting line.
    """

    id: str
    object_ball: str = ""
    pocket: str = ""
    aim_deg: float | None = None
    allow_for_throw: bool = True
    lanes: tuple[LaneAsk, ...] = ()
    title: str = ""
    question: str = ""
    answer: str = ""
    note: str = ""
    extra: Extra = field(default_factory=dict, repr=False)

    def lane(self, label: str) -> LaneAsk:
        """The lane of that letter; `UnknownNameError` lists the ones there are."""
        for lane in self.lanes:
            if lane.label == label:
                return lane
        raise UnknownNameError("lane", label, [lane.label for lane in self.lanes])


@dataclass(frozen=True, slots=True)
class Gap:
    """Two edges the cue ball must pass between, or a stretch or area to reach.

    ball-ball: `balls` names two; ball-cushion: `balls` names one, `cushion` the face;
    cushion-stretch: `cushion` with `from_mm`..`to_mm` along it (x, or y for left and right);
    cloth-area: `points_mm`, a polygon; cannon: `balls` names one, `side` "left", "right" or
    "either" as the cue ball comes; in-order: `gaps` names others, to be done one after another.
    """

    id: str
    kind: str
    balls: tuple[str, ...] = ()
    cushion: str = ""
    from_mm: float | None = None
    to_mm: float | None = None
    points_mm: tuple[tuple[float, float], ...] = ()
    side: str = "either"
    gaps: tuple[str, ...] = ()
    title: str = ""
    extra: Extra = field(default_factory=dict, repr=False)


@dataclass(frozen=True, slots=True)
class Claim:
    """A statement the routine makes, which the engine proves or refutes.

    `margin_mm` is the clearance asked for; a pace range narrows a gap claim. `other` is a second
    lane that the first is compared with, `within_deg` how near two lines have to be, `side` on
    which side of the ball the lane passes ("left" or "right", as the cue ball goes).
    """

    kind: str
    shot: str
    lane: str = ""
    ball: str = ""
    gap: str = ""
    margin_mm: float = 0.0
    pace_min: float | None = None
    pace_max: float | None = None
    other: str = ""
    within_deg: float = 0.0
    side: str = ""
    extra: Extra = field(default_factory=dict, repr=False)


@dataclass(frozen=True, slots=True)
class ClothMark:
    """A small mark to be put on the cloth: a target, or where to put the chalk down.

    A "line" runs from its place to (`to_x_mm`, `to_y_mm`); crosses and dots have no other end.
    """

    id: str
    kind: str
    x_mm: float
    y_mm: float
    to_x_mm: float | None = None
    to_y_mm: float | None = None
    note: str = ""
    extra: Extra = field(default_factory=dict, repr=False)

    @property
    def places_mm(self) -> tuple[tuple[float, float], ...]:
        """Its place, and its other end if it has one."""
        if self.to_x_mm is None or self.to_y_mm is None:
            return ((self.x_mm, self.y_mm),)
        return ((self.x_mm, self.y_mm), (self.to_x_mm, self.to_y_mm))


@dataclass(frozen=True, slots=True)
class Routine:
    """One document: a set-up, its shots, gaps and claims, on a table in stated conditions.

    `conditions` and `pocket_openings_mm` hold only what differs from the table's own values;
    `measured_table` holds a coach's own measurements of that table, so that the routine's file
    needs no other.
    `level` runs from 1 (first lessons) to 5. `tags` are a coach's own words to find it by. `id`
    says which routine it is (see `engine.routine.identity`); "" until it is given one.
    """

    title: str = ""
    table: str = "snooker-12ft"
    balls: tuple[Ball, ...] = ()
    shots: tuple[Shot, ...] = ()
    gaps: tuple[Gap, ...] = ()
    claims: tuple[Claim, ...] = ()
    conditions: Mapping[str, Any] = field(default_factory=dict)
    pocket_openings_mm: Mapping[str, float] = field(default_factory=dict)
    measured_table: MeasuredTable | None = None
    coach: str = ""
    club: str = ""
    level: int = 1
    notes: str = ""
    tags: tuple[str, ...] = ()
    cloth_marks: tuple[ClothMark, ...] = ()
    id: str = ""
    extra: Extra = field(default_factory=dict, repr=False)

    @property
    def cue_ball(self) -> Ball | None:
        """The cue ball, if it has been placed."""
        return next((ball for ball in self.balls if ball.is_cue), None)

    def ball(self, ball_id: str) -> Ball:
        """The ball of that id; `UnknownNameError` lists the ones there are."""
        return _named("ball", ball_id, self.balls)

    def shot(self, shot_id: str) -> Shot:
        """The shot of that id; `UnknownNameError` lists the ones there are."""
        return _named("shot", shot_id, self.shots)

    def gap(self, gap_id: str) -> Gap:
        """The gap of that id; `UnknownNameError` lists the ones there are."""
        return _named("gap", gap_id, self.gaps)

    def cloth_mark(self, mark_id: str) -> ClothMark:
        """The cloth mark of that id; `UnknownNameError` lists the ones there are."""
        return _named("cloth mark", mark_id, self.cloth_marks)


def _named(what: str, wanted: str, items: tuple[Any, ...]) -> Any:
    for item in items:
        if item.id == wanted:
            return item
    raise UnknownNameError(what, wanted, [item.id for item in items])
