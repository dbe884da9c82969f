"""A straight ball on the cloth, one at a time: the scalar form the compiled routes are built on."""

from __future__ import annotations

import math

from engine.compiled import inlined


@inlined
def straight_state(
    distance: float, speed: float, tip_height: float, friction: float, resistance: float,
    gravity: float,
) -> tuple[float, float]:  # fmt: skip
    """Speed (mm/s) and spin ratio R·spin/speed of a straight ball after `distance` mm.

    A ball that stops before gives (0, 1). The same closed forms as `engine.motion.cloth`.
    """
    grip = friction * gravity
    s0 = 2.5 * tip_height
    way = 1.0 if s0 >= 1.0 else -1.0  # a ball with more than roll is driven forward
    rolled = speed * (5.0 + 2.0 * s0) / 7.0
    slide = 0.5 * (speed + rolled) * 2.0 * abs(speed * (1.0 - s0)) / (7.0 * grip)
    if distance < slide:
        now = math.sqrt(max(speed * speed + 2.0 * way * grip * distance, 0.0))
        if now <= 0.0:
            return 0.0, 1.0
        rim = s0 * speed - way * 2.5 * grip * (abs(speed - now) / grip)
        return now, rim / now
    square = rolled * rolled - 2.0 * resistance * gravity * (distance - slide)
    return (math.sqrt(square), 1.0) if square > 0.0 else (0.0, 1.0)


@inlined
def arrival_state(
    distance: float, speed: float, tip_height: float, side: float, radius: float, friction: float,
    resistance: float, gravity: float, decay: float,
) -> tuple[float, float, float]:  # fmt: skip
    """Speed, spin ratio and vertical spin (rad/s) of a straight ball struck with side.

    `decay` is how fast the cloth takes vertical spin, rad/s².
    """
    now, ratio = straight_state(distance, speed, tip_height, friction, resistance, gravity)
    turn = 2.5 * speed * side / radius
    if turn != 0.0 and now > 0.0:
        s0 = 2.5 * tip_height
        if ratio == 1.0:
            slide_s = abs(speed * (1.0 - s0)) / (3.5 * friction * gravity)
            seconds = slide_s + (speed * (5.0 + 2.0 * s0) / 7.0 - now) / (resistance * gravity)
        else:
            seconds = abs(speed - now) / (friction * gravity)
        turn = math.copysign(max(abs(turn) - decay * seconds, 0.0), turn)
    return now, ratio, turn
