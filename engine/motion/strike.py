"""The strike: spin of the cue ball from where the tip meets it.

Horizontal momentum decides the speed; the offset of the tip gives the spin,
s = R·spin/v = (5/2)·(offset/R) (Coriolis 1835: a tip 2/5 of the radius above centre sends the
ball off rolling). An elevated cue presses the ball into the cloth: its downward part is taken up
by the bed, and side then tilts the spin axis (swerve).

Scalar functions of plain numbers: the shot kernel compiles this same source.
"""

from __future__ import annotations

import math

from engine.compiled import inlined
from engine.errors import OutOfRangeError


@inlined
def struck_spin(
    speed: float, ux: float, uy: float, radius: float, tip_height: float, side: float, elev: float
) -> tuple[float, float, float]:
    """Spin (x, y, z components, rad/s) of a ball struck along the unit direction (ux, uy).

    `speed` horizontal, mm/s; `radius` mm; `tip_height` and `side` over the radius, side to the
    right positive; `elev` the cue's elevation in radians. Rigid ball, no slip of the tip.
    """
    drive = 2.5 * speed / (radius * math.cos(elev))
    # across points to the striker's right; spin about it is screw, about its opposite is top
    across_x, across_y = uy, -ux
    about_across = -drive * tip_height
    about_line = drive * side * math.sin(elev)
    return (
        about_across * across_x + about_line * ux,
        about_across * across_y + about_line * uy,
        drive * side * math.cos(elev),
    )


def check_tip(tip_height: float, side: float, tip_limit: float) -> None:
    """Refuse a tip beyond the miscue limit with `OutOfRangeError`."""
    if not (math.isfinite(tip_height) and math.isfinite(side)):
        raise OutOfRangeError("tip offset", (tip_height, side), "numbers over the ball radius")
    if math.hypot(tip_height, side) > tip_limit + 1e-9:
        raise OutOfRangeError(
            "tip offset",
            f"{math.hypot(tip_height, side):.3f} of the radius from centre",
            f"at most {tip_limit:g} of the radius",
            "Beyond that the tip slips off: a miscue. Strike nearer the centre.",
        )
