"""A yardstick for the cushion that shares no code with the engine: events between smooth stretches.

The rigid-cushion impulse equations (Mathavan, Jackson & Parkin, Proc. IMechE C 224 (2010) 1863),
written with three-dimensional vectors: a force of one unit pushes along the line from the nose to
the centre, friction acts across it at the nose and along the bed at the cloth, the bed carries what
is left upright. Every contact either slips, with full friction against its slip, or grips, with
the friction that keeps it from slipping. scipy's solve_ivp integrates from one switch to the next:
a slip that comes to nothing, a grip that asks for more than friction can give. Velocities and rim
speeds in one unit, impulses per mass.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

#: A slip of this share of the incoming speed is none; one that begins, begins at twice as much.
NONE = 1e-10
TOLERANCE = 1e-11
MOST_PIECES = 300
NOSE, CLOTH = 0, 1


@dataclass(frozen=True)
class Cushion:
    """Restitution, friction at the nose, height of the nose over the radius, friction at the bed.

    The state is (speed along the cushion, speed into it, three rim speeds, work); `friction` holds
    two numbers along the nose and two along the bed.
    """

    restitution: float
    nose_friction: float
    height_ratio: float
    cloth_friction: float

    def __post_init__(self) -> None:
        up = self.height_ratio - 1.0
        nose = np.array([0.0, math.sqrt(1.0 - up * up), up])
        along, upright = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
        low, rising = -upright, np.cross(along, nose)
        into = np.array([0.0, 1.0, 0.0])
        contacts = ((nose, along), (nose, rising), (low, along), (low, into))
        # how the state answers to each friction, and to the push of the nose
        answers = [np.append(way, 2.5 * np.cross(arm, way)) for arm, way in contacts]
        keep = [0, 1, 3, 4, 5]  # the bed keeps the ball from moving upright
        set_ = object.__setattr__
        set_(self, "answer", np.array(answers)[:, keep].T)
        set_(self, "push", np.append(-nose, np.zeros(3))[keep])
        # the slip of a contact along a way: of the centre and of the rim
        slips = [np.append(way, np.cross(arm, way)) for arm, way in contacts]
        set_(self, "slip", np.array(slips)[:, keep])
        set_(self, "lift", np.array([0.0, rising[2], 0.0, 0.0]))
        set_(self, "weight", up)

    def frictions(self, ways: list[np.ndarray | None]) -> np.ndarray:
        """Friction at both contacts: full against a way of slipping, holding where it is None."""
        rows, wanted = np.zeros((4, 4)), np.zeros(4)
        for contact, way in enumerate(ways):
            two = slice(2 * contact, 2 * contact + 2)
            if way is None:
                rows[two] = self.slip[two] @ self.answer
                wanted[two] = -self.slip[two] @ self.push
                continue
            rows[two, two] = np.eye(2)
            if contact == NOSE:
                wanted[two] = -self.nose_friction * way
            else:
                # the bed carries the push's share upright, less what the nose's friction lifts
                rows[two] += np.outer(-self.cloth_friction * way, self.lift)
                wanted[two] = -self.cloth_friction * self.weight * way
        found = np.linalg.solve(rows, wanted)
        if self.weight - self.lift @ found < 0.0 and ways[CLOTH] is not None:
            # lifted off the bed, which gives no friction then
            rows[2:], wanted[2:] = np.eye(4)[2:], 0.0
            found = np.linalg.solve(rows, wanted)
        return found

    def spare(self, friction: np.ndarray, contact: int) -> float:
        """How much more friction a contact could give than it does."""
        if contact == NOSE:
            return self.nose_friction - math.hypot(*friction[:2])
        carried = max(self.weight - self.lift @ friction, 0.0)
        return float(self.cloth_friction * carried - math.hypot(*friction[2:]))

    def slip_rates(self, friction: np.ndarray) -> np.ndarray:
        rates: np.ndarray = self.slip @ (self.answer @ friction + self.push)
        return rates


class Impact:
    """One impact, from switch to switch."""

    def __init__(self, cushion: Cushion, state: np.ndarray, unit: float) -> None:
        self.cushion, self.unit = cushion, unit
        self.state = np.append(state, 0.0)
        self.nudge = np.zeros(4)
        self.grips = [False, False]
        #: Whether a slip has just crept out of a grip: its way is stiff then.
        self.creeps = False
        idle = [contact for contact in (NOSE, CLOTH) if self._size(contact) <= NONE * unit]
        if idle:
            self._choose(idle)

    def _slips(self, state: np.ndarray) -> np.ndarray:
        slips: np.ndarray = self.cushion.slip @ state[:5] + self.nudge
        return slips

    def _size(self, contact: int, state: np.ndarray | None = None) -> float:
        slips = self._slips(self.state if state is None else state)
        return math.hypot(*slips[2 * contact : 2 * contact + 2])

    def _ways(self, state: np.ndarray) -> list[np.ndarray | None]:
        slips = self._slips(state)
        ways: list[np.ndarray | None] = []
        for contact in (NOSE, CLOTH):
            one = slips[2 * contact : 2 * contact + 2]
            ways.append(None if self.grips[contact] else one / math.hypot(*one))
        return ways

    def _friction(self, state: np.ndarray) -> np.ndarray:
        return self.cushion.frictions(self._ways(state))

    def _rates(self, _impulse: float, state: np.ndarray) -> np.ndarray:
        rates = self.cushion.answer @ self._friction(state) + self.cushion.push
        return np.append(rates, state[1])

    def _onset(self, ways: list[np.ndarray | None], contact: int) -> np.ndarray | None:
        """The way along which a contact without slip begins to slip, the other going its way."""

        def growth(angle: float) -> tuple[float, float]:
            way = np.array([math.cos(angle), math.sin(angle)])
            trial = list(ways)
            trial[contact] = way
            x, y = self.cushion.slip_rates(self.cushion.frictions(trial))[2 * contact :][:2]
            return way[0] * y - way[1] * x, way[0] * x + way[1] * y

        angles = np.linspace(-math.pi - 0.01, math.pi - 0.01, 181)
        across = [growth(angle)[0] for angle in angles]
        best, fastest = None, 0.0
        for k in np.flatnonzero(np.sign(across[:-1]) != np.sign(across[1:])):
            angle = brentq(lambda a: growth(a)[0], angles[k], angles[k + 1], xtol=1e-14)
            if growth(angle)[1] > fastest:
                fastest = growth(angle)[1]
                best = np.array([math.cos(angle), math.sin(angle)])
        return best

    def _choose(self, idle: list[int]) -> None:
        """Let contacts without slip grip where friction is enough, and begin to slip elsewhere."""
        ways = self._ways_of_others(idle)
        for held in ([*idle], *([one] for one in idle if len(idle) > 1), []):
            trial = list(ways)
            for contact in idle:
                trial[contact] = None
            slipping = [contact for contact in idle if contact not in held]
            if len(slipping) == 2:  # one after the other until both agree
                trial = [np.array([0.0, 1.0]), np.array([0.0, -1.0])]
            for _ in range(60 if len(slipping) == 2 else 1):
                found = {contact: self._onset(trial, contact) for contact in slipping}
                for contact, way in found.items():
                    trial[contact] = way if way is not None else trial[contact]
            if any(way is None for way in found.values()):
                continue
            friction = self.cushion.frictions(trial)
            if all(self.cushion.spare(friction, contact) >= -1e-12 for contact in held):
                for contact in idle:
                    self._begin(contact, None if contact in held else trial[contact])
                return
        raise RuntimeError("neither grips nor slips")

    def _ways_of_others(self, idle: list[int]) -> list[np.ndarray | None]:
        slips = self._slips(self.state)
        ways: list[np.ndarray | None] = [None, None]
        for contact in (NOSE, CLOTH):
            if contact not in idle and not self.grips[contact]:
                one = slips[2 * contact : 2 * contact + 2]
                ways[contact] = one / math.hypot(*one)
        return ways

    def _begin(self, contact: int, way: np.ndarray | None) -> None:
        """From here on a contact grips (no way) or slips that way."""
        two = slice(2 * contact, 2 * contact + 2)
        self.grips[contact] = way is None
        self.nudge[two] = 0.0
        if way is not None:
            self.nudge[two] = 2.0 * NONE * self.unit * way - self._slips(self.state)[two]

    def until(self, ends: object) -> None:
        """Integrate until `ends` of the state falls through zero."""

        def end(_impulse: float, state: np.ndarray) -> float:
            return ends(state)  # type: ignore[operator]

        end.terminal, end.direction = True, -1.0  # type: ignore[attr-defined]
        for _ in range(MOST_PIECES):
            events = [end, *(self._event(contact) for contact in (NOSE, CLOTH))]
            solved = solve_ivp(
                self._rates, (0.0, 50.0 * self.unit), self.state,
                method="Radau" if self.creeps else "LSODA",
                rtol=TOLERANCE, atol=TOLERANCE * self.unit, events=events,
                first_step=1e-10 * self.unit,
            )  # fmt: skip
            if not solved.success:
                raise RuntimeError(solved.message)
            self.state = solved.y[:, -1].copy()
            if len(solved.t_events[0]):
                return
            for contact in (NOSE, CLOTH):
                if len(solved.t_events[1 + contact]):
                    self._switch(contact)
        raise RuntimeError("the impact does not end")

    def _switch(self, contact: int) -> None:
        self.creeps = self.grips[contact]
        if not self.grips[contact]:
            # what this contact asks of the other one, if that grips, changes at once
            self._choose([one for one in (NOSE, CLOTH) if one == contact or self.grips[one]])
            return
        # it held until here with all it has: it begins to slip against that friction
        two = slice(2 * contact, 2 * contact + 2)
        friction = self._friction(self.state)[two]
        self._begin(contact, -friction / math.hypot(*friction))

    def _event(self, contact: int) -> object:
        """Falls through zero where a slip comes to nothing, or a grip cannot hold any longer."""

        def left(_impulse: float, state: np.ndarray) -> float:
            if self.grips[contact]:
                return self.cushion.spare(self._friction(state), contact)
            return self._size(contact, state) / self.unit - NONE

        left.terminal, left.direction = True, -1.0  # type: ignore[attr-defined]
        return left


def rebound(
    velocity: tuple[float, float],
    spin: tuple[float, float, float],
    into: tuple[float, float],
    radius: float,
    cushion: Cushion,
) -> tuple[float, float, float, float, float]:
    """Velocity and spin after a cushion that lies the unit way `into` of the ball."""
    nx, ny = into
    turned = np.array([[ny, -nx], [nx, ny]])
    rims = radius * np.array(spin)
    start = np.concatenate([turned @ velocity, turned @ rims[:2], rims[2:]])
    impact = Impact(cushion, start, math.hypot(*velocity))
    impact.until(lambda state: state[1])
    left = (1.0 - cushion.restitution**2) * impact.state[5]
    if cushion.restitution > 0.0:
        impact.until(lambda state: state[5] - left)
    end = impact.state
    v, w = turned.T @ end[:2], turned.T @ end[2:4] / radius
    return float(v[0]), float(v[1]), float(w[0]), float(w[1]), float(end[4] / radius)
