"""How the kernel lays balls, table and conditions out in plain arrays of floats.

A ball's row holds its state at the start of its current segment (the stretch of motion with one
constant acceleration) and that segment's rates. Lengths mm, times s.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from engine.balls import Ball
from engine.compiled import room
from engine.conditions import Conditions
from engine.tables.model import Facing, Table

# columns of a ball's row: place, velocity, spin, start of the segment, acceleration, spin rate
X, Y, VX, VY, WX, WY, WZ, T, AX, AY, QX, QY, PHASE, END, RADIUS, MASS = range(16)
BALL_COLUMNS = 16

# columns of a ball's row of work, beside its state: what it meets next on its own and when, what
# the event loop notes of it, and what contacts make of it while they are resolved
OWN_T, OWN_CAUSE, OWN_INDEX, CHANGED, GROUPED, PRESSED, BEFORE = range(7)
SHARING, ANSWER, ACC_X, ACC_Y, FORCE_X, FORCE_Y = range(7, 13)
WORK_COLUMNS = 13

# what is kept of a pair of balls i < j: when they touch next, and until when they press on each
# other (0: they do not)
MEET, HOLD = range(2)

# columns of a contact: its balls, the unit way from the one to the other, the speed or
# acceleration along it that is wanted, the push found, friction along the cloth and upright, and
# whether it only went on and is not told again
C_I, C_J, C_NX, C_NY, C_WANTED, C_PUSH, C_ALONG, C_UPRIGHT, C_OLD = range(9)
CONTACT_COLUMNS = 9

# phases
STILL, SLIDING, ROLLING, POTTED = 0.0, 1.0, 2.0, 3.0

# columns of a record: the ball, the state and rates from time T on, why, and with what
R_BALL, R_T, R_X, R_Y, R_VX, R_VY, R_WX, R_WY, R_WZ = range(9)
R_AX, R_AY, R_QX, R_QY, R_PHASE, R_CAUSE, R_OTHER = range(9, 16)
RECORD_COLUMNS = 16

# causes of a new segment
PLACED, STRUCK, HIT_BALL, HIT_CUSHION, HIT_JAW, ROLLS, STOPS, FALLS, TURNS = range(9)

# condition values
(
    SLIDE, ROLL, DECAY, GRAVITY, BALL_E, B_BASE, B_EXTRA, B_DECAY, CUSHION_E, GRIP, NOSE, NAP,
    NOSE_R, LEVEL, CUSHION_SLOW, CUSHION_FAST,
) = range(16)  # fmt: skip

# columns of a cushion face: axis (0: x = const, 1: y = const), place, way in (+1/-1), from, to
F_AXIS, F_AT, F_IN, F_FROM, F_TO = range(5)

# columns of a jaw: an arc's centre and radius, its pocket; or a straight one's start, its unit way
# along and the unit way off the rubber, its length (0 for an arc)
J_X, J_Y, J_RADIUS, J_POCKET, J_LENGTH, J_UX, J_UY, J_NX, J_NY = range(9)
JAW_COLUMNS = 9


def condition_values(conditions: Conditions) -> np.ndarray:
    """The condition values in the kernel's order; gravity in mm/s²."""
    c = conditions
    slow, usual, fast = c.cushion_restitutions
    return np.array(
        [
            c.sliding_friction, c.rolling_resistance, c.spin_decay_rad_s2, 1000.0 * c.gravity_m_s2,
            c.ball_restitution, c.ball_friction_base, c.ball_friction_extra,
            c.ball_friction_decay_s_m, usual, c.cushion_friction,
            c.cushion_height_ratio, c.nap_drift, c.ball_radius_mm,
            c.cushion_level_push, slow, fast,
        ]
    )  # fmt: skip


def table_arrays(table: Table) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Cushion faces (m, 5), jaws (k, JAW_COLUMNS), falls (p, 3: x, y, radius).

    All arcs come first, two a pocket, then all straight jaws.
    """
    faces = []
    for face in table.faces:
        (x0, y0), (x1, y1) = face.start_mm, face.end_mm
        if x0 == x1:
            faces.append((0.0, x0, 1.0 if x0 <= 0.0 else -1.0, min(y0, y1), max(y0, y1)))
        else:
            faces.append((1.0, y0, 1.0 if y0 <= 0.0 else -1.0, min(x0, x1), max(x0, x1)))
    jaws: list[tuple[float, ...]] = [
        (*jaw, pocket.jaw_radius_mm, float(index), 0.0, 0.0, 0.0, 0.0, 0.0)
        for index, pocket in enumerate(table.pockets)
        for jaw in pocket.jaws_mm
    ]
    jaws += [
        _straight(facing, index)
        for index, pocket in enumerate(table.pockets)
        for facing in pocket.facings
    ]
    falls = [(*pocket.fall_mm, pocket.fall_radius_mm) for pocket in table.pockets]
    return (
        np.array(faces, dtype=float).reshape(-1, 5),
        np.array(jaws, dtype=float).reshape(-1, JAW_COLUMNS),
        np.array(falls, dtype=float).reshape(-1, 3),
    )


def _straight(facing: Facing, pocket: int) -> tuple[float, ...]:
    (x, y), (to_x, to_y) = facing.start_mm, facing.end_mm
    long = math.hypot(to_x - x, to_y - y)
    return (
        x, y, 0.0, float(pocket), long, (to_x - x) / long, (to_y - y) / long, *facing.into_mm
    )  # fmt: skip


@room
def workspace(n: int) -> tuple[np.ndarray, ...]:
    """Room for the events of n balls: the balls, their work, pairs, contacts, and touches.

    Nothing in it needs a value: a shot begins by forgetting what it held.
    """
    most = max(n * (n - 1) // 2, 1)
    return (
        np.empty((n, BALL_COLUMNS)), np.empty((n, WORK_COLUMNS)), np.empty((n, n, 2)),
        np.empty((most, CONTACT_COLUMNS)), np.empty((most, CONTACT_COLUMNS)),
    )  # fmt: skip


def ball_rows(balls: Sequence[Ball], conditions: Conditions) -> np.ndarray:
    """Rows of balls at rest where they stand, shape (n, BALL_COLUMNS)."""
    rows = np.zeros((len(balls), BALL_COLUMNS))
    for row, ball in zip(rows, balls, strict=True):
        row[X], row[Y] = ball.x_mm, ball.y_mm
        row[RADIUS], row[MASS] = conditions.radius_of(ball), conditions.mass_of(ball)
    rows[:, END] = np.inf
    return rows
