"""Rules for shots and their lanes: names that exist, tips and paces that can be played."""

from __future__ import annotations

import math
from collections.abc import Iterator

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.routine.rules.breach import Breach, finite, names_once, number, shown, unknown
from engine.routine.rules.setup import tip_limit
from engine.routine.values import STUN, LaneAsk, Routine, Shot
from engine.tables import load_table, table_ids

SPEED_HIGHEST_M_S = 15.0
ELEVATION_HIGHEST_DEG = 80.0
MISCUE = "a tip that far off centre is a miscue"


def shot_breaches(routine: Routine) -> Iterator[Breach]:
    """Shots have names of their own; what they name exists; their lanes can be played."""
    yield from names_once("shots", "id", "shot id", [shot.id for shot in routine.shots])
    limit = tip_limit(routine)
    for index, shot in enumerate(routine.shots):
        path = f"shots[{index}]"
        yield from _target_breaches(routine, shot, path)
        yield from finite(f"{path}.aim_deg", f"aim of shot {shot.id}", shot.aim_deg, "degrees")
        labels = [lane.label for lane in shot.lanes]
        yield from names_once(f"{path}.lanes", "label", f"lane letter in shot {shot.id}", labels)
        for place, lane in enumerate(shot.lanes):
            yield from lane_breaches(lane, limit, f"{path}.lanes[{place}]")


def _target_breaches(routine: Routine, shot: Shot, path: str) -> Iterator[Breach]:
    ids = [ball.id for ball in routine.balls]
    cue = routine.cue_ball
    where, what = f"{path}.object_ball", f"object ball of shot {shot.id}"
    if cue is not None and shot.object_ball == cue.id:
        others = "the id of a ball other than the cue ball"
        yield Breach(where, what, shown(shot.object_ball), others, refers="balls")
    elif shot.object_ball and shot.object_ball not in ids:
        yield unknown(where, what, shot.object_ball, ids, "the id of a ball", refers="balls")
    if shot.pocket and routine.table in table_ids():
        pockets = [pocket.id for pocket in load_table(routine.table).pockets]
        if shot.pocket not in pockets:
            yield unknown(
                f"{path}.pocket", f"pocket of shot {shot.id}", shot.pocket, pockets, "a pocket"
            )


def lane_breaches(lane: LaneAsk, limit: float, path: str) -> Iterator[Breach]:
    """A lane's tip must stay within `limit` (over the radius); pace, speed, elevation in range."""
    of = f"of lane {lane.label}"
    yield from _tip_breaches(lane, limit, path)
    yield from number(f"{path}.pace", f"pace {of}", lane.pace, PACE_LOWEST, PACE_HIGHEST)
    speed = lane.speed_m_s
    if speed is not None and not 0 < speed <= SPEED_HIGHEST_M_S:
        wanted = f"above 0 and up to {SPEED_HIGHEST_M_S:g} m/s"
        yield Breach(f"{path}.speed_m_s", f"speed {of}", shown(speed), wanted)
    yield from number(
        f"{path}.elevation_deg",
        f"elevation {of}",
        lane.elevation_deg,
        0,
        ELEVATION_HIGHEST_DEG,
        "degrees",
    )


def _tip_breaches(lane: LaneAsk, limit: float, path: str) -> Iterator[Breach]:
    height = 0.0 if lane.tip_height == STUN else lane.tip_height
    within = f"-{limit:g} to {limit:g}"
    if isinstance(height, str):
        yield Breach(
            f"{path}.tip_height",
            f"tip height of lane {lane.label}",
            shown(height),
            f'a number from {within} or "stun"',
        )
        height = 0.0
    tip_ok, side_ok = abs(height) <= limit, abs(lane.side) <= limit
    if not tip_ok:
        wanted = f'{within} (offset over the ball\'s radius) or "stun"'
        what = f"tip height of lane {lane.label}"
        yield Breach(f"{path}.tip_height", what, shown(height), wanted, MISCUE)
    if not side_ok:
        wanted = f"{within} (offset over the ball's radius)"
        what = f"side of lane {lane.label}"
        yield Breach(f"{path}.side", what, shown(lane.side), wanted, MISCUE)
    # Off centre both ways, the tip's distance from the centre is what counts.
    if tip_ok and side_ok and math.hypot(height, lane.side) > limit + 1e-12:
        room = math.sqrt(max(limit**2 - height**2, 0.0))
        wanted = f"at most {room:.3g} either way with tip height {height:g}"
        yield Breach(f"{path}.side", f"side of lane {lane.label}", shown(lane.side), wanted, MISCUE)
