"""A set of observations worth making on a given table: for the printed form, and to advise more.

Places are shares of the table, so the set fits any size; on a table without pockets the object
ball is sent to the middle of a cushion instead.
"""

from __future__ import annotations

from engine.calibration.kinds import Observation
from engine.conditions import Conditions
from engine.tables import Table

#: Paces worth calibrating: gentle, middling, firm.
PACES: tuple[float, ...] = (3.0, 5.0, 8.0)


def suggested(table: Table, conditions: Conditions) -> tuple[Observation, ...]:
    """The suggested observations, with what is to be played filled in and results left open."""
    return (
        *_rolls(table),
        *_rebounds(table),
        *_paces(table, conditions),
        *_stuns(table),
        *_lanes(table, conditions),
        *_banks(table, conditions),
    )


def _rolls(table: Table) -> list[Observation]:
    far = round(0.4 * table.length_mm, -2)
    return [Observation("roll", {"distance_mm": far}) for _ in range(4)]


def _rebounds(table: Table) -> list[Observation]:
    free = round(0.8 * table.length_mm, -2)
    shares = (0.25, 0.4, 0.55, 0.4)
    return [
        Observation("rebound", {"free_mm": free, "distance_mm": round(share * free, -1)})
        for share in shares
    ]


def _paces(table: Table, conditions: Conditions) -> list[Observation]:
    start = round(0.2 * table.length_mm, -1)
    up = round(table.length_mm - conditions.cue_radius_mm - start)
    found = []
    for pace in PACES:
        for _ in range(2):
            found.append(Observation("pace-time", {"pace": pace, "distance_mm": up}))
            found.append(Observation("up-and-down", {"pace": pace, "start_mm": start}))
    return found


def _stuns(table: Table) -> list[Observation]:
    pairs = ((3.0, -0.2), (3.0, -0.3), (5.0, -0.2), (5.0, -0.15))
    return [Observation("stun", {"pace": pace, "tip": tip}) for pace, tip in pairs]


def _lanes(table: Table, conditions: Conditions) -> list[Observation]:
    """Pots of medium cuts to the right with stun, screw and top, from either half of the table."""
    width, length = table.width_mm, table.length_mm
    found = []
    plans = (
        (0.50, 0.72, 0.58, 0.88, -0.3),
        (0.50, 0.72, 0.58, 0.88, 0.0),
        (0.50, 0.72, 0.60, 0.88, 0.3),
        (0.45, 0.70, 0.56, 0.90, -0.2),
        (0.45, 0.70, 0.60, 0.86, -0.1),
        (0.55, 0.75, 0.62, 0.90, 0.2),
    )
    goal = {"pocket": "top-right"}
    if not any(pocket.id == "top-right" for pocket in table.pockets):
        goal = {"to_x_mm": round(width), "to_y_mm": round(0.97 * length)}  # type: ignore[dict-item]
    for cue_x, cue_y, ball_x, ball_y, tip in plans:
        cells = {
            "pace": 5.0,
            "tip": tip,
            "cue_x_mm": round(cue_x * width),
            "cue_y_mm": round(cue_y * length),
            "ball_x_mm": round(ball_x * width),
            "ball_y_mm": round(ball_y * length),
        }
        found.append(Observation("lane", {**cells, **goal}))
    return found


def _banks(table: Table, conditions: Conditions) -> list[Observation]:
    """From the middle against the right cushion and on to the top one, at three angles."""
    width, length = table.width_mm, table.length_mm
    plans = ((0.50, 0.40, 0.60), (0.35, 0.45, 0.60), (0.30, 0.35, 0.62), (0.40, 0.50, 0.72))
    return [
        Observation(
            "bank",
            {
                "pace": 5.0,
                "cue_x_mm": round(cue_x * width),
                "cue_y_mm": round(cue_y * length),
                "cushion": "right",
                "at_mm": round(at * length),
                "then_cushion": "top",
            },
        )
        for cue_x, cue_y, at in plans
    ]
