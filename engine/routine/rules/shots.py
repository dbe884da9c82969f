"""Rules for shots and their lanes: names that exist, tips and paces that can be played."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.errors import short
from engine.routine.rules.breach import Breach, Names, finite, names_once, number, shown, unknown
from engine.routine.rules.setup import tip_limit
from engine.routine.values import STUN, LaneAsk, Routine, Shot
from engine.tables import load_table, table_ids

SPEED_HIGHEST_M_S = 15.0
ELEVATION_HIGHEST_DEG = 80.0
MISCUE = "a tip that far off centre is a miscue"


def shot_breaches(routine: Routine) -> Iterator[Breach]:
    """Shots have names of their own; what they name exists; their lanes can be played."""
    yield from names_once("shots", "id", "shot id", [shot.id for shot in routine.shots])
    limit, targets = tip_limit(routine), _Targets.of(routine)
    for index, shot in enumerate(routine.shots):
        path, called = f"shots[{index}]", f"shot {short(shot.id)}"
        yield from _target_breaches(targets, shot, path, called)
        yield from finite(f"{path}.aim_deg", f"aim of {called}", shot.aim_deg, "degrees")
        labels = [lane.label for lane in shot.lanes]
        yield from names_once(f"{path}.lanes", "label", f"lane letter in {called}", labels)
        for place, lane in enumerate(shot.lanes):
            yield from lane_breaches(lane, limit, f"{path}.lanes[{place}]")


@dataclass(frozen=True, slots=True)
class _Targets:
    """What a shot of a routine can name: balls, one of them the cue ball, and pockets."""

    balls: Names
    cue: str | None
    pockets: Names | None

    @classmethod
    def of(cls, routine: Routine) -> _Targets:
        known = routine.table in table_ids()
        pockets = load_table(routine.table).pockets if known else ()
        return cls(
            Names(ball.id for ball in routine.balls),
            None if routine.cue_ball is None else routine.cue_ball.id,
            Names(pocket.id for pocket in pockets) if known else None,
        )


def _target_breaches(targets: _Targets, shot: Shot, path: str, called: str) -> Iterator[Breach]:
    where, what = f"{path}.object_ball", f"object ball of {called}"
    if targets.cue is not None and shot.object_ball == targets.cue:
        others = "the id of a ball other than the cue ball"
        yield Breach(where, what, shown(shot.object_ball), others, refers="balls")
    elif shot.object_ball and shot.object_ball not in targets.balls:
        wanted = "the id of a ball"
        yield unknown(where, what, shot.object_ball, targets.balls, wanted, refers="balls")
    pockets = targets.pockets
    if shot.pocket and pockets is not None and shot.pocket not in pockets:
        where, what = f"{path}.pocket", f"pocket of {called}"
        yield unknown(where, what, shot.pocket, pockets, "a pocket")


def lane_breaches(lane: LaneAsk, limit: float, path: str) -> Iterator[Breach]:
    """A lane's tip must stay within `limit` (over the radius); pace, speed, elevation in range."""
    of = f"of lane {short(lane.label)}"
    yield from _tip_breaches(lane, limit, path, of)
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


def _tip_breaches(lane: LaneAsk, limit: float, path: str, of: str) -> Iterator[Breach]:
    height = 0.0 if lane.tip_height == STUN else lane.tip_height
    within = f"-{limit:g} to {limit:g}"
    if isinstance(height, str):
        yield Breach(
            f"{path}.tip_height",
            f"tip height {of}",
            shown(height),
            f'a number from {within} or "stun"',
        )
        height = 0.0
    tip_ok, side_ok = abs(height) <= limit, abs(lane.side) <= limit
    if not tip_ok:
        wanted = f'{within} (offset over the ball’s radius) or "stun"'
        what = f"tip height {of}"
        yield Breach(f"{path}.tip_height", what, shown(height), wanted, MISCUE)
    if not side_ok:
        wanted = f"{within} (offset over the ball’s radius)"
        what = f"side {of}"
        yield Breach(f"{path}.side", what, shown(lane.side), wanted, MISCUE)
    # Off centre both ways, the tip's distance from the centre is what counts.
    if tip_ok and side_ok and math.hypot(height, lane.side) > limit + 1e-12:
        room = math.sqrt(max(limit**2 - height**2, 0.0))
        wanted = f"at most {room:.3g} either way with tip height {height:g}"
        yield Breach(f"{path}.side", f"side {of}", shown(lane.side), wanted, MISCUE)
