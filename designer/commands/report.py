"""The answers of a routine as text a coach can read in a terminal."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from designer.texts import tr, tr_count
from designer.words.claims import claim, found, pair, tolerance
from designer.words.facts import fact, facts
from designer.words.figures import first_up, list_of, sentence
from designer.words.gaps import verdict
from designer.words.lanes import arrival, by_room, clearance, doubt, ending, off_ninety
from designer.words.names import shot_name
from designer.words.pots import pot_head, pot_lines
from designer.words.strikes import lane_strike_parts, strike_word
from designer.words.wording import Wording
from engine.answers import lane_pairs
from engine.results import (
    BallTolerance,
    GapVerdict,
    Lane,
    PotAnswer,
    RoutineAnswer,
    ShotAnswer,
)
from engine.routine.values import Routine


def report(
    file: str,
    routine: Routine,
    answer: RoutineAnswer,
    tolerances: Sequence[BallTolerance] | None = None,
) -> str:
    """Everything `check` tells of one routine, lines joined, no line end after the last."""
    wording = Wording(routine)
    lines = [f"{routine.title or tr('Routine without a title')} ({file})", *_head(wording, answer)]
    problems = [sentence(fact(wording, one.fact)) for one in answer.problems]
    lines += [f"  {tr('problem: {what}', what=one)}" for one in problems]
    for shot in answer.shots:
        lines += ["", *_shot(wording, shot, answer.verdicts)]
    lines += ["", *(f"  {line}" for line in _claims(wording, answer))]
    if tolerances is not None:
        lines += [f"  {line}" for line in _tolerances(wording, tolerances)]
    lines += [f"  {sentence(fact(wording, note))}" for note in answer.notes]
    return "\n".join(lines)


def _head(wording: Wording, answer: RoutineAnswer) -> Iterator[str]:
    balls = len(wording.routine.balls)
    told = tr_count("{count} ball", "{count} balls", balls)
    engine = tr("engine {version}", version=answer.engine_version)
    yield f"  {tr(wording.table.title)}; {told}; {engine}"
    conditions = wording.conditions
    yield "  " + tr(
        "cloth: sliding friction {sliding:g}, rolling resistance {rolling:g}; restitution of the "
        "balls {restitution:g}",
        sliding=conditions.sliding_friction,
        rolling=conditions.rolling_resistance,
        restitution=conditions.ball_restitution,
    )


def _shot(wording: Wording, shot: ShotAnswer, verdicts: tuple[GapVerdict, ...]) -> Iterator[str]:
    yield f"  {first_up(shot_name(wording.routine, shot.shot))} ({shot.shot})"
    if shot.pot is not None:
        yield f"    {pot_head(wording, shot.pot)}"
        yield from (f"      {line}" for line in pot_lines(wording, shot.pot))
    if shot.refusals:
        why = facts(wording, shot.refusals)
        yield "    " + sentence(tr("not answered: {why}", why=why))
    for lane in shot.lanes:
        yield from _lane(wording, lane, shot.pot)
        for one in shot.passes:
            if one.lane == lane.label:
                through = tr("yes") if one.threads else tr("no")
                why = fact(wording, one.reason)
                yield f"      {wording.called(one.gap)}: {through}, {why}"
    yield from (f"    {line}" for line in _pairs(wording, shot))
    for found_of in verdicts:
        if found_of.shot == shot.shot:
            yield f"    {gap_head(wording, found_of)}: {verdict(wording, found_of)}"


def gap_head(wording: Wording, one: GapVerdict) -> str:
    """A gap, its id and how wide it is."""
    name = first_up(wording.called(one.gap))
    if one.width_mm <= 0.0:
        return f"{name} ({one.gap})"
    wide = tr("{length} wide", length=wording.length(one.width_mm))
    return f"{name} ({one.gap}), {wide}"


def _lane(wording: Wording, lane: Lane, pot: PotAnswer | None) -> Iterator[str]:
    title = f" — {lane.title}" if lane.title else ""
    strike = [strike_word(lane.strike_name), *lane_strike_parts(lane, wording.conditions)]
    yield f"    {tr('Lane {lane}', lane=lane.label)}: {list_of(strike)}{title}"
    if math.isfinite(lane.arrival_speed_m_s):
        ways = [arrival(lane)]
        if pot is not None and math.isfinite(lane.final_direction_deg):
            ways.append(off_ninety(lane, pot))
        yield f"      {list_of(ways)}"
    yield f"      {'; '.join(ending(wording, lane))}"
    rooms = by_room(lane)
    touched = sum(one.clearance_mm < 0.0 for one in rooms)
    for room in rooms[: touched + 1]:
        yield f"      {clearance(wording, room)}"
    if lane.doubt is not None:
        yield f"      {doubt(wording, lane.doubt)}"
    for caution in lane.cautions:
        yield f"      {tr('Note: {caution}', caution=fact(wording, caution))}"


def _pairs(wording: Wording, shot: ShotAnswer) -> Iterator[str]:
    """How far apart the lanes lie where the player points, with a warning where too near."""
    found_pairs = [pair(wording, one) for one in lane_pairs(shot)]
    if found_pairs:
        told = list_of(f"{lanes} {apart}" for lanes, apart, _ in found_pairs)
        yield tr("apart where the player points: {pairs}", pairs=told)
    for lanes, one in zip(found_pairs, lane_pairs(shot), strict=True):
        if not one.apart:
            yield f"{lanes[0]}: {lanes[2]}"


def _claims(wording: Wording, answer: RoutineAnswer) -> Iterator[str]:
    if not answer.claims:
        yield tr("The routine makes no claims.")
        return
    for one in answer.claims:
        state = tr("holds") if one.holds else tr("FAILS")
        said = claim(wording, wording.routine.claims[one.index])
        yield f"{state}  {said} — {found(wording, one)}"
    held = sum(one.holds for one in answer.claims)
    yield tr("{held} of {count} claims hold.", held=held, count=len(answer.claims))


def _tolerances(wording: Wording, found_of: Sequence[BallTolerance]) -> Iterator[str]:
    """How far each ball may be misplaced, the most delicate first."""
    yield tr("Set-up tolerance: how far each ball may lie from its place before a claim changes")
    if not found_of:
        yield "  " + tr("no claim holds, so none can change")
    for one in sorted(found_of, key=lambda one: one.tolerance_mm):
        ball, length, changes = tolerance(wording, one)
        yield f"  {ball} ({one.ball}): {length}; {changes}"
