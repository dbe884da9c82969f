"""How a strike's cue ball meets the object ball, and a coach's word for the strike."""

from __future__ import annotations

import math

import numpy as np

from engine.lanes.strikes import strike_name
from engine.motion.straight import straight_state
from engine.reach.outcomes import outcomes
from engine.reach.scene import Scene


def contact_of(scene: Scene, tip: float, pace: float) -> tuple[np.ndarray, float]:
    """The cue ball's centre (mm) at contact, and its direction (radians), for one strike."""
    speed = float(scene.conditions.speed_mm_s(pace))
    way = float(outcomes(scene, tip, speed, margins=False).direction_rad[0])
    cue, ball = scene.places_mm[scene.cue], scene.places_mm[scene.target]
    heading = np.array([math.cos(way), math.sin(way)])
    ahead = float(np.dot(ball - cue, heading))
    off = float(np.linalg.norm(ball - cue - ahead * heading))
    two = scene.conditions.touch_mm
    return cue + heading * (ahead - math.sqrt(max(two * two - off * off, 0.0))), way


def arrival_of(scene: Scene, tip: float, pace: float) -> tuple[float, float]:
    """Speed (mm/s) and spin ratio with which one strike's cue ball meets the object ball."""
    contact, _ = contact_of(scene, tip, pace)
    c = scene.conditions
    far = float(np.linalg.norm(contact - scene.places_mm[scene.cue]))
    return straight_state(
        far, float(c.speed_mm_s(pace)), tip, c.sliding_friction, c.rolling_resistance,
        1000.0 * c.gravity_m_s2,
    )  # fmt: skip


def strike_word(scene: Scene, tip: float, pace: float) -> str:
    """The word for a strike of a scene, as the lane struck so would be called."""
    limit = scene.conditions.tip_limit
    if scene.target < 0:
        return strike_name(tip, limit)
    speed, ratio = arrival_of(scene, tip, pace)
    return strike_name(tip, limit, spin_ratio=ratio if speed > 0.0 else None)
