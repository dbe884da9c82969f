"""The numbers looked for: conditions of cloth, balls and cushions, and the speed of each pace.

Each has a starting value with a likely range. The range enters the fit as one weak observation: an
even spread over it, seen from the starting value. A number the observations say nothing of stays
there, with an honest, wide interval. Some numbers are hardly told apart by anything a coach can
measure (a higher nose reads like more friction at the cushion); they are looked for all the same,
as their doubt is part of the doubt in the others.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from engine.calibration.kinds import KINDS, Observation
from engine.calibration.model import Rows
from engine.conditions import CONDITION_FACTS, Conditions
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST

FITTED: tuple[str, ...] = (
    "sliding_friction",
    "rolling_resistance",
    "ball_restitution",
    "cushion_restitution",
    "cushion_friction",
    "cushion_height_ratio",
    "ball_friction_extra",
)
#: Those that no observation decides by itself.
ALONG: tuple[str, ...] = ("cushion_height_ratio", "ball_friction_extra")
#: Looked for as well where a cushion may give back more of a slow ball than of a fast one: rebounds
#: off a ramp decide it, strikes up and down the table the usual one (that of 2.5 m/s).
SLOW_CUSHION = "cushion_restitution_slow"
#: A pace may be played at a third or at three times the usual speed: hardly a hint at all.
PACE_DOUBT = math.log(3.0)
SLOWEST_M_S, FASTEST_M_S = 0.05, 15.0
#: Slopes are taken over this share of each number's doubt, to either side.
STEP_SHARE, SPEED_STEP_SHARE = 0.1, 0.01
PACE_PREFIX = "speed_at_pace_"


@dataclass(frozen=True, slots=True, eq=False)
class Parameters:
    """The numbers looked for, in order: names, starts, doubts (one sigma), allowed ranges.

    All arrays (p,). First come the `fitted` conditions, then speeds in m/s at `paces`.
    """

    names: tuple[str, ...]
    start: np.ndarray
    doubt: np.ndarray
    low: np.ndarray
    high: np.ndarray
    paces: tuple[float, ...]
    base: Conditions

    @property
    def fitted(self) -> tuple[str, ...]:
        """The conditions among the numbers looked for."""
        return self.names[: len(self.names) - len(self.paces)]

    def conditions(self, values: np.ndarray) -> Conditions:
        """The conditions with fitted values in place (not the pace scale)."""
        fitted = (float(value) for value in values[: len(self.fitted)])
        stated: dict[str, Any] = dict(zip(self.fitted, fitted, strict=True))
        return replace(self.base, **stated)

    def speeds_mm_s(self, values: np.ndarray, rows: Rows) -> np.ndarray:
        """The speed off the tip of every row, (n,); nan for rows that are not struck.

        What is looked for is the speed of each pace in the middle of the ball; a row struck lower
        or higher gets its tip's share of it.
        """
        speeds = np.full(len(rows.rows), math.nan)
        tips, paces = rows.tip[rows.struck], rows.pace[rows.struck]
        at = 1000.0 * values[len(self.fitted) + np.searchsorted(self.paces, paces)]
        speeds[rows.struck] = at * self.base.tip_share(tips)
        return speeds


def parameters(
    rows: Sequence[Observation], base: Conditions, ranges: Mapping[str, tuple[float, float]],
    by_speed: bool = False,
) -> Parameters:  # fmt: skip
    """What is to be found from these rows; `ranges` are the likely ones of the preset.

    `by_speed`: also how the cushion gives back a slow ball.
    """
    fitted = (*FITTED, SLOW_CUSHION) if by_speed else FITTED
    paces = tuple(sorted({one.number("pace") for one in rows if KINDS[one.kind].struck}))
    start, doubt, low, high = [], [], [], []
    for name in fitted:
        # a slow ball's restitution is doubted as that of any
        like = "cushion_restitution" if name == SLOW_CUSHION else name
        least, most = ranges.get(like) or CONDITION_FACTS[like].likely or (0.0, 1.0)
        usual = getattr(base, like)
        start.append(usual)
        doubt.append(spread_of(least, most, usual))
        low.append(CONDITION_FACTS[name].allowed[0])
        high.append(CONDITION_FACTS[name].allowed[1])
    for pace in paces:
        speed = float(base.speed_mm_s(pace, 0.0)) / 1000.0
        start.append(speed)
        doubt.append(speed * PACE_DOUBT)
        low.append(SLOWEST_M_S)
        high.append(FASTEST_M_S)
    names = (*fitted, *(f"{PACE_PREFIX}{pace:g}" for pace in paces))
    return Parameters(
        names, np.array(start), np.array(doubt), np.array(low), np.array(high), paces, base
    )


def spread_of(least: float, most: float, usual: float) -> float:
    """The root mean square distance from the usual value of an even spread over a range.

    >>> round(spread_of(0.0, 12.0, 6.0) ** 2, 9)
    12.0
    """
    return math.sqrt((most - least) ** 2 / 12.0 + (0.5 * (least + most) - usual) ** 2)


def slopes_of(
    predict: Callable[[np.ndarray], np.ndarray], values: np.ndarray, looked: Parameters
) -> np.ndarray:
    """Derivatives of predictions by the parameters, (n, p): central differences within bounds."""
    columns = []
    for k in range(len(values)):
        share = STEP_SHARE if k < len(looked.fitted) else SPEED_STEP_SHARE
        step = share * float(looked.doubt[k])
        up, down = values.copy(), values.copy()
        up[k], down[k] = min(values[k] + step, looked.high[k]), max(values[k] - step, looked.low[k])
        columns.append((predict(up) - predict(down)) / (up[k] - down[k]))
    return np.asarray(np.nan_to_num(np.column_stack(columns)))


def pace_scale(base: Conditions, speeds_m_s: Mapping[float, float]) -> tuple[float, ...]:
    """Ten speeds for paces 1 to 10 that pass through the measured ones.

    Between measured paces the ratio to the scale before is shared out evenly; beyond them the
    nearest one's is kept. `OutOfRangeError` comes later from `Conditions` if speeds do not rise.

    >>> pace_scale(Conditions(), {4.0: 3.0})[3]
    3.0
    """
    known = sorted(speeds_m_s)
    if not known:
        return base.pace_speeds_m_s
    usual = [float(base.speed_mm_s(pace, 0.0)) / 1000.0 for pace in known]
    ratios = [speeds_m_s[pace] / speed for pace, speed in zip(known, usual, strict=True)]
    paces = np.arange(PACE_LOWEST, PACE_HIGHEST + 1.0)
    scale = np.interp(paces, known, ratios) * np.array(base.pace_speeds_m_s)
    return tuple(float(speed) for speed in scale)
