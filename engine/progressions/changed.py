"""What a step changes, and how the file of the routine it makes tells of it."""

from __future__ import annotations

import math
from dataclasses import replace

from engine.players import Player
from engine.playing import gap_width_mm, gaps_in_order
from engine.potting import pot
from engine.progressions.values import Rate
from engine.results import Fact
from engine.routine.context import conditions_of, table_of
from engine.routine.identity import copied
from engine.routine.values import Routine

#: Under this key a routine's file keeps how it was made.
KEY = "progression"


def change_of(before: Routine, after: Routine, shot_id: str, gap_id: str, way: str) -> Fact:
    """What was changed: from how wide or how long to how wide or how long."""
    if way == "gap":
        was, now = _width(before, gap_id), _width(after, gap_id)
        return Fact("gap-narrowed" if now < was else "gap-widened", was_mm=was, mm=now)
    line = "aim" if way == "distance" else "pot"
    was, now = (_way(routine, shot_id, line) for routine in (before, after))
    return Fact(f"{line}-{'longer' if now > was else 'shorter'}", was_mm=was, mm=now)


def described(made: Routine, start: Routine, player: Player, way: str, found: Rate) -> Routine:
    """The routine with how it was made, kept in its file."""
    about = {
        "from": start.title,
        "changed": way,
        "level": player.name,
        "chance": round(found.chance, 4),
        "chance_low": round(found.low, 4),
        "chance_high": round(found.high, 4),
        "tip_height": round(found.tip_height, 4),
        "pace": round(found.pace, 3),
    }
    return copied(replace(made, extra={**made.extra, KEY: about}), start)


def _width(routine: Routine, gap_id: str) -> float:
    c = conditions_of(routine)
    return min(
        gap_width_mm(
            table_of(routine), routine.gap(one), routine.balls, c.ball_radius_mm, c.cue_radius_mm
        )
        for one in gaps_in_order(routine, gap_id)
    )


def _way(routine: Routine, shot_id: str, line: str) -> float:
    """Length of the way to contact ("aim"), or of the object ball's to its pocket ("pot")."""
    shot = routine.shot(shot_id)
    answer = pot(table_of(routine), conditions_of(routine), routine.balls, shot)
    return math.dist(*(answer.aim_line_mm if line == "aim" else answer.potting_line_mm))
