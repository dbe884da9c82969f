"""The answers of a routine as text a coach can read in a terminal."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from designer.commands import care_report
from engine.results import (
    BallTolerance,
    GapVerdict,
    Lane,
    LaneDoubt,
    PotAnswer,
    RoutineAnswer,
    ShotAnswer,
)
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine


def report(
    file: str,
    routine: Routine,
    answer: RoutineAnswer,
    tolerance: Sequence[BallTolerance] | None = None,
) -> str:
    """Everything `check` tells of one routine, lines joined, no line end after the last."""
    lines = [f"{routine.title or 'Routine without a title'} ({file})"]
    conditions = conditions_of(routine)
    lines.append(
        f"  {table_of(routine).title}; {len(routine.balls)} balls; engine {answer.engine_version}"
    )
    lines.append(
        f"  cloth: sliding friction {conditions.sliding_friction:g}, rolling resistance "
        f"{conditions.rolling_resistance:g}; restitution of the balls "
        f"{conditions.ball_restitution:g}"
    )
    lines += [f"  problem: {problem.message}" for problem in answer.problems]
    for shot in answer.shots:
        lines += _shot(shot, routine, answer.verdicts)
    lines += _claims(answer)
    if tolerance is not None:
        lines += care_report.tolerance_lines(answer, tolerance)
    lines += [f"  {note}" for note in answer.notes]
    return "\n".join(lines)


def _shot(shot: ShotAnswer, routine: Routine, verdicts: tuple[GapVerdict, ...]) -> Iterator[str]:
    title = routine.shot(shot.shot).title
    yield ""
    yield f"  Shot {shot.shot}" + (f": {title}" if title else "")
    if shot.pot is not None:
        yield from _pot(shot.pot)
    if shot.refusal:
        yield f"    not answered: {shot.refusal}"
    for lane in shot.lanes:
        yield from _lane(lane)
        for one in shot.passes:
            if one.lane == lane.label:
                yield f"      gap {one.gap}: {'yes' if one.threads else 'no'}, {one.reason}"
    yield from care_report.pair_lines(shot)
    for verdict in verdicts:
        if verdict.shot == shot.shot:
            wide = f" ({verdict.width_mm:.0f} mm wide)" if verdict.width_mm > 0.0 else ""
            yield f"    Gap {verdict.gap}{wide}: {verdict.sentence}"


def _pot(pot: PotAnswer) -> Iterator[str]:
    yield f"    {pot.object_ball} into {pot.pocket}: {'on' if pot.on else 'not on'}"
    for reason in pot.reasons:
        yield f"      {reason}"
    side = f" to the {pot.cut_side}" if pot.cut_side else ""
    x, y = pot.contact_mm
    yield (
        f"      cut {pot.cut_deg:.1f}°{side}, {pot.fullness_name} ({pot.fullness:.2f}); "
        f"contact position {x:.0f}, {y:.0f} mm; pocket ±{pot.pocket_margin_deg:.2f}°"
    )
    if pot.lowest_tip_reason:
        yield f"      lowest tip {pot.lowest_tip:+.2f}: {pot.lowest_tip_reason}"


def _lane(lane: Lane) -> Iterator[str]:
    title = f" — {lane.title}" if lane.title else ""
    yield (
        f"    Lane {lane.label}: {lane.strike_name}, tip {lane.tip_height:+.2f}, "
        f"pace {lane.pace:g} ({lane.speed_m_s:.2f} m/s){title}"
    )
    if math.isfinite(lane.arrival_speed_m_s):
        yield (
            f"      arrives at {lane.arrival_speed_m_s:.2f} m/s with spin ratio "
            f"{lane.spin_ratio_on_arrival:+.2f}, turns {_degrees(lane.deflection_deg)}"
        )
    yield f"      {_ending(lane)}"
    touched = sorted(
        (room for room in lane.clearances if room.clearance_mm <= 0.0),
        key=lambda room: room.clearance_mm,
    )
    for room in touched:
        yield (
            f"      touches {room.ball}, {-room.clearance_mm:.1f} mm over, on the {room.side}, "
            f"{room.fullness:.2f} full, {_after(room.after_cushions)}"
        )
    clear = [room for room in lane.clearances if room.clearance_mm > 0.0]
    if clear:
        nearest = min(clear, key=lambda room: room.clearance_mm)
        what = "clears every ball; nearest" if not touched else "nearest it clears:"
        yield (
            f"      {what} {nearest.ball} by {nearest.clearance_mm:.1f} mm on the {nearest.side}, "
            f"{_after(nearest.after_cushions)}"
        )
    if lane.doubt is not None:
        yield f"      {_doubt(lane.doubt)}"
    for caution in lane.cautions:
        yield f"      caution: {caution}"


def _doubt(doubt: LaneDoubt) -> str:
    """How far what is not known of the table may move a lane."""
    told = [
        f"{spread:.0f} mm {where}"
        for spread, where in (
            (doubt.first_cushion_mm, "at the first cushion"),
            (doubt.rest_mm, "at rest"),
        )
        if math.isfinite(spread)
    ]
    if not told:
        return "not known well enough to say where it ends: it meets different cushions"
    return f"over the likely conditions it spreads {' and '.join(told)}"


def _after(cushions: int) -> str:
    if cushions == 0:
        return "before any cushion"
    return "after one cushion" if cushions == 1 else f"after {cushions} cushions"


def _ending(lane: Lane) -> str:
    parts = []
    if lane.first_cushion_mm is not None:
        x, y = lane.first_cushion_mm
        parts.append(f"first cushion {lane.first_cushion} at {x:.0f}, {y:.0f} mm")
    if lane.stops_mm is not None:
        x, y = lane.stops_mm
        parts.append(f"stops at {x:.0f}, {y:.0f} mm")
    elif len(lane.path_mm):
        parts.append("goes in-off")
    return "; ".join(parts) or "has no way after contact"


def _degrees(angle: float) -> str:
    return f"{angle:.1f}°" if math.isfinite(angle) else "no way in particular"


def _claims(answer: RoutineAnswer) -> Iterator[str]:
    yield ""
    if not answer.claims:
        yield "  The routine makes no claims."
        return
    for claim in answer.claims:
        mark = "holds" if claim.holds else "FAILS"
        yield f"  {mark}  {claim.sentence} — {claim.found}"
    held = sum(claim.holds for claim in answer.claims)
    yield f"  {held} of {len(answer.claims)} claims hold."
