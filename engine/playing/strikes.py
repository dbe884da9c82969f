"""How a lane's cue ball is struck: its speed, its tip height, and a coach's word for it.

The names follow the tip height as a share of the miscue limit; the thresholds are our own:
full top from +85 %, top from +45 %, run-through from +10 %, screw below −10 %, full screw from
−85 %. Near the centre the spin on arrival decides between stun and run-through; while it is
not known the strike is called centre.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.conditions import Conditions
from engine.errors import OutOfRangeError
from engine.motion.straight import arrival_state
from engine.motion.strike import check_tip
from engine.routine.values import STUN, LaneAsk

if TYPE_CHECKING:
    import numpy as np

FULL_SHARE, FIRM_SHARE, CENTRE_SHARE = 0.85, 0.45, 0.10
#: A spin ratio within this of none counts as stun (our own threshold).
STUN_RATIO = 0.1
FASTEST_M_S = 15.0


@dataclass(frozen=True, slots=True)
class Struck:
    """A lane's strike in engine units: speed mm/s, tip and side over the radius, elevation rad."""

    speed_mm_s: float
    tip_height: float
    side: float = 0.0
    elevation_rad: float = 0.0


@dataclass(frozen=True, slots=True)
class Arrival:
    """A straight cue ball after some way: speed mm/s, spin ratio Rω/v, vertical spin rad/s."""

    speed_mm_s: float
    spin_ratio: float
    spin_z_rad_s: float


def speed_of(
    ask: LaneAsk, conditions: Conditions, tip_height: float | np.ndarray
) -> float | np.ndarray:
    """The cue ball's speed off the tip in mm/s: the stated speed, else that of pace and tip.

    `tip_height` is the lane's, one or many: of stun it is known only once it is worked out.
    """
    if ask.speed_m_s is None:
        return conditions.speed_mm_s(ask.pace, tip_height, ask.side)
    if not 0.0 < ask.speed_m_s <= FASTEST_M_S:
        raise OutOfRangeError(
            f"speed_m_s of lane {ask.label}", ask.speed_m_s, f"more than 0, at most {FASTEST_M_S:g}"
        )
    return 1000.0 * ask.speed_m_s + 0.0 * tip_height


def arrival(struck: Struck, distance_mm: float, conditions: Conditions) -> Arrival | None:
    """The cue ball after a straight way of `distance_mm`; None when it stops before."""
    c, upright = conditions, math.cos(struck.elevation_rad)
    speed, spin, turn = arrival_state(
        distance_mm, struck.speed_mm_s, struck.tip_height / upright, struck.side, c.cue_radius_mm,
        c.sliding_friction, c.rolling_resistance, 1000.0 * c.gravity_m_s2, c.spin_decay_rad_s2,
    )  # fmt: skip
    if not speed > 0.0:
        return None
    return Arrival(speed, spin, turn)


def check_strike(ask: LaneAsk, conditions: Conditions) -> None:
    """Refuse a strike that cannot be played, with `OutOfRangeError`."""
    if ask.tip_height != STUN:
        if isinstance(ask.tip_height, str):
            raise OutOfRangeError(
                f"tip height of lane {ask.label}", repr(ask.tip_height), 'a number or "stun"'
            )
        check_tip(float(ask.tip_height), ask.side, conditions.tip_limit)
    if not 0.0 <= ask.elevation_deg < 80.0:
        raise OutOfRangeError(
            f"elevation of lane {ask.label}", f"{ask.elevation_deg:g}°", "0° to less than 80°"
        )


def strike_name(
    tip_height: float, tip_limit: float, is_stun: bool = False, spin_ratio: float | None = None
) -> str:
    """A coach's word for a strike: by tip height, and by the spin it arrives with when known.

    A tip below centre that arrives without backspin is no screw any more.

    >>> strike_name(-0.1, 0.5, spin_ratio=0.7)
    'run-through'
    >>> strike_name(0.5, 0.5), strike_name(-0.3, 0.5), strike_name(0.0, 0.5, spin_ratio=0.6)
    ('full top', 'screw', 'run-through')
    """
    share = tip_height / tip_limit
    if is_stun:
        return "stun"
    if abs(share) < CENTRE_SHARE:
        if spin_ratio is None or math.isnan(spin_ratio):
            return "centre"
        return "run-through" if spin_ratio > STUN_RATIO else "stun"
    if share < 0.0:
        if spin_ratio is not None and spin_ratio > STUN_RATIO:
            return "run-through"
        if spin_ratio is not None and abs(spin_ratio) <= STUN_RATIO:
            return "stun"
        return "full screw" if share <= -FULL_SHARE else "screw"
    if share >= FULL_SHARE:
        return "full top"
    return "top" if share >= FIRM_SHARE else "run-through"
