"""Which part of the table a question is about: large enough to see, and saying nothing of it.

The part is the same whichever lane is chosen: it holds the balls and the pocket of the shot, every
gap, and as much of all lanes as leaves the balls large enough, rounded outwards.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np

from designer.drawing.model import Bounds, Point
from designer.drawing.table import RIM_DEPTH_MM, table_bounds
from designer.table_view.read_only_table import RING_REACH
from engine.results import ShotAnswer
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Gap, Routine, Shot

#: Balls on a part of the table are at least this high, as a share of the picture's height.
LEAST_BALL = 0.0253
#: Room left round what is to be seen, and the step its edges are rounded out to, mm.
ROOM_MM, STEP_MM = 55.0, 25.0
#: Room for the ring round a pocket beside the ring itself, and over the rim.
RING_MM = 14.0
#: Shares of the lanes' ways up to their first cushion that are tried, the most first.
_SHARES = (1.0, 0.75, 0.5, 0.25, 0.0)
#: A part with smaller balls is shown where it is at least that much larger than the whole table.
_WORTH = 1.15


def whole(routine: Routine, size_px: Point, letters_px: float) -> Bounds:
    """The whole table, with room for the ring round a pocket and for letters on its rim."""
    x0, y0, x1, y1 = table_bounds(table_of(routine))
    air = RING_MM
    for _ in range(2 if letters_px else 0):
        # A letter's disc is two em wide and stands behind the cushion face.
        em = letters_px / _scale((x0 - air, y0 - air, x1 + air, y1 + air), size_px)
        air = max(RING_MM, 2.3 * em - RIM_DEPTH_MM)
    return (x0 - air, y0 - air, x1 + air, y1 + air)


def crop(
    routine: Routine,
    shot: Shot,
    found: ShotAnswer | None,
    size_px: Point,
    high_px: float,
    letters_px: float = 0.0,
) -> Bounds:
    """The part of the table to show in a picture of that size (as the table stands upright, px).

    `high_px` is the height of the whole screen. Balls come to `LEAST_BALL` of it if what there is
    to see does not lie too far apart. With letters at the lanes' ends, of an em of `letters_px`,
    all of them are in it. It is the whole table where a part would not be much larger.
    """
    conditions = conditions_of(routine)
    least_ball = 2.0 * min(conditions.cue_radius_mm, conditions.ball_radius_mm)
    limits, fixed = whole(routine, size_px, letters_px), list(_must_see(routine, shot))
    shares = _SHARES[:1] if letters_px else _SHARES
    parts = [_box([*fixed, *lanes]) for lanes in _lane_points(found, shares)]
    boxes = [_round(one, limits, letters_px / _scale(limits, size_px)) for one in parts]
    scales = [_scale(box, size_px) for box in boxes]
    enough = LEAST_BALL * high_px / least_ball
    if max(scales) < enough:
        enough = _WORTH * _scale(limits, size_px)
    place = next((i for i, scale in enumerate(scales) if scale >= enough), None)
    return limits if place is None else _grown(boxes[place], size_px[0] / size_px[1], limits)


def _scale(box: Bounds, size_px: Point) -> float:
    """Pixels for a millimetre when a box fills a picture."""
    return min(size_px[0] / (box[2] - box[0]), size_px[1] / (box[3] - box[1]))


def _must_see(routine: Routine, shot: Shot) -> Iterator[Point]:
    """Places of the balls of the shot, of its pocket and of every gap."""
    balls = {ball.id: ball.centre_mm for ball in routine.balls}
    wanted = {shot.object_ball} | {one for gap in routine.gaps for one in gap.balls}
    if routine.cue_ball is not None:
        wanted.add(routine.cue_ball.id)
    yield from (place for name, place in balls.items() if name in wanted)
    table = table_of(routine)
    for one in table.pockets:
        if one.id == shot.pocket:
            (x, y), out = one.fall_mm, one.fall_radius_mm * RING_REACH + RING_MM - ROOM_MM
            yield from ((x - out, y - out), (x + out, y + out))
    for gap in routine.gaps:
        yield from gap.points_mm
        yield from _stretch(gap, table.width_mm, table.length_mm)


def _stretch(gap: Gap, width: float, length: float) -> Iterator[Point]:
    """The ends of a stretch of cushion."""
    for along in (gap.from_mm, gap.to_mm):
        if gap.kind == "cushion-stretch" and along is not None:
            yield {
                "left": (0.0, along), "right": (width, along),
                "bottom": (along, 0.0), "top": (along, length),
            }[gap.cushion]  # fmt: skip


def _lane_points(found: ShotAnswer | None, shares: Iterable[float]) -> Iterator[list[Point]]:
    """Places on all lanes: their whole ways, then those shares of them up to the first cushion."""
    lanes = found.lanes if found is not None else ()
    yield _points(lane.path_mm for lane in lanes)
    firsts = [lane.legs_mm[0] for lane in lanes if lane.legs_mm]
    for share in shares:
        yield _points(leg[: math.ceil(len(leg) * share)] for leg in firsts)


def _points(ways: Iterable[np.ndarray]) -> list[Point]:
    return [(float(x), float(y)) for way in ways for x, y in way]


def _box(points: list[Point]) -> Bounds:
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def _round(box: Bounds, limits: Bounds, more_mm: float) -> Bounds:
    """The box with room round it and `more_mm`, its edges on round figures, on the table."""
    room = ROOM_MM + more_mm
    low = [math.floor((one - room) / STEP_MM) * STEP_MM for one in box[:2]]
    high = [math.ceil((one + room) / STEP_MM) * STEP_MM for one in box[2:]]
    return (
        max(low[0], limits[0]), max(low[1], limits[1]),
        min(high[0], limits[2]), min(high[1], limits[3]),
    )  # fmt: skip


def _grown(box: Bounds, shape: float, limits: Bounds) -> Bounds:
    """The box widened or heightened to that width over height, moved to stay on the table."""
    wide = max(box[2] - box[0], (box[3] - box[1]) * shape)
    high = wide / shape
    x0, x1 = _slid((box[0] + box[2]) / 2.0, wide, limits[0], limits[2])
    y0, y1 = _slid((box[1] + box[3]) / 2.0, high, limits[1], limits[3])
    return (x0, y0, x1, y1)


def _slid(middle: float, size: float, low: float, high: float) -> Point:
    """A stretch of that size about a middle, kept within; about theirs where it is larger."""
    if size >= high - low:
        middle = (low + high) / 2.0
    else:
        middle = min(max(middle, low + size / 2.0), high - size / 2.0)
    return (middle - size / 2.0, middle + size / 2.0)
