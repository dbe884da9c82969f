"""Everything a coach asks of a routine, worked out in one go."""

from __future__ import annotations

from collections.abc import Iterable

from engine.answers.claims import judge_claims
from engine.conditions import Conditions
from engine.errors import BaizewrightError
from engine.lanes import (
    Way,
    gap_pass,
    lane,
    pass_in_order,
    setting,
    speed_of,
    stun_height,
    way_of_lane,
)
from engine.placement import placements
from engine.players import PLAYERS, Player
from engine.potting import pot
from engine.problems import problems_of
from engine.reach import verdicts
from engine.results import (
    Fact,
    GapPass,
    GapVerdict,
    Lane,
    PotAnswer,
    RoutineAnswer,
    ShotAnswer,
)
from engine.routine.context import conditions_of, table_of
from engine.routine.values import STUN, Gap, Routine, Shot
from engine.tables.model import Table
from engine.version import VERSION


def answer(
    routine: Routine, players: tuple[Player, ...] = PLAYERS, *, chances: bool = True
) -> RoutineAnswer:
    """All answers for a routine: problems, shots, gap verdicts, claims, placements.

    Chances are told for `players`; without `chances` they are not worked out (verdicts then have no
    `choice`), which half of the time goes into. All else is the same.
    A shot that cannot be answered carries its refusal; `UnknownNameError` or `OutOfRangeError`
    only when the table or the conditions cannot be.
    """
    table_of(routine), conditions_of(routine)
    shots = tuple(answer_shot(routine, shot.id) for shot in routine.shots)
    found = tuple(
        one for shot in routine.shots for one in _verdicts(routine, shot, players, chances)
    )
    return RoutineAnswer(
        engine_version=VERSION,
        problems=problems_of(routine),
        shots=shots,
        verdicts=found,
        claims=judge_claims(routine, shots, found),
        placements=placements(routine),
        notes=(Fact("prediction"),),
    )


def answer_shot(routine: Routine, shot_id: str) -> ShotAnswer:
    """Pot, lanes and gap passes of one shot; `UnknownNameError` when there is no such shot.

    What cannot be worked out is left out, and `refusal` says why.
    """
    shot = routine.shot(shot_id)
    table, conditions = table_of(routine), conditions_of(routine)
    refusals: list[Fact] = []
    pot_answer = _pot(routine, shot, table, conditions, refusals)
    if shot.aim_deg is None and (pot_answer is None or pot_answer.cut_deg >= 90.0):
        if pot_answer is not None:
            refusals.append(Fact("no-lanes", then=pot_answer.reasons[0]))
        elif not refusals:
            refusals.append(Fact("nothing-chosen" if table.pockets else "no-direction"))
        return ShotAnswer(shot.id, pot_answer, (), (), None, tuple(refusals))
    lanes: list[Lane] = []
    for ask in shot.lanes:
        try:
            lanes.append(lane(table, conditions, routine.balls, shot, pot_answer, ask))
        except BaizewrightError as error:
            refusals.append(Fact("lane-refused", lane=ask.label, error=error))
    return ShotAnswer(
        shot=shot.id,
        pot=pot_answer,
        lanes=tuple(lanes),
        passes=tuple(_passes(routine, shot, lanes, table, conditions, refusals)),
        stun_tip_height=_stun(routine, shot, pot_answer, table, conditions, lanes),
        refusals=tuple(refusals),
    )


def _pot(
    routine: Routine, shot: Shot, table: Table, conditions: Conditions, refusals: list[Fact]
) -> PotAnswer | None:
    if not (shot.object_ball and shot.pocket):
        return None
    try:
        return pot(table, conditions, routine.balls, shot)
    except BaizewrightError as error:
        refusals.append(Fact("refused", error=error))
        return None


def _passes(
    routine: Routine,
    shot: Shot,
    lanes: Iterable[Lane],
    table: Table,
    conditions: Conditions,
    refusals: list[Fact],
) -> Iterable[GapPass]:
    """Every lane against every gap; a gap that names what is not there is refused once."""
    cue = routine.cue_ball
    played = (shot.object_ball, "" if cue is None else cue.id)
    obstacles = [ball for ball in routine.balls if ball.id not in played]
    ways = [way_of_lane(one, obstacles, conditions) for one in lanes]
    for gap in routine.gaps:
        try:
            found = [_pass(routine, table, gap, way) for way in ways]
        except BaizewrightError as error:
            refusals.append(Fact("gap-refused", gap=gap.id, error=error))
            continue
        yield from found


def _pass(routine: Routine, table: Table, gap: Gap, way: Way) -> GapPass:
    if gap.kind != "in-order":
        return gap_pass(table, gap, routine.balls, way)
    return pass_in_order(table, gap, [routine.gap(one) for one in gap.gaps], routine.balls, way)


def _stun(
    routine: Routine,
    shot: Shot,
    pot_answer: PotAnswer | None,
    table: Table,
    conditions: Conditions,
    lanes: Iterable[Lane],
) -> float | None:
    """The tip height that arrives as stun at the pace of the shot's stun lane, or its first."""
    ask = next((one for one in shot.lanes if one.tip_height == STUN), None)
    ask = ask or next(iter(shot.lanes), None)
    if ask is None or pot_answer is None or shot.aim_deg is not None:
        return None
    for found in lanes:
        if found.label == ask.label and found.is_stun and not (found.side or found.elevation_deg):
            return found.tip_height
    scene = setting(table, conditions, routine.balls, shot, pot_answer)
    try:
        return stun_height(scene, speed_of(ask, conditions))
    except BaizewrightError:
        return None


def _verdicts(
    routine: Routine, shot: Shot, players: tuple[Player, ...], chances: bool
) -> tuple[GapVerdict, ...]:
    """The verdicts of one shot; none for a shot that cannot be played at all."""
    if not routine.gaps:
        return ()
    try:
        return verdicts(routine, shot.id, players=players, chances=chances)
    except BaizewrightError:
        return ()
