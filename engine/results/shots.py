"""What is found of a shot: its pot, its lanes and how they stand to balls and gaps.

Points are (x, y) in table millimetres; polylines are float arrays of shape (n, 2).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.results.events import LaneContact, LaneEvent, Point
from engine.results.facts import Fact

if TYPE_CHECKING:
    import numpy as np


@dataclass(frozen=True, slots=True)
class PotAnswer:
    """The pot of one shot: is it on, and the geometry a coach explains it with.

    `contact_mm` is the cue ball's centre at contact (the contact position); `ninety_line_mm`
    runs from there along the 90-degree line to the first cushion on the cue ball's side;
    `potting_line_mm` from the object ball's centre to where it is aimed in the pocket.
    `cut_deg`: angle between the cue ball's line and the line of centres; `fullness` 1 is full.
    `cut_side` is the side the object ball is cut to, as the cue ball sees it.
    `pocket_margin_deg`: how far either way the pot may stray and still go in clean (negative
    when the pocket is too thin from there).
    """

    on: bool
    reasons: tuple[Fact, ...]
    object_ball: str
    pocket: str
    contact_mm: Point
    cut_deg: float
    fullness: float
    fullness_name: str
    cut_side: str
    potting_line_mm: tuple[Point, Point]
    aim_line_mm: tuple[Point, Point]
    ninety_line_mm: tuple[Point, Point]
    pocket_margin_deg: float
    lowest_tip: float
    lowest_tip_reason: Fact | None


@dataclass(frozen=True, slots=True)
class Clearance:
    """How one ball stands to a lane: `clearance_mm` between cloth-level edges, negative = overlap.

    `side`: on which side of the lane the ball lies as the cue ball travels. `fullness` is how
    full the cue ball would take it (0 when it clears). `at_mm`: the cue ball's centre where it
    is nearest (where it touches it, if it does), `after_cushions` how many cushions it has met by
    then.
    """

    ball: str
    clearance_mm: float
    side: str
    fullness: float
    at_mm: Point
    after_cushions: int

    @property
    def fact(self) -> Fact:
        """That the lane clears or touches the ball, by how much, after how many cushions."""
        kind = "touches-ball" if self.clearance_mm < 0.0 else "clears"
        mm = abs(self.clearance_mm)
        return Fact(kind, ball=self.ball, mm=mm, after_cushions=self.after_cushions)


@dataclass(frozen=True, slots=True)
class LaneBounce:
    """One cushion (or jaw) the cue ball meets on its free way, velocities in m/s."""

    cushion: str
    t_s: float
    at_mm: Point
    before_m_s: tuple[float, float]
    after_m_s: tuple[float, float]


@dataclass(frozen=True, slots=True)
class LaneDoubt:
    """Where a lane may lie when cloth, balls and cushions are only known as likely ranges.

    `outlines_mm`: closed outlines, each (n, 2), around the cue ball's centre. The others are the
    greatest distances between any two samples at the first cushion and at rest, mm; nan when not
    all of the `samples` get there. `legs`: how many the outlines cover before the samples meet
    different cushions.
    """

    outlines_mm: tuple[np.ndarray, ...]
    first_cushion_mm: float
    rest_mm: float
    samples: int
    legs: int


@dataclass(frozen=True, slots=True)
class Lane:
    """Where the cue ball's centre travels, for one way of striking it.

    `path_mm` is the way after contact with the object ball, to rest or pocket, as it is played:
    where it touches a ball it goes on as that contact sends it. `approach_mm` is the way before;
    `played_mm` the cue ball's way after its first contact, whichever ball that is. `met_instead`
    names a ball met in place of the object ball: then `path_mm` is the way that was meant.
    `clear` means the way to rest touches no obstacle.
    `spin_ratio_on_arrival` is R·spin/speed at contact: +1 rolling, 0 stun, below 0 backspin.
    `deflection_deg` is from the line before contact to the final rolling line;
    `first_angle_deg` between the first line after contact and the line of centres (90 for a
    stun-true contact). `rests` says where every
    ball ends (None: in a pocket); `legs_mm` is `path_mm` cut at the cushions, `bounces` tells of
    them. `events` and `rests` belong to the played way; a contact of two balls is told twice
    there, once of each. `aim_deg` is the direction the cue ball leaves in.
    """

    label: str
    title: str
    strike_name: str
    tip_height: float
    is_stun: bool
    pace: float
    speed_m_s: float
    side: float
    elevation_deg: float
    approach_mm: np.ndarray
    path_mm: np.ndarray
    played_mm: np.ndarray
    object_path_mm: np.ndarray
    first_cushion: str
    first_cushion_mm: Point | None
    bend_end_mm: Point | None
    spin_ratio_on_arrival: float
    arrival_speed_m_s: float
    first_angle_deg: float
    deflection_deg: float
    final_direction_deg: float
    throw_deg: float
    clear: bool
    clearances: tuple[Clearance, ...]
    first_touched: str
    object_potted: bool
    in_off: bool
    stops_mm: Point | None
    events: tuple[LaneEvent, ...]
    cautions: tuple[Fact, ...] = ()
    contact: LaneContact | None = None
    aim_deg: float = 0.0
    rests: tuple[tuple[str, Point | None], ...] = ()
    legs_mm: tuple[np.ndarray, ...] = ()
    bounces: tuple[LaneBounce, ...] = ()
    doubt: LaneDoubt | None = None
    met_instead: str = ""


@dataclass(frozen=True, slots=True)
class GapPass:
    """How one lane stands to one gap: threads it or not, and the room to the nearer edge in mm.

    `margin_mm` is the room between the cue ball and the nearer edge where it crosses (negative:
    it misses or touches by that much); nan when the lane never comes near. `along_mm`: how far
    along the way it is done. `kind` is a reason of `engine.judging.rules.REASONS`: which part
    fails; `reason` says the same with its figures.
    """

    lane: str
    gap: str
    threads: bool
    margin_mm: float
    reason: Fact
    along_mm: float = 0.0
    kind: str = ""


@dataclass(frozen=True, slots=True)
class LanePair:
    """Two lanes of a shot and how far apart they lie where the player points; `apart`: enough."""

    one: str
    two: str
    distance_mm: float
    apart: bool


@dataclass(frozen=True, slots=True)
class ShotAnswer:
    """Everything about one shot of a routine."""

    shot: str
    pot: PotAnswer | None
    lanes: tuple[Lane, ...]
    passes: tuple[GapPass, ...]
    stun_tip_height: float | None
    refusals: tuple[Fact, ...] = ()

    @property
    def cannot_be_played(self) -> bool:
        """Whether nothing of the shot can be worked out; `refusals` say why."""
        return bool(self.refusals) and not self.lanes
