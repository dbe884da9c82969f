"""The engine's answers in a coach's words: plain functions, so that they are tested alone."""

from __future__ import annotations

from html import escape

from designer.session.claim_words import claim_words
from designer.texts import from_engine, listed, mark, tr, tr_count
from designer.words.figures import first_up
from designer.words.in_names import in_coachs_words
from designer.words.names import ball_name, cushion_side, gap_name, pocket_name
from engine.results import Clearance, GapVerdict, Lane, PotAnswer, RoutineAnswer, ShotAnswer
from engine.routine.values import Routine
from engine.tables import Table
from engine.units import LengthUnit, length_text

#: Words, not colours, carry the verdict; the colours only help the eye (dark enough on white).
GOOD, BAD, SOFT = "#00604a", "#a03c00", "#59646a"


def pot_words(
    shot: ShotAnswer, routine: Routine, table: Table
) -> tuple[str, bool | None, list[str]]:
    """Headline of the pot, whether it is on (None: not known), and the lines under it."""
    pot = shot.pot
    if pot is None:
        return (
            tr("Nothing to pot yet"),
            None,
            [_sentence(in_coachs_words(routine, shot.refusal))] if shot.refusal else [],
        )
    ball, pocket = ball_name(routine, pot.object_ball), pocket_name(table, pot.pocket)
    names = {"ball": first_up(ball), "pocket": pocket}
    on, off = mark("{ball} to {pocket}: on"), mark("{ball} to {pocket}: not on")
    head = tr(on if pot.on else off, **names)
    lines = (
        [] if pot.on else [_sentence(in_coachs_words(routine, reason)) for reason in pot.reasons]
    )
    lines += _pot_lines(routine, pot)
    if shot.refusal and not (pot.reasons and pot.reasons[0] in shot.refusal):
        lines.append(_sentence(in_coachs_words(routine, shot.refusal)))
    return head, pot.on, lines


def _pot_lines(routine: Routine, pot: PotAnswer) -> list[str]:
    lines = []
    if pot.cut_deg < 90.0:
        cut = tr("Cut {angle:.0f}°", angle=pot.cut_deg)
        if pot.cut_side and pot.cut_deg >= 0.5:
            left, right = (
                mark("Cut {angle:.0f}° to the left"),
                mark("Cut {angle:.0f}° to the right"),
            )
            cut = tr(left if pot.cut_side == "left" else right, angle=pot.cut_deg)
        lines.append(cut)
        lines.append(
            tr(
                "{fullness} ball (fullness {share:.2f})",
                fullness=first_up(from_engine(pot.fullness_name)),
                share=pot.fullness,
            )
        )
    if pot.pocket_margin_deg > 0.0:
        lines.append(
            tr(
                "Pocket forgives {angle:.1f}° either way",
                angle=pot.pocket_margin_deg,
            )
        )
    if pot.lowest_tip_reason:
        lines.append(
            _sentence(
                tr(
                    "{reason} limits how low the tip can go",
                    reason=in_coachs_words(routine, pot.lowest_tip_reason),
                )
            )
        )
    return lines


def lane_verdict(lane: Lane, routine: Routine, unit: LengthUnit) -> str:
    """Whether a lane is clear, and by how much of what: "clear: red 1 by 34 mm"."""
    if len(lane.path_mm) < 2 and lane.contact is None:
        return tr("does not reach the object ball")
    touched = sorted((r for r in lane.clearances if r.clearance_mm < 0.0), key=_when)
    if lane.in_off and not touched:
        return tr("in-off")
    if touched:
        first = touched[0]
        name = ball_name(routine, first.ball)
        over = length_text(-first.clearance_mm, unit)
        told = tr("touches {ball} by {over}", ball=name, over=over)
        more = len(touched) - 1
        return tr("{told}, and {more} more", told=told, more=more) if more else told
    nearest = min(lane.clearances, key=lambda room: room.clearance_mm, default=None)
    if nearest is None:
        return tr("clear")
    room = length_text(nearest.clearance_mm, unit)
    return tr("clear: {ball} by {room}", ball=ball_name(routine, nearest.ball), room=room)


def lane_ends(lane: Lane) -> str:
    """The cushion a lane meets first and how many it meets: "right, 2 in all"."""
    if len(lane.path_mm) < 2:
        return ""
    if lane.in_off:
        return tr("goes in-off")
    if lane.first_cushion:
        count = len(lane.bounces)
        side = cushion_side(lane.first_cushion)
        return tr("{cushion}, {count} in all", cushion=side, count=count) if count > 1 else side
    return tr("none") if lane.stops_mm is not None else ""


def lane_details(lane: Lane, routine: Routine, unit: LengthUnit) -> list[str]:
    """Every ball a lane passes or touches, in order of room, then what to mind."""
    lines = [
        _room_words(room, routine, unit)
        for room in sorted(lane.clearances, key=lambda r: r.clearance_mm)
    ]
    return lines + [_sentence(in_coachs_words(routine, caution)) for caution in lane.cautions]


def _room_words(room: Clearance, routine: Routine, unit: LengthUnit) -> str:
    name = ball_name(routine, room.ball)
    if room.clearance_mm < 0.0:
        over = length_text(-room.clearance_mm, unit)
        return tr(
            "Touches {ball}: overlaps it by {over}, {share:.0f} % full",
            ball=name,
            over=over,
            share=100.0 * room.fullness,
        )
    return tr("Clears {ball} by {length}", ball=name, length=length_text(room.clearance_mm, unit))


def _when(room: Clearance) -> tuple[int, float]:
    return (room.after_cushions, room.clearance_mm)


def gap_html(routine: Routine, answer: RoutineAnswer, shot_id: str, full: bool) -> str:
    """Each gap with its verdict and the lanes that thread it, as rich text."""
    shot = next((one for one in answer.shots if one.shot == shot_id), None)
    verdicts = {one.gap: one for one in answer.verdicts if one.shot == shot_id}
    parts = []
    for gap in routine.gaps:
        passes = [one for one in shot.passes if one.gap == gap.id] if shot is not None else []
        threads = [one.lane for one in passes if one.threads]
        told = []
        if threads:
            names = listed(threads)
            told.append(
                tr_count(
                    "Lane {lanes} threads it.",
                    "Lanes {lanes} thread it.",
                    len(threads),
                    lanes=names,
                )
            )
        verdict = verdicts.get(gap.id)
        if verdict is not None:
            told.append(in_coachs_words(routine, verdict.sentence))
        parts.append(
            f"<p><b>{escape(first_up(gap_name(routine, gap)))}</b> {_mark(verdict, full, shot)}"
            f"<br>{escape(' '.join(told))}</p>"
        )
    return "".join(parts)


def claims_html(routine: Routine, answer: RoutineAnswer) -> str:
    """Each claim with whether it holds and what was found, those that fail first."""
    return "".join(
        f"<p>{_coloured(tr('holds'), GOOD) if one.holds else _coloured(tr('FAILS'), BAD)}: "
        f"{escape(_sentence(claim_words(routine, routine.claims[one.index])))} "
        f"{escape(_sentence(in_coachs_words(routine, one.found)))}</p>"
        for one in sorted(answer.claims, key=lambda one: one.holds)
        if one.index < len(routine.claims)
    )


def problems_html(routine: Routine, answer: RoutineAnswer) -> str:
    """What is wrong with the set-up."""
    return "".join(
        f"<p>{_coloured(tr('To do'), BAD)}: "
        f"{escape(_sentence(in_coachs_words(routine, one.message)))}</p>"
        for one in answer.problems
    )


def _mark(verdict: GapVerdict | None, full: bool, shot: ShotAnswer | None) -> str:
    if verdict is not None:
        return (
            _coloured(tr("reachable"), GOOD)
            if verdict.reachable
            else _coloured(tr("not reachable"), BAD)
        )
    waiting = shot is not None and not full
    return _coloured(tr("being worked out") if waiting else tr("no verdict"), SOFT)


def _coloured(words: str, colour: str) -> str:
    return f'<b style="color:{colour}">{words}</b>'


def _sentence(words: str) -> str:
    """With a capital and a full stop.

    >>> _sentence("the pot is off")
    'The pot is off.'
    """
    words = words.strip()
    if not words:
        return ""
    return words[0].upper() + words[1:] + ("" if words[-1] in ".!?:" else ".")
