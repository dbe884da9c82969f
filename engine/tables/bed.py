"""Where a ball's centre may lie on the bed: off the cushions, off the jaws, not in a fall.

In the mouth of a pocket a centre may come as far as the line of the cushion face, unless the
ball would have dropped before.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from engine.tables.model import Pocket, Table

#: A centre kept out of a fall stays this far outside it, so that it is not taken as potted.
FALL_ROOM_MM = 0.01
#: Rounding allowed for a ball that touches a cushion or a jaw exactly.
ROUNDING_MM = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Bed:
    """The limits of a ball's centre as arrays, for one table and ball radius.

    `circles` (n, 3): x, y and the least distance, jaws first, then falls. `faces` (m, 4): axis
    the face bounds (0 for x), limit, and from..to along the other axis; `signs` (m,): +1 when
    the centre must be above the limit, −1 when below. `facings` (k, 6) are straight jaws: start,
    end and the way off the rubber.
    """

    width_mm: float
    length_mm: float
    radius_mm: float
    circles: np.ndarray
    faces: np.ndarray
    signs: np.ndarray
    facings: np.ndarray

    def allows(self, centres_mm: ArrayLike, slack_mm: float = ROUNDING_MM) -> np.ndarray:
        """Whether each centre, shape (..., 2), may lie there; booleans of shape (...).

        By up to `slack_mm` it may be too near a face or a jaw.
        """
        points = np.asarray(centres_mm, dtype=float)
        x, y = points[..., 0], points[..., 1]
        inside = (x >= 0) & (x <= self.width_mm) & (y >= 0) & (y <= self.length_mm)
        away = points[..., None, :] - self.circles[:, :2]
        clear = np.hypot(away[..., 0], away[..., 1]) >= self.circles[:, 2] - slack_mm
        held = points[..., None, :]
        across = np.where(self.faces[:, 0] == 0, held[..., 0], held[..., 1])
        along = np.where(self.faces[:, 0] == 0, held[..., 1], held[..., 0])
        beside = (along >= self.faces[:, 2]) & (along <= self.faces[:, 3])
        too_near = self.signs * (across - self.faces[:, 1]) < -slack_mm
        found = inside & clear.all(axis=-1) & ~(beside & too_near).any(axis=-1)
        if not len(self.facings):
            return found
        room = self._facing_room(points)
        return found & (room >= self.radius_mm - slack_mm).all(axis=-1)

    def _facing_room(self, points: np.ndarray) -> np.ndarray:
        """Distance of points (..., 2) from every straight jaw, (..., k)."""
        start, end = self.facings[:, :2], self.facings[:, 2:4]
        along = end - start
        share = ((points[..., None, :] - start) * along).sum(axis=-1) / (along**2).sum(axis=-1)
        nearest = start + np.clip(share, 0.0, 1.0)[..., None] * along
        return np.hypot(*np.moveaxis(points[..., None, :] - nearest, -1, 0))


def bed_of(table: Table, radius_mm: float) -> Bed:
    """The limits for a ball's centre on that table (the last few are kept)."""
    return _made(_Held(table), float(radius_mm))


def pocket_holding(table: Table, centre_mm: tuple[float, float]) -> Pocket | None:
    """The pocket a ball with that centre has dropped into, if any."""
    for pocket in table.pockets:
        away = np.hypot(centre_mm[0] - pocket.fall_mm[0], centre_mm[1] - pocket.fall_mm[1])
        if away <= pocket.fall_radius_mm:
            return pocket
    return None


class _Held:
    """A table as a cache key: tables are shared objects and hold a dict, so go by identity."""

    def __init__(self, table: Table) -> None:
        self.table = table

    def __hash__(self) -> int:
        return id(self.table)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Held) and other.table is self.table


@lru_cache(maxsize=16)
def _made(held: _Held, radius_mm: float) -> Bed:
    table = held.table
    jaws = [
        (*jaw, pocket.jaw_radius_mm + radius_mm)
        for pocket in table.pockets
        for jaw in pocket.jaws_mm
    ]
    falls = [(*pocket.fall_mm, pocket.fall_radius_mm + FALL_ROOM_MM) for pocket in table.pockets]
    limits = {
        "left": (0, radius_mm, 1.0),
        "right": (0, table.width_mm - radius_mm, -1.0),
        "bottom": (1, radius_mm, 1.0),
        "top": (1, table.length_mm - radius_mm, -1.0),
    }
    rows, signs = [], []
    for face in table.faces:
        axis, limit, sign = limits[face.cushion]
        rows.append((axis, limit, face.start_mm[1 - axis], face.end_mm[1 - axis]))
        signs.append(sign)
    facings = [
        (*facing.start_mm, *facing.end_mm, *facing.into_mm)
        for pocket in table.pockets
        for facing in pocket.facings
    ]
    return Bed(
        table.width_mm,
        table.length_mm,
        radius_mm,
        np.array(jaws + falls, dtype=float).reshape(-1, 3),
        np.array(rows, dtype=float).reshape(-1, 4),
        np.array(signs),
        np.array(facings, dtype=float).reshape(-1, 6),
    )
