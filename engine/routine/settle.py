"""Where a dragged ball comes to lie: on the bed, overlapping nothing, as near as can be.

A free wanted place is taken as it is. Otherwise the ball lies against what is in its way, at
the free place nearest the wanted one, so that it slides along a cushion or round a ball as the
pointer moves. That place lies on the edge of the free region: straight across to one limit,
or where two limits meet; all such places are tried.
"""

from __future__ import annotations

from contextlib import suppress

import numpy as np

from engine.balls import touch_distance_mm
from engine.conditions import Conditions
from engine.errors import BaizewrightError, UnknownNameError
from engine.routine.context import conditions_of
from engine.routine.values import Routine
from engine.tables.bed import ROUNDING_MM, Bed, bed_of
from engine.tables.model import Table

#: Room left so that rounding never turns a touch into an overlap.
TOUCH_ROOM_MM = 1e-6


def settle(
    routine: Routine,
    table: Table,
    radius_mm: float,
    ball_id: str,
    wanted_mm: tuple[float, float],
) -> tuple[float, float]:
    """The place for ball `ball_id` of that radius dragged to `wanted_mm`; millimetres in and out.

    A ball not yet in the routine is one being placed. A locked ball stays where it is, and so
    does any ball when the wanted place is not a number or the bed has no room.
    """
    start = _start(routine, ball_id)
    if start is not None and routine.ball(ball_id).locked:
        return start
    if not np.all(np.isfinite(wanted_mm)):
        return start or (table.width_mm / 2, table.length_mm / 2)
    balls = _other_balls(routine, radius_mm, ball_id)
    bed = bed_of(table, radius_mm)
    wanted = np.array(wanted_mm, dtype=float)
    if _free(bed, balls, wanted[None, :])[0]:
        return float(wanted[0]), float(wanted[1])
    places = _edge_places(bed, balls, wanted, start)
    places = places[_free(bed, balls, places)]
    if not len(places):
        return start or (float(wanted[0]), float(wanted[1]))
    ways = np.hypot(*(places - wanted).T)
    if start is not None:
        # Of places equally near, the one on the side the ball comes from.
        ways = ways + 1e-9 * np.hypot(*(places - np.array(start)).T)
    best = places[int(np.argmin(ways))]
    return float(best[0]), float(best[1])


def is_free(
    routine: Routine, table: Table, radius_mm: float, ball_id: str, place_mm: tuple[float, float]
) -> bool:
    """Whether the ball could lie there: on the bed and overlapping no other ball."""
    balls = _other_balls(routine, radius_mm, ball_id)
    return bool(_free(bed_of(table, radius_mm), balls, np.array([place_mm], dtype=float))[0])


def _other_balls(routine: Routine, radius_mm: float, ball_id: str) -> np.ndarray:
    """The other balls (n, 3): x, y and the distance at which a ball of that radius touches."""
    conditions = Conditions()
    with suppress(BaizewrightError):
        conditions = conditions_of(routine)
    rows = [
        (*ball.centre_mm, touch_distance_mm(radius_mm, conditions.radius_of(ball)))
        for ball in routine.balls
        if ball.id != ball_id
    ]
    return np.array(rows, dtype=float).reshape(-1, 3)


def _start(routine: Routine, ball_id: str) -> tuple[float, float] | None:
    try:
        return routine.ball(ball_id).centre_mm
    except UnknownNameError:
        return None


def _free(bed: Bed, balls: np.ndarray, places: np.ndarray) -> np.ndarray:
    away = places[:, None, :] - balls[None, :, :2]
    apart = np.hypot(away[..., 0], away[..., 1]) >= balls[:, 2] - ROUNDING_MM
    return bed.allows(places) & apart.all(axis=1)


def _edge_places(
    bed: Bed, balls: np.ndarray, wanted: np.ndarray, start: tuple[float, float] | None
) -> np.ndarray:
    """Every place that could be the nearest free one, shape (k, 2)."""
    circles = np.vstack([bed.circles, balls])
    circles[:, 2] += TOUCH_ROOM_MM
    r = bed.radius_mm
    upright = np.array([0.0, r, bed.width_mm - r, bed.width_mm])
    level = np.array([0.0, r, bed.length_mm - r, bed.length_mm])
    corners = np.stack(np.meshgrid(upright, level), axis=-1).reshape(-1, 2)
    places = [
        _onto_circles(circles, wanted, start),
        np.column_stack([upright, np.full(4, wanted[1])]),
        np.column_stack([np.full(4, wanted[0]), level]),
        corners,
        _circle_crossings(circles),
        _line_crossings(circles, upright, 0),
        _line_crossings(circles, level, 1),
        _facing_places(bed, circles, wanted, (upright, level)),
    ]
    return np.vstack(places)


def _onto_circles(
    circles: np.ndarray, wanted: np.ndarray, start: tuple[float, float] | None
) -> np.ndarray:
    """The nearest point of each circle; from its very centre, towards where the ball was."""
    away = wanted - circles[:, :2]
    if start is not None:
        from_start = np.array(start) - circles[:, :2]
        away = np.where(np.hypot(*away.T)[:, None] < 1e-6, from_start, away)
    length = np.hypot(*away.T)
    away = np.where(length[:, None] < 1e-6, np.array([1.0, 0.0]), away)
    return circles[:, :2] + away / np.hypot(*away.T)[:, None] * circles[:, 2:]


def _circle_crossings(circles: np.ndarray) -> np.ndarray:
    first, second = np.triu_indices(len(circles), k=1)
    a, b = circles[first], circles[second]
    between = b[:, :2] - a[:, :2]
    apart = np.hypot(*between.T)
    meet = (apart < a[:, 2] + b[:, 2]) & (apart > np.abs(a[:, 2] - b[:, 2]))
    a, b, between, apart = a[meet], b[meet], between[meet], apart[meet]
    unit = between / apart[:, None]
    along = (apart**2 + a[:, 2] ** 2 - b[:, 2] ** 2) / (2 * apart)
    off = np.sqrt(np.maximum(a[:, 2] ** 2 - along**2, 0.0))
    middle = a[:, :2] + unit * along[:, None]
    sideways = np.column_stack([-unit[:, 1], unit[:, 0]]) * off[:, None]
    return np.vstack([middle + sideways, middle - sideways])


def _line_crossings(circles: np.ndarray, lines: np.ndarray, axis: int) -> np.ndarray:
    """Where circles cross the lines on which coordinate `axis` is constant."""
    gap = lines[:, None] - circles[None, :, axis]
    line, circle = np.nonzero(np.abs(gap) < circles[None, :, 2])
    off = np.sqrt(circles[circle, 2] ** 2 - gap[line, circle] ** 2)
    other = circles[circle, 1 - axis]
    fixed = lines[line]
    pairs = [(fixed, other + off), (fixed, other - off)]
    return np.vstack([np.column_stack(p if axis == 0 else p[::-1]) for p in pairs])


def _facing_places(
    bed: Bed, circles: np.ndarray, wanted: np.ndarray, limits: tuple[np.ndarray, np.ndarray]
) -> np.ndarray:
    """Places against straight jaws: nearest to the wanted one, and where other limits cross.

    A jaw is touched along its line moved in by the radius; `limits` are the upright and the level
    lines of the bed.
    """
    room = bed.radius_mm + TOUCH_ROOM_MM
    found = []
    for x, y, to_x, to_y, nx, ny in bed.facings:
        into = room * np.array([nx, ny])
        start, end = np.array([x, y]) + into, np.array([to_x, to_y]) + into
        long = np.hypot(*(end - start))
        along = (end - start) / long
        ahead = (circles[:, :2] - start) @ along
        beside = np.hypot(*(circles[:, :2] - start - ahead[:, None] * along).T)
        met = beside < circles[:, 2]
        half = np.sqrt(circles[met, 2] ** 2 - beside[met] ** 2)
        steps = np.concatenate([[(wanted - start) @ along], ahead[met] - half, ahead[met] + half])
        found.append(start + np.clip(steps, 0.0, long)[:, None] * along)
        for axis, lines in enumerate(limits):
            steps = np.clip((lines - start[axis]) / along[axis], 0.0, long)
            places = start + steps[:, None] * along
            # rounding must not carry a place on the edge of the bed off it
            near = np.abs(places[:, axis] - lines) < ROUNDING_MM
            places[near, axis] = lines[near]
            found.append(places)
    return np.vstack(found) if found else np.empty((0, 2))
