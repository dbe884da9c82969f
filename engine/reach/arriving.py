"""How a strike's cue ball meets the object ball, and a coach's word for the strike."""

from __future__ import annotations

from engine.playing import LaidOutShot, strike_name
from engine.playing.aiming import aim_of
from engine.playing.plan import arrival_of
from engine.playing.strikes import Struck


def struck(scene: LaidOutShot, tip: float, pace: float) -> Struck:
    """A plain strike of a scene."""
    return Struck(float(scene.conditions.speed_mm_s(pace, tip)), tip)


def meets_with(scene: LaidOutShot, tip: float, pace: float) -> tuple[float, float]:
    """Speed (mm/s) and spin ratio with which one strike's cue ball meets the object ball."""
    strike = struck(scene, tip, pace)
    there = arrival_of(scene, strike, aim_of(scene, strike))
    return (0.0, 1.0) if there is None else (there.speed_mm_s, there.spin_ratio)


def strike_word(scene: LaidOutShot, tip: float, pace: float) -> str:
    """The word for a strike of a scene, as the lane struck so would be called."""
    limit = scene.conditions.tip_limit
    if scene.target < 0:
        return strike_name(tip, limit)
    speed, ratio = meets_with(scene, tip, pace)
    return strike_name(tip, limit, spin_ratio=ratio if speed > 0.0 else None)
