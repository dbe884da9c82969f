"""What the property tests measure on a trace: times, energy, overlaps, room to cushions."""

from __future__ import annotations

import numpy as np

from engine.conditions import Conditions
from engine.shot import Trace
from engine.tables.model import Table
from tests.engine.shot.reference_forces import Cloth


def dense_times(trace: Trace, between: int = 24) -> np.ndarray:
    """Every event's time and `between` times from each to the next."""
    at = np.unique([0.0, trace.duration_s, *(event.t_s for event in trace.events)])
    shares = np.arange(between) / between
    return np.append((at[:-1, None] + np.diff(at)[:, None] * shares).ravel(), at[-1])


def fell_at(trace: Trace) -> dict[str, float]:
    """When each ball was potted; inf for one that stayed."""
    times = dict.fromkeys(trace.ids, np.inf)
    times.update({event.ball: event.t_s for event in trace.events if event.kind == "potted"})
    return times


def energies(trace: Trace, times: np.ndarray, conditions: Conditions) -> np.ndarray:
    """Energy of all balls, translation and spin, at the given times (kg·mm²/s²)."""
    m, r = conditions.ball_mass_kg, conditions.ball_radius_mm
    total = np.zeros(len(times))
    for ball_id in trace.ids:
        v, w = trace.velocities(ball_id, times), trace.spins(ball_id, times)
        total += 0.5 * m * np.sum(v * v, axis=1) + 0.2 * m * r * r * np.sum(w * w, axis=1)
    return total


def least_gap(trace: Trace, times: np.ndarray, conditions: Conditions) -> float:
    """The least room between any two balls on the table, mm; negative if they overlap."""
    fell = fell_at(trace)
    least = np.inf
    for k, one in enumerate(trace.ids):
        for two in trace.ids[k + 1 :]:
            up = times < min(fell[one], fell[two])
            apart = trace.positions(one, times[up]) - trace.positions(two, times[up])
            least = min(least, np.min(np.hypot(*apart.T), initial=np.inf))
    return float(least) - 2.0 * conditions.ball_radius_mm


def least_room(trace: Trace, times: np.ndarray, table: Table, conditions: Conditions) -> float:
    """The least room between any ball on the table and any cushion face or jaw, mm."""
    cloth, fell = Cloth(table, conditions, ()), fell_at(trace)
    rooms = [
        cloth.cushion_gap(trace.positions(ball_id, times[times < fell[ball_id]])).min(
            initial=np.inf
        )
        for ball_id in trace.ids
    ]
    return float(min(rooms))


def all_finite(trace: Trace, times: np.ndarray) -> bool:
    """Whether every position, velocity and spin is a number."""
    return all(
        np.isfinite(read(ball_id, times)).all()
        for ball_id in trace.ids
        for read in (trace.positions, trace.velocities, trace.spins)
    )
