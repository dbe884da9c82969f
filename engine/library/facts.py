"""What can be told of a routine without playing it: skills, pockets, contacts, words, places.

Skills are read off what is asked: the tip heights of the lanes, several paces with one tip
height, and the kinds of gap. They say what a routine trains, not how well.
"""

from __future__ import annotations

from collections.abc import Iterator

from engine.conditions import Conditions
from engine.errors import BaizewrightError
from engine.library.values import SKILLS, Facts, Layout
from engine.potting.pots import pot
from engine.routine.context import conditions_of, table_of
from engine.routine.values import STUN, Routine, Shot
from engine.tables.model import Table

#: Side of less than this share of the radius is none (as drawn on the sheets, our own threshold).
LEAST_SIDE = 0.05
_SKILL_OF_GAP = {"cannon": "cannon", "cushion-stretch": "cushion", "in-order": "in order"}


def facts_of(routine: Routine) -> Facts:
    """The facts of a routine; what cannot be told of a half-made one is left out.

    >>> facts_of(Routine(title="Black")).text
    'Black'
    """
    table, conditions = _table(routine), _conditions(routine)
    traits = [
        *(("skill", skill) for skill in skills_of(routine, conditions)),
        *(("tag", tag) for tag in routine.tags),
        *(("gap", gap.kind) for gap in routine.gaps),
    ]
    for shot in routine.shots:
        if shot.pocket:
            traits.append(("pocket", shot.pocket))
        contact = _contact(routine, shot, table, conditions)
        if contact:
            traits.append(("contact", contact))
    return Facts(
        title=routine.title,
        coach=routine.coach,
        club=routine.club,
        level=routine.level,
        table=routine.table,
        shots=len(routine.shots),
        gaps=len(routine.gaps),
        text="\n".join(part for part in _texts(routine) if part),
        traits=tuple(dict.fromkeys(traits)),
        layout=layout_of(routine, table),
    )


def layout_of(routine: Routine, table: Table | None = None, key: int = 0) -> Layout:
    """Where the routine's balls stand."""
    bed = table if table is not None else _table(routine)
    return Layout(
        key,
        routine.table,
        bed.width_mm if bed else 0.0,
        bed.length_mm if bed else 0.0,
        tuple(ball.kind for ball in routine.balls),
        tuple(ball.centre_mm for ball in routine.balls),
    )


def skills_of(routine: Routine, conditions: Conditions | None = None) -> tuple[str, ...]:
    """The skills a routine asks for, in the order of `SKILLS`.

    >>> from engine.routine.values import LaneAsk
    >>> skills_of(Routine(shots=(Shot("s", lanes=(LaneAsk("A", 0.5), LaneAsk("B", -0.4))),)))
    ('top', 'screw')
    """
    from engine.playing.strikes import strike_name  # here: a search reads no routine

    limit = (conditions or _conditions(routine)).tip_limit
    found = {_SKILL_OF_GAP.get(gap.kind, "") for gap in routine.gaps}
    for shot in routine.shots:
        paces: dict[object, set[float]] = {}
        for lane in shot.lanes:
            if lane.tip_height == STUN:
                found.add("stun")
            elif not isinstance(lane.tip_height, str):
                # without knowing the spin on arrival the tip height alone gives the word
                name = strike_name(float(lane.tip_height), limit)
                found.add({"centre": "stun"}.get(name, name.removeprefix("full ")))
            if abs(lane.side) >= LEAST_SIDE:
                found.add("side")
            asked = lane.pace if lane.speed_m_s is None else 100.0 + lane.speed_m_s
            paces.setdefault(lane.tip_height, set()).add(asked)
        if any(len(several) > 1 for several in paces.values()):
            found.add("pace")
    return tuple(skill for skill in SKILLS if skill in found)


def _texts(routine: Routine) -> Iterator[str]:
    yield routine.title
    yield from routine.tags
    yield from (routine.coach, routine.club, routine.notes)
    for shot in routine.shots:
        yield from (shot.title, shot.question, shot.answer, shot.note)
        yield from (lane.title for lane in shot.lanes)
    yield from (gap.title for gap in routine.gaps)


def _contact(routine: Routine, shot: Shot, table: Table | None, conditions: Conditions) -> str:
    """The trade name of the contact of a pot, "" when there is none."""
    if table is None or not (shot.object_ball and shot.pocket):
        return ""
    try:
        return pot(table, conditions, routine.balls, shot).fullness_name
    except BaizewrightError:
        return ""


def _table(routine: Routine) -> Table | None:
    try:
        return table_of(routine)
    except BaizewrightError:
        return None


def _conditions(routine: Routine) -> Conditions:
    try:
        return conditions_of(routine)
    except BaizewrightError:
        return Conditions()
