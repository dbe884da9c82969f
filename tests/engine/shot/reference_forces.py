"""The reference's forces and impulses, written from the raw equations and in vectors.

Used by `reference.py`, which says what is independent of the engine and what is not.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.motion.cushion import cushion_impact
from engine.tables.model import Table
from tests.engine.motion import impulse_yardstick

#: Velocity and spin after a cushion, from those before (five), the unit way into it, the radius,
#: restitution, friction and height of the nose, and friction at the cloth.
Rebound = Callable[..., tuple[float, ...]]

STILL, SLIDING, ROLLING, GONE = range(4)
NOTHING = 1e-6
LOOSE = 1.0


def strike_state(
    ball: Ball, conditions: Conditions, speed: float, tip: float, side: float, direction: float
) -> np.ndarray:
    """State of a ball struck by a level cue: spin is the torque of the impulse, r × J / I."""
    radius = conditions.ball_radius_mm
    line = np.array([math.cos(direction), math.sin(direction), 0.0])
    right = np.cross(line, [0.0, 0.0, 1.0])
    arm = radius * (tip * np.array([0.0, 0.0, 1.0]) + side * right)
    spin = np.cross(arm, speed * line) / (0.4 * radius**2)
    return np.array([ball.x_mm, ball.y_mm, *(speed * line[:2]), *spin])


def ball_impulse(one: np.ndarray, two: np.ndarray, c: Conditions) -> tuple[np.ndarray, np.ndarray]:
    """States of two equal balls after contact, by vectors."""
    m, radius = c.ball_mass_kg, c.ball_radius_mm
    n = np.array([*(two[:2] - one[:2]), 0.0])
    n /= np.linalg.norm(n)
    v1, v2 = np.array([*one[2:4], 0.0]), np.array([*two[2:4], 0.0])
    w1, w2 = one[4:].copy(), two[4:].copy()
    reduced, inertia = m / 2.0, 0.4 * m * radius**2
    closing = float(np.dot(v1 - v2, n))
    restitution = c.ball_restitution if closing > LOOSE else 0.0
    normal = (1.0 + restitution) * reduced * closing
    slip = (v1 + np.cross(w1, radius * n)) - (v2 + np.cross(w2, -radius * n))
    slip -= np.dot(slip, n) * n
    speed = float(np.linalg.norm(slip))
    friction = np.zeros(3)
    if speed > 0.0:
        mu = c.ball_friction_base + c.ball_friction_extra * math.exp(
            -c.ball_friction_decay_s_m * speed / 1000.0
        )
        friction = -min(mu * normal, 2.0 / 7.0 * reduced * speed) * slip / speed
    impulse = -normal * n + friction
    w1 += np.cross(radius * n, impulse) / inertia
    w2 += np.cross(-radius * n, -impulse) / inertia
    v1 += impulse / m
    v2 -= impulse / m
    return np.array([*one[:2], *v1[:2], *w1]), np.array([*two[:2], *v2[:2], *w2])


class Cloth:
    """Right-hand sides, gaps and phases of all balls for one shot."""

    def __init__(
        self, table: Table, conditions: Conditions, balls: Sequence[Ball],
        rebound: Rebound = cushion_impact,
    ) -> None:  # fmt: skip
        self.rebound = rebound
        self.c = conditions
        self.radius = conditions.ball_radius_mm
        self.table = table
        self.n = len(balls)
        self.phase = [STILL] * self.n
        self.slip_line = np.zeros((self.n, 2))  # û or v̂ at the start of the phase
        self.spin_sign = np.zeros(self.n)
        self.held = np.ones((self.n, 2))  # 0 along an axis on which a cushion holds the ball
        starts = np.array([face.start_mm for face in table.faces])
        ends = np.array([face.end_mm for face in table.faces])
        self.low, self.high = np.minimum(starts, ends), np.maximum(starts, ends)
        # behind each face lies solid cushion: stretch the face 200 mm outwards to a box
        middle = np.array([table.width_mm, table.length_mm]) / 2.0
        self.inward = np.zeros_like(self.low)
        for k in range(len(table.faces)):
            axis = 0 if starts[k, 0] == ends[k, 0] else 1
            out = -1.0 if starts[k, axis] < middle[axis] else 1.0
            self.inward[k, axis] = -out
            (self.low if out < 0 else self.high)[k, axis] += 200.0 * out
        self.jaws = np.array([j for p in table.pockets for j in p.jaws_mm]).reshape(-1, 2)
        self.jaw_radii = np.array([p.jaw_radius_mm for p in table.pockets for _ in p.jaws_mm])
        self.jaw_pockets = [p.id for p in table.pockets for _ in p.jaws_mm]
        self.falls = np.array([p.fall_mm for p in table.pockets]).reshape(-1, 2)
        self.fall_radii = np.array([p.fall_radius_mm for p in table.pockets])

    def rates(self, _t: float, flat: np.ndarray) -> np.ndarray:
        state = flat.reshape(self.n, 7)
        out = np.zeros_like(state)
        out[:, :2] = state[:, 2:4]
        radius, g = self.radius, 1000.0 * self.c.gravity_m_s2
        for i, phase in enumerate(self.phase):
            if phase == SLIDING:
                vx, vy, wx, wy = state[i, 2:6]
                ux, uy = vx - radius * wy, vy + radius * wx
                size = math.hypot(ux, uy)
                # beyond the end of slipping the field is continued smoothly, not reversed
                way = 1.0 if ux * self.slip_line[i, 0] + uy * self.slip_line[i, 1] > 0 else -1.0
                force = -way * self.c.sliding_friction * g / size if size > 0 else 0.0
                fx, fy = force * ux, force * uy
                out[i, 2], out[i, 3] = fx * self.held[i, 0], fy * self.held[i, 1]
                # torque of the force at the lowest point, (0, 0, -R) × F, over 2/5 m R²
                out[i, 4], out[i, 5] = 2.5 / radius * fy, -2.5 / radius * fx
            elif phase == ROLLING:
                vx, vy = state[i, 2:4]
                size = math.hypot(vx, vy)
                way = 1.0 if vx * self.slip_line[i, 0] + vy * self.slip_line[i, 1] > 0 else -1.0
                force = -way * self.c.rolling_resistance * g / size if size > 0 else 0.0
                out[i, 2], out[i, 3] = force * vx, force * vy
                out[i, 4], out[i, 5] = -out[i, 3] / radius, out[i, 2] / radius
            if phase != GONE:
                out[i, 6] = -self.c.spin_decay_rad_s2 * self.spin_sign[i]
        return out.ravel()

    def begin(self, state: np.ndarray, i: int) -> None:
        """Set ball i's phase from its state."""
        if self.phase[i] == GONE:
            return
        vx, vy, wx, wy, wz = state[i, 2:]
        slip = np.array([vx - self.radius * wy, vy + self.radius * wx])
        self.held[i] = 1.0
        self.spin_sign[i] = np.sign(wz)
        if np.hypot(*slip) > NOTHING:
            self.phase[i], self.slip_line[i] = SLIDING, slip / np.hypot(*slip)
            self._lean(state, i)
        elif math.hypot(vx, vy) > NOTHING:
            self.phase[i], self.slip_line[i] = ROLLING, np.array([vx, vy]) / math.hypot(vx, vy)
            state[i, 4], state[i, 5] = -vy / self.radius, vx / self.radius
        else:
            self.phase[i] = STILL
            state[i, 2:6] = 0.0

    def _lean(self, state: np.ndarray, i: int) -> None:
        """A ball touching a face, at rest against it and pulled into it, is held by it."""
        gaps, _ = self.cushion_gaps(state[i, :2])
        for k in np.flatnonzero(np.abs(gaps[: len(self.low)]) < 1e-6):
            axis = int(np.flatnonzero(self.inward[k])[0])
            pull = -self.slip_line[i, axis] * self.inward[k, axis]
            if abs(state[i, 2 + axis]) < 1e-6 and pull < 0.0:
                state[i, 2 + axis] = 0.0
                self.held[i, axis] = 0.0

    def cushion_gaps(self, place: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Room between a ball and every face and jaw (…, faces + jaws), and the ways into them."""
        place = place[..., None, :]
        nearest = np.clip(place, self.low, self.high)
        to_face = nearest - place
        far = np.hypot(to_face[..., 0], to_face[..., 1])
        # a centre behind the face line would read 0: count on below it
        behind = np.max(np.maximum(self.low - place, place - self.high), axis=-1)
        far = np.where(behind < 0.0, behind, far)
        to_jaw = self.jaws - place
        jaw_far = np.hypot(to_jaw[..., 0], to_jaw[..., 1])
        gaps = np.concatenate([far, jaw_far - self.jaw_radii], axis=-1) - self.radius
        return gaps, np.concatenate([to_face, to_jaw], axis=-2)

    def cushion_gap(self, place: np.ndarray) -> np.ndarray:
        return np.min(self.cushion_gaps(place)[0], axis=-1)

    def fall_gap(self, place: np.ndarray) -> np.ndarray:
        apart = place[..., None, :] - self.falls
        return np.min(np.hypot(apart[..., 0], apart[..., 1]) - self.fall_radii, axis=-1)


def yardstick_rebound(
    vx: float, vy: float, wx: float, wy: float, wz: float, nx: float, ny: float, radius: float,
    *cushion: float,
) -> tuple[float, ...]:  # fmt: skip
    """A rebound that shares no code with the engine; takes a tenth of a second."""
    return impulse_yardstick.rebound(
        (vx, vy), (wx, wy, wz), (nx, ny), radius, impulse_yardstick.Cushion(*cushion)
    )


def off_cushion(cloth: Cloth, state: np.ndarray, i: int) -> tuple[str, str]:
    """Rebound of ball i from the cushion or jaw it touches; returns kind and name."""
    c = cloth.c
    gaps, ways = cloth.cushion_gaps(state[i, :2])
    k = int(np.argmin(gaps))
    n = ways[k] / np.hypot(*ways[k])
    vx, vy, wx, wy, wz = state[i, 2:]
    closing = vx * n[0] + vy * n[1]
    if closing <= LOOSE:
        state[i, 2:4] -= closing * n
    else:
        # stated at three speeds across the cushion, m/s, and held beyond them
        stated = [c.cushion_restitution_slow, c.cushion_restitution, c.cushion_restitution_fast]
        shares = [c.cushion_restitution if one is None else one for one in stated]
        state[i, 2:] = cloth.rebound(
            vx, vy, wx, wy, wz, n[0], n[1], cloth.radius,
            float(np.interp(closing, [500.0, 2500.0, 5000.0], shares)),
            c.cushion_friction, c.cushion_height_ratio, c.sliding_friction,
        )  # fmt: skip
    if k < len(cloth.low):
        return "cushion", cloth.table.faces[k].cushion
    return "jaw", cloth.jaw_pockets[k - len(cloth.low)]
