"""Lock-step design: segments of many balls at once.

`state` is (BALL_COLUMNS, balls), the kernel's columns as rows; `at` picks balls by index.
"""

from __future__ import annotations

import numpy as np

from engine.shot.layout import (
    AX,
    AY,
    DECAY,
    END,
    GRAVITY,
    NAP,
    PHASE,
    QX,
    QY,
    RADIUS,
    ROLL,
    ROLLING,
    SLIDE,
    SLIDING,
    STILL,
    VX,
    VY,
    WX,
    WY,
    WZ,
    T,
    X,
    Y,
)  # fmt: skip
from engine.shot.segments import CRAWL, NOTHING, TURN_SHARE


def advance(state: np.ndarray, at: np.ndarray, now: np.ndarray, c: np.ndarray) -> np.ndarray:
    """Rows (BALL_COLUMNS, k) of the balls `at`, moved on to the times `now`; state is untouched."""
    b = state[:, at]
    dt = np.maximum(now - b[T], 0.0)
    b[X] += (b[VX] + 0.5 * b[AX] * dt) * dt
    b[Y] += (b[VY] + 0.5 * b[AY] * dt) * dt
    b[VX] += b[AX] * dt
    b[VY] += b[AY] * dt
    rolls = (b[PHASE] == ROLLING) & (dt > 0.0)
    b[WX] = np.where(rolls, -b[VY] / b[RADIUS], b[WX] + b[QX] * dt)
    b[WY] = np.where(rolls, b[VX] / b[RADIUS], b[WY] + b[QY] * dt)
    b[WZ] = np.copysign(np.maximum(np.abs(b[WZ]) - c[DECAY] * dt, 0.0), b[WZ])
    b[T] = now
    return b


def begin(b: np.ndarray, c: np.ndarray) -> None:
    """Begin the next segment of every row of `b`: phase, rates and end, in place."""
    r = b[RADIUS]
    ux, uy = b[VX] - r * b[WY], b[VY] + r * b[WX]
    slip, speed = np.sqrt(ux * ux + uy * uy), np.sqrt(b[VX] * b[VX] + b[VY] * b[VY])
    slides = slip > NOTHING
    rolls = ~slides & (speed > NOTHING)
    grip, drag = c[SLIDE] * c[GRAVITY], c[ROLL] * c[GRAVITY]
    b[PHASE] = np.where(slides, SLIDING, np.where(rolls, ROLLING, STILL))
    b[AX] = np.where(slides, -grip * ux / slip, np.where(rolls, -drag * b[VX] / speed, 0.0))
    b[AY] = np.where(slides, -grip * uy / slip, np.where(rolls, -drag * b[VY] / speed, 0.0))
    b[QX] = np.where(slides, 2.5 * b[AY] / r, 0.0)
    b[QY] = np.where(slides, -2.5 * b[AX] / r, 0.0)
    b[END] = np.where(
        slides, b[T] + slip / (3.5 * grip), np.where(rolls, b[T] + speed / drag, np.inf)
    )
    kept = slides | rolls
    if c[NAP] > 0.0:
        pull = np.where(rolls, c[NAP] * c[GRAVITY] * b[VX] / speed, 0.0)
        b[AX] -= np.where(rolls, pull * b[VY] / speed, 0.0)
        b[AY] += np.where(rolls, pull * b[VX] / speed, 0.0)
        turns = rolls & (speed > CRAWL)
        b[END] = np.where(turns, b[T] + TURN_SHARE * speed / drag, b[END])
    b[WX] = np.where(slides, b[WX], np.where(rolls, -b[VY] / r, 0.0))
    b[WY] = np.where(slides, b[WY], np.where(rolls, b[VX] / r, 0.0))
    b[VX] = np.where(kept, b[VX], 0.0)
    b[VY] = np.where(kept, b[VY], 0.0)


def finish(b: np.ndarray, which: np.ndarray, c: np.ndarray) -> None:
    """End the segment of the rows `which` (mask): sliding balls roll, rolling balls stop."""
    r = b[RADIUS]
    ux, uy = b[VX] - r * b[WY], b[VY] + r * b[WX]
    slides = b[PHASE] == SLIDING
    turns = np.zeros_like(slides)
    if c[NAP] > 0.0:
        turns = ~slides & (b[VX] * b[VX] + b[VY] * b[VY] > CRAWL * CRAWL)
    rolls = which & ((slides & (ux * ux + uy * uy < 1e-6)) | turns)
    stops = which & ~slides & ~turns
    b[WX] = np.where(rolls, -b[VY] / r, np.where(stops, 0.0, b[WX]))
    b[WY] = np.where(rolls, b[VX] / r, np.where(stops, 0.0, b[WY]))
    b[VX] = np.where(stops, 0.0, b[VX])
    b[VY] = np.where(stops, 0.0, b[VY])
