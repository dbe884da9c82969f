"""Everything a coach asks of a routine, worked out in one go."""

from __future__ import annotations

from collections.abc import Iterable

from engine.answers.claims import judge_claims
from engine.conditions import Conditions
from engine.errors import BaizewrightError
from engine.lanes import PlayedLane, played_lane
from engine.placement import placements
from engine.players import PLAYERS, Player
from engine.playing import LaidOutShot, gaps_in_order, laid_out
from engine.playing.plan import stun_height
from engine.potting import pot
from engine.problems import problems_of
from engine.reach import verdicts
from engine.results import (
    Fact,
    GapPass,
    GapVerdict,
    PotAnswer,
    RoutineAnswer,
    ShotAnswer,
)
from engine.routine.context import conditions_of, table_of
from engine.routine.values import STUN, Routine, Shot
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
    lanes: list[PlayedLane] = []
    try:
        scene = laid_out(table, conditions, routine.balls, shot, (), pot_answer)
    except BaizewrightError as error:
        refusals += [Fact("lane-refused", lane=ask.label, error=error) for ask in shot.lanes]
        return ShotAnswer(shot.id, pot_answer, (), (), None, tuple(refusals))
    for ask in shot.lanes:
        try:
            lanes.append(played_lane(scene, ask))
        except BaizewrightError as error:
            refusals.append(Fact("lane-refused", lane=ask.label, error=error))
    return ShotAnswer(
        shot=shot.id,
        pot=pot_answer,
        lanes=tuple(one.lane for one in lanes),
        passes=tuple(_passes(routine, lanes, table, refusals)),
        stun_tip_height=_stun(scene, lanes),
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
    routine: Routine, lanes: Iterable[PlayedLane], table: Table, refusals: list[Fact]
) -> Iterable[GapPass]:
    """Every lane against every gap; a gap that names what is not there is refused once."""
    for gap in routine.gaps:
        try:
            parts = [routine.gap(one) for one in gaps_in_order(routine, gap.id)]
            found = [one.passes(table, parts, routine.balls, gap.id) for one in lanes]
        except BaizewrightError as error:
            refusals.append(Fact("gap-refused", gap=gap.id, error=error))
            continue
        yield from found


def _stun(scene: LaidOutShot, lanes: Iterable[PlayedLane]) -> float | None:
    """The tip height that arrives as stun at the pace of the shot's stun lane, or its first."""
    asks = scene.shot.lanes
    ask = next((one for one in asks if one.tip_height == STUN), next(iter(asks), None))
    if ask is None or scene.pot is None or scene.pocket < 0:
        return None
    for found in (one.lane for one in lanes):
        if found.label == ask.label and found.is_stun and not (found.side or found.elevation_deg):
            return found.tip_height
    try:
        return stun_height(scene, ask)
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
