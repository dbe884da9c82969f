"""A step in words, and in the file of the routine it makes."""

from __future__ import annotations

from dataclasses import replace

from engine.players import Player
from engine.playing import gap_width_mm, gaps_in_order
from engine.potting import pot
from engine.progressions.values import Rate
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine

#: Under this key a routine's file keeps how it was made.
KEY = "progression"
_NAMES = {"gap": "gap", "distance": "cue ball", "pot": "pot"}


def sentence_of(
    before: Routine,
    after: Routine,
    shot_id: str,
    gap_id: str,
    way: str,
    player: Player,
    was: Rate,
    now: Rate,
) -> str:
    """What was changed, and what it does to the chance."""
    if way == "gap":
        told = _gap_words(before, after, gap_id)
    else:
        told = (_distance_words if way == "distance" else _pot_words)(before, after, shot_id)
    return (
        f"{told}: a {player.name} makes it {100 * now.chance:.0f} times in 100 "
        f"({100 * now.low:.1f} to {100 * now.high:.1f}) instead of {100 * was.chance:.0f}, with "
        f"{now.strike_name} (tip {now.tip_height:+.2f}) at pace {now.pace:.1f}."
    )


def described(
    made: Routine, start: Routine, sentence: str, player: Player, way: str, was: Rate, found: Rate
) -> Routine:
    """The routine with a title of its own and how it was made, kept in its file."""
    harder = "harder" if found.chance < was.chance else "easier"
    title = f"{start.title or 'Routine'} – {harder}"
    about = {
        "from": start.title,
        "changed": _NAMES[way],
        "level": player.name,
        "chance": round(found.chance, 4),
        "chance_low": round(found.low, 4),
        "chance_high": round(found.high, 4),
        "tip_height": round(found.tip_height, 4),
        "pace": round(found.pace, 3),
        "sentence": sentence,
    }
    return replace(made, title=title, extra={**made.extra, KEY: about})


def _width(routine: Routine, gap_id: str) -> float:
    c = conditions_of(routine)
    return min(
        gap_width_mm(
            table_of(routine), routine.gap(one), routine.balls, c.ball_radius_mm, c.cue_radius_mm
        )
        for one in gaps_in_order(routine, gap_id)
    )


def _gap_words(before: Routine, after: Routine, gap_id: str) -> str:
    was, now = _width(before, gap_id), _width(after, gap_id)
    return f"Gap {'narrowed' if now < was else 'widened'} from {was:.0f} to {now:.0f} mm"


def _ways(before: Routine, after: Routine, shot_id: str, to: str) -> tuple[float, float]:
    """Length of the way to contact ("cue") or from object ball to pocket ("pot"), both routines."""
    found = []
    for routine in (before, after):
        shot = routine.shot(shot_id)
        answer = pot(table_of(routine), conditions_of(routine), routine.balls, shot)
        line = answer.aim_line_mm if to == "cue" else answer.potting_line_mm
        (ax, ay), (bx, by) = line
        found.append(((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5)
    return found[0], found[1]


def _distance_words(before: Routine, after: Routine, shot_id: str) -> str:
    was, now = _ways(before, after, shot_id, "cue")
    more = "longer" if now > was else "shorter"
    return f"Cue ball's way to contact {more}, {was:.0f} to {now:.0f} mm"


def _pot_words(before: Routine, after: Routine, shot_id: str) -> str:
    was, now = _ways(before, after, shot_id, "pot")
    return f"Way to the pocket {'longer' if now > was else 'shorter'}, {was:.0f} to {now:.0f} mm"
