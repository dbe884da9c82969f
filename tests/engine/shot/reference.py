"""An independent reference: the raw equations of motion by scipy's solve_ivp with events.

Nothing of `engine.shot` is used here, and none of the closed forms of `engine.motion`. Each ball's
state is (x, y, vx, vy, wx, wy, wz); Newton's and Euler's equations for the friction at the cloth
are integrated by DOP853. Balls meet by one impulse in three-dimensional vectors, as
../shared/physics.md states it: restitution, friction by Marlow's fit (Alciatore TP A.28), at most
what stops the slip, balls stay on the cloth. For the cushion's impulse alone
`engine.motion.cushion.cushion_impact` is called, so that all between the cushions can be held to
the last digits; `yardstick_rebound` takes its place where the cushion is to be judged as well.

Two rules are shared with the engine, being choices and not physics: contacts that close at less
than 1 mm/s do not rebound, and a slip or speed below 1e-6 mm/s is none.

solve_ivp sees a change of sign only between steps, so steps are kept short against the distances
between balls, and the dense output of every piece is sampled ten times a step for contacts that
come and go between two steps; those are found by brentq. Lengths mm, times s.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.integrate import OdeSolution, solve_ivp
from scipy.optimize import brentq, minimize_scalar

from engine.balls import Ball
from engine.conditions import Conditions
from engine.motion.cushion import cushion_impact
from engine.tables.model import Table
from tests.engine.shot.reference_forces import (
    GONE,
    ROLLING,
    SLIDING,
    STILL,
    Cloth,
    Rebound,
    ball_impulse,
    off_cushion,
    strike_state,
)

__all__ = ["Played", "reference", "strike_state"]

PIECE_S = 0.5
STEP_MM = 40.0
SAMPLES = 10
TOLERANCE = 1e-10
MOST_PIECES = 4000

Event = tuple[str, str, str]


@dataclass
class Played:
    """What the reference found: events in order with their times, rests, and the way itself."""

    ids: tuple[str, ...]
    events: list[Event] = field(default_factory=list)
    times: list[float] = field(default_factory=list)
    pieces: list[tuple[float, float, OdeSolution]] = field(default_factory=list)
    rests: dict[str, tuple[float, float] | None] = field(default_factory=dict)
    end: np.ndarray = field(default_factory=lambda: np.zeros((0, 7)))
    missed_by_events: int = 0

    def states(self, times: np.ndarray) -> np.ndarray:
        """States of all balls at rising times, shape (len(times), balls, 7)."""
        found = np.broadcast_to(self.end, (len(times), *self.end.shape)).copy()
        for start, end, solution in self.pieces:
            inside = (times >= start) & (times < end)
            if inside.any():
                rows = solution(times[inside]).T.reshape(-1, *self.end.shape)
                found[inside] = rows
        return found


def _terminal(function: Callable[[np.ndarray], float]) -> Callable[[float, np.ndarray], float]:
    def event(_t: float, flat: np.ndarray) -> float:
        return function(flat)

    event.terminal = True  # type: ignore[attr-defined]
    event.direction = -1.0  # type: ignore[attr-defined]
    return event


def reference(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    cue_state: np.ndarray,
    cue_id: str = "cue",
    rebound: Rebound = cushion_impact,
    step_mm: float = STEP_MM,
    enough: Callable[[Played], bool] = lambda _played: False,
) -> Played:
    """Play a shot by integrating the raw equations until all balls rest, or enough was seen.

    Where no two balls can pass each other, `step_mm` may be a table's length.
    """
    cloth = Cloth(table, conditions, balls, rebound)
    ids = tuple(ball.id for ball in balls)
    played = Played(ids)
    state = np.zeros((len(balls), 7))
    for i, ball in enumerate(balls):
        state[i, :2] = ball.x_mm, ball.y_mm
    state[ids.index(cue_id)] = cue_state
    for i in range(len(balls)):
        cloth.begin(state, i)
    played.events.append(("struck", cue_id, ""))
    played.times.append(0.0)
    now = 0.0
    for _ in range(MOST_PIECES):
        if enough(played) or not any(phase in (SLIDING, ROLLING) for phase in cloth.phase):
            break
        now, state = _piece(cloth, state, now, played, step_mm)
    else:
        raise RuntimeError("the reference did not come to rest")
    played.end = state
    for i, ball_id in enumerate(ids):
        rest = (float(state[i, 0]), float(state[i, 1]))
        played.rests[ball_id] = None if cloth.phase[i] == GONE else rest
    return played


def _gap_functions(
    cloth: Cloth,
) -> dict[tuple[str, int, int], Callable[[np.ndarray], np.ndarray]]:
    """Gaps that close at a contact or fall, as functions of states (..., n, 7)."""
    found: dict[tuple[str, int, int], Callable[[np.ndarray], np.ndarray]] = {}
    for i in range(cloth.n):
        if cloth.phase[i] == GONE:
            continue
        if cloth.phase[i] in (SLIDING, ROLLING):
            if cloth.held[i].all():
                found["cushion", i, -1] = lambda s, i=i: cloth.cushion_gap(s[..., i, :2])
            if len(cloth.falls):
                found["potted", i, -1] = lambda s, i=i: cloth.fall_gap(s[..., i, :2])
        for j in range(i + 1, cloth.n):
            moving = cloth.phase[i] != STILL or cloth.phase[j] != STILL
            if cloth.phase[j] != GONE and moving:
                found["ball", i, j] = lambda s, i=i, j=j: (
                    np.hypot(s[..., i, 0] - s[..., j, 0], s[..., i, 1] - s[..., j, 1])
                    - 2.0 * cloth.radius
                )
    return found


def _phase_functions(cloth: Cloth) -> dict[tuple[str, int, int], Callable[[np.ndarray], float]]:
    """Functions that fall through zero where slipping, rolling or upright spin ends."""
    found: dict[tuple[str, int, int], Callable[[np.ndarray], float]] = {}
    r = cloth.radius
    for i in range(cloth.n):
        lx, ly = cloth.slip_line[i]
        if cloth.phase[i] == SLIDING:
            found["rolling", i, -1] = lambda s, i=i, lx=lx, ly=ly: (
                (s[i, 2] - r * s[i, 5]) * lx + (s[i, 3] + r * s[i, 4]) * ly
            )
        elif cloth.phase[i] == ROLLING:
            found["stopped", i, -1] = lambda s, i=i, lx=lx, ly=ly: s[i, 2] * lx + s[i, 3] * ly
        if cloth.spin_sign[i] != 0.0 and cloth.phase[i] != GONE:
            found["spun out", i, -1] = lambda s, i=i: s[i, 6] * cloth.spin_sign[i]
    return found


def _piece(
    cloth: Cloth, state: np.ndarray, now: float, played: Played, step_mm: float
) -> tuple[float, np.ndarray]:
    """Integrate to the next event, carry it out, and return its time and the state after it."""
    n = cloth.n
    gaps, phases = _gap_functions(cloth), _phase_functions(cloth)
    for name, value in phases.items():
        # two balls that met lose their upright spin in the same instant
        if value(state) <= 0.0:
            _carry_out(cloth, state, name, now, played)
            return now, state
    names = [*gaps, *phases]
    functions = [_terminal(lambda f, g=g: g(f.reshape(n, 7))) for g in (*gaps.values(),)]
    functions += [_terminal(lambda f, g=g: g(f.reshape(n, 7))) for g in (*phases.values(),)]
    speeds = np.hypot(state[:, 2], state[:, 3])
    slips = np.hypot(
        state[:, 2] - cloth.radius * state[:, 5], state[:, 3] + cloth.radius * state[:, 4]
    )
    fastest = float(np.max(speeds + 2.0 / 7.0 * slips))
    solved = solve_ivp(
        cloth.rates,
        (now, now + PIECE_S),
        state.ravel(),
        method="DOP853",
        rtol=TOLERANCE,
        atol=TOLERANCE,
        max_step=min(max(step_mm / max(fastest, 1e-9), 1e-3), 0.3),
        first_step=1e-4,
        events=functions,
        dense_output=True,
    )
    if not solved.success:
        raise RuntimeError(solved.message)
    end, what = float(solved.t[-1]), None
    for name, times in zip(names, solved.t_events, strict=True):
        if len(times):
            end, what = float(times[0]), name
    missed = _missed(solved.sol, gaps, np.append(solved.t[:-1], end), n)
    if missed is not None:
        end, what = missed
        played.missed_by_events += 1
    played.pieces.append((now, end, solved.sol))
    state = solved.sol(end).reshape(n, 7).copy()
    if what is not None:
        _carry_out(cloth, state, what, end, played)
    return end, state


def _missed(
    solution: OdeSolution,
    gaps: dict[tuple[str, int, int], Callable[[np.ndarray], np.ndarray]],
    steps: np.ndarray,
    n: int,
) -> tuple[float, tuple[str, int, int]] | None:
    """The first contact before the end that came and went between two steps, if any."""
    shares = np.arange(SAMPLES) / SAMPLES
    fine = np.append((steps[:-1, None] + np.diff(steps)[:, None] * shares).ravel(), steps[-1])
    states = solution(fine).T.reshape(-1, n, 7)
    first: tuple[float, tuple[str, int, int]] | None = None
    for name, gap in gaps.items():
        values = gap(states)

        def at(t: float, gap: Callable[[np.ndarray], np.ndarray] = gap) -> float:
            return float(gap(solution(t).reshape(n, 7)))

        for k in _turns(values):
            if values[k] >= 0.0:
                least = minimize_scalar(
                    at, bounds=(fine[k - 1], fine[k + 1]), method="bounded",
                    options={"xatol": 1e-12},
                )  # fmt: skip
                if least.fun >= -1e-9:
                    continue
                low = float(least.x)
            else:
                low = float(fine[k])
            when = float(brentq(at, fine[k - 1], low, xtol=1e-15, rtol=1e-14))
            if first is None or when < first[0]:
                first = (when, name)
            break
    return first


def _turns(values: np.ndarray) -> np.ndarray:
    """Samples, not the last, at which a gap has closed or comes to a least value below 1 mm."""
    before, here, after = values[:-2], values[1:-1], values[2:]
    closed = (here < -1e-9) & (before > 0.0)
    least = (here >= 0.0) & (here < 1.0) & (here <= before) & (here <= after) & (before > 0.0)
    return 1 + np.flatnonzero(closed | least)


def _carry_out(
    cloth: Cloth, state: np.ndarray, what: tuple[str, int, int], now: float, played: Played
) -> None:
    """Change the states of the balls of an event, and note it."""
    kind, i, j = what
    ids, other = played.ids, ""
    if kind == "ball":
        other = ids[j]
        state[i], state[j] = ball_impulse(state[i], state[j], cloth.c)
        cloth.begin(state, j)
    elif kind == "cushion":
        kind, other = off_cushion(cloth, state, i)
    elif kind == "potted":
        apart = np.hypot(*(state[i, :2] - cloth.falls).T) - cloth.fall_radii
        other = cloth.table.pockets[int(np.argmin(apart))].id
        cloth.phase[i] = GONE
        state[i, 2:] = 0.0
    elif kind == "stopped":
        state[i, 2:6] = 0.0
    elif kind == "rolling":
        vx, vy = state[i, 2:4]
        slip = math.hypot(vx - cloth.radius * state[i, 5], vy + cloth.radius * state[i, 4])
        if slip < 1e-3:
            state[i, 4], state[i, 5] = -vy / cloth.radius, vx / cloth.radius
    elif kind == "spun out":
        state[i, 6] = 0.0
        cloth.spin_sign[i] = 0.0
        return
    cloth.begin(state, i)
    played.events.append((kind, ids[i], other))
    played.times.append(now)
