"""Set-ups at the edge of what can lie on a table, and strikes at the edge of what can be played."""

from __future__ import annotations

import math
from dataclasses import replace

from engine.balls import Ball
from engine.routine.values import STUN, Gap, LaneAsk, Routine, Shot

R, W, L = 26.25, 1778.0, 3569.0
CUE, RED = Ball("cue", "cue", 700.0, 1000.0), Ball("a", "red", 900.0, 1700.0)
_TIPS = (0.5, STUN, -0.5, 0.0)


def _shot(pace: float = 4.0, target: str = "a", pocket: str = "top-left", **more) -> Shot:
    lanes = tuple(LaneAsk("ABCD"[i], tip, pace) for i, tip in enumerate(_TIPS))
    return Shot("s", target, pocket, lanes=lanes, **more)


def _set_up(*balls: Ball, shot: Shot | None = None, gaps: tuple[Gap, ...] = (), **more) -> Routine:
    return Routine(balls=balls, shots=(shot or _shot(),), gaps=gaps, **more)


def _beside(x: float, y: float, angle_deg: float, gap_mm: float = 0.0) -> Ball:
    """A red that far from the cue ball's place, in that direction."""
    far, angle = 2 * R + gap_mm, math.radians(angle_deg)
    return Ball("a", "red", x + far * math.cos(angle), y + far * math.sin(angle))


def _cluster() -> tuple[Ball, ...]:
    """Twenty-one balls frozen in a triangle and the cue ball against them."""
    balls = [
        Ball(f"r{row}-{i}", "red", W / 2 + (i - row / 2) * 2 * R, 1800.0 + row * R * math.sqrt(3))
        for row in range(6)
        for i in range(row + 1)
    ]
    return (Ball("cue", "cue", W / 2, 1800.0 - 2 * R), *balls)


def _gaps() -> dict[str, Routine]:
    b, c = Ball("b", "red", 900.0, 2300.0), Ball("c", "red", 900.0 + 2 * R, 2300.0)
    far = Ball("c", "red", 900.0, 2300.0 + 2 * R + 1e-6)
    return {
        "a gap of no width": _set_up(CUE, RED, b, c, gaps=(Gap("g", "ball-ball", ("b", "c")),)),
        "a gap along the way": _set_up(CUE, RED, b, far, gaps=(Gap("g", "ball-ball", ("b", "c")),)),
        "a gap behind a frozen ball": _set_up(
            CUE, RED, Ball("b", "red", R, 2300.0),
            gaps=(Gap("g", "ball-cushion", ("b",), cushion="left"),),
        ),
        "a gap to a cushion with the object ball": _set_up(
            CUE, RED, gaps=(Gap("g", "ball-cushion", ("a",), cushion="right"),)
        ),
        "a stretch of no length": _set_up(
            CUE, RED, gaps=(Gap("g", "cushion-stretch", cushion="top", from_mm=800.0, to_mm=800.0),)
        ),
        "a patch of no size": _set_up(
            CUE, RED, gaps=(Gap("g", "cloth", points_mm=((5.0, 5.0), (5.0, 5.0), (5.0, 5.0))),)
        ),
    }  # fmt: skip


def cases() -> dict[str, Routine]:
    """Every case by its name."""
    x, y = 700.0, 1000.0
    found = {
        f"touching, {angle}° from the cue ball": _set_up(CUE, _beside(x, y, angle))
        for angle in (0, 45, 117, 180, 300)
    }
    found |= {
        f"{gap} mm from touching": _set_up(CUE, _beside(x, y, 70.0, gap))
        for gap in (1e-9, 1e-6, 1e-3, 0.5)
    }
    found |= {
        f"overlapping by {mm} mm": _set_up(CUE, _beside(x, y, 70.0, -mm))
        for mm in (1e-9, 0.1, 52.5)
    }
    for name, at in {
        "frozen on the left cushion": (R, 2000.0), "in the top left corner": (R, L - R),
        "in a middle jaw": (5.0, L / 2), "in the jaws of a corner": (20.0, L - 20.0),
        "on the lip": (2.0, L - 2.0), "off the table": (-500.0, 9000.0),
        "over the pocket": (0.0, L), "at a jaw's tip": (R, L - 85.0),
    }.items():  # fmt: skip
        found[f"object ball {name}"] = _set_up(CUE, Ball("a", "red", *at))
        found[f"cue ball {name}"] = _set_up(Ball("cue", "cue", *at), RED)
    for pace in (1.0, 1.0001, 10.0):
        found[f"pace {pace}"] = _set_up(CUE, RED, shot=_shot(pace))
    for speed in (1e-9, 1e-3, 0.05, 14.9, 15.0, 1e6, 0.0):
        lanes = (LaneAsk("A", 0.3, 4.0, speed_m_s=speed), LaneAsk("B", STUN, 4.0, speed_m_s=speed))
        found[f"{speed} m/s"] = _set_up(CUE, RED, shot=replace(_shot(), lanes=lanes))
    for tip in (0.5, -0.5, 0.500000001, 1e-12, 0.4):
        found[f"tip {tip}"] = _set_up(
            CUE, RED, shot=replace(_shot(), lanes=(LaneAsk("A", tip, 6.0), LaneAsk("B", tip, 1.0)))
        )
    found["tip and side at the limit"] = _set_up(
        CUE, RED, shot=replace(_shot(), lanes=(LaneAsk("A", 0.3, 6.0, side=0.4),))
    )
    found["straight behind the ball"] = _set_up(
        Ball("cue", "cue", 900.0 + 200.0, 1700.0 - 200.0), RED, shot=_shot(pocket="top-left")
    )
    found["a cut of ninety degrees"] = _set_up(Ball("cue", "cue", 900.0, 800.0), RED, shot=_shot())
    found["cue ball behind the object ball"] = _set_up(Ball("cue", "cue", 300.0, 3000.0), RED)
    found["a cluster of twenty-two"] = _set_up(*_cluster(), shot=_shot(10.0, "r0-0", "top-right"))
    found["an object ball within the cluster"] = _set_up(
        *_cluster(), shot=_shot(4.0, "r3-1", "top-left")
    )
    found["no cue ball"] = _set_up(RED)
    found["the cue ball as object ball"] = _set_up(CUE, RED, shot=_shot(target="cue"))
    found["no balls at all"] = Routine(shots=(_shot(),))
    found["a plain shot along a cushion"] = _set_up(
        Ball("cue", "cue", R, 500.0), shot=Shot("s", aim_deg=90.0, lanes=(LaneAsk("A", 0.5, 10.0),))
    )
    for name, value in {
        "ball_restitution": (0.0, 1.0), "sliding_friction": (1e-6, 1.0),
        "rolling_resistance": (1e-5, 0.5), "cushion_restitution": (0.0, 1.0),
        "cushion_friction": (0.0, 1.0), "nap_drift": (0.0, 0.01),
    }.items():  # fmt: skip
        for one in value:
            found[f"{name} {one:g}"] = _set_up(CUE, RED, conditions={name: one})
    return found | _gaps()
