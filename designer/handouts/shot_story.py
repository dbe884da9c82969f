"""The words of one shot on the coach's sheet: pot, lanes, claims, talking points."""

from __future__ import annotations

import math

from reportlab.platypus import Flowable

from designer.drawing.gaps import NO, YES
from designer.handouts.sheet import Sheet
from designer.handouts.styles import Grid, bold, paragraph, table_style, words
from designer.texts import tr
from designer.words.claims import claim, found
from designer.words.facts import fact, facts
from designer.words.figures import angle, list_of, sentence
from designer.words.lanes import arrival, clearance, ending, near_lane, off_ninety
from designer.words.pots import pot_head, pot_lines
from designer.words.strikes import lane_strike, lane_strike_parts
from engine.results import Lane, PotAnswer, ShotAnswer
from engine.routine.values import Shot


def refusal_story(sheet: Sheet, answer: ShotAnswer) -> list[Flowable]:
    """Why a shot cannot be played, or which part of it; nothing for a sound one."""
    if not answer.refusals:
        return []
    state = tr("Not worked out")
    if answer.cannot_be_played:
        state = tr("This shot cannot be played")
    told = sentence(facts(sheet.wording, answer.refusals))
    return [paragraph(f"<b>{NO} {words(state)}:</b> {words(told)}")]


def pot_story(sheet: Sheet, pot: PotAnswer) -> list[Flowable]:
    """Is the pot on, how full, how much room the pocket gives."""
    sign = "" if pot.on else f"{NO} "
    lines = " ".join(pot_lines(sheet.wording, pot))
    return [paragraph(f"<b>{sign}{words(pot_head(sheet.wording, pot))}.</b> {words(lines)}")]


def lane_table(sheet: Sheet, answer: ShotAnswer, width: float) -> Flowable:
    """One row a lane: letter, how it is struck, what it clears or touches and where it goes."""
    names = (tr("Lane"), tr("Strike"), tr("Prediction"))
    head = [paragraph(bold(name), "small") for name in names]
    rows = [_lane_row(sheet, lane) for lane in answer.lanes]
    columns = [width * 0.1, width * 0.36, width * 0.54]
    return Grid([head, *rows], columns, repeatRows=1, style=table_style(), hAlign="LEFT")


def _lane_row(sheet: Sheet, lane: Lane) -> list[Flowable]:
    strike = [bold(lane_strike(lane))]
    strike += [words(line) for line in lane_strike_parts(lane, sheet.conditions)]
    told = [
        (bold if one.clearance_mm < 0.0 else words)(clearance(sheet.wording, one))
        for one in near_lane(lane)
    ]
    told += [words(line) for line in ending(sheet.wording, lane)]
    told += [
        words(tr("Note: {caution}", caution=fact(sheet.wording, caution)))
        for caution in lane.cautions
    ]
    return [
        paragraph(bold(lane.label), "strong"),
        paragraph("<br/>".join(strike), "small"),
        paragraph("<br/>".join(told), "small"),
    ]


def claim_story(sheet: Sheet, shot: Shot, width: float) -> list[Flowable]:
    """What the routine claims about this shot, with a tick or a cross and what was found."""
    rows = []
    for result in sheet.answer.claims:
        said = sheet.routine.claims[result.index]
        if said.shot != shot.id:
            continue
        why = found(sheet.wording, result)
        state = tr("does not hold: {found}", found=why)
        if result.holds:
            state = tr("holds: {found}", found=why)
        told = f"{words(claim(sheet.wording, said))}<br/>{words(state)}"
        sign = YES if result.holds else NO
        rows.append([paragraph(f"<b>{sign}</b>", "strong"), paragraph(told, "small")])
    if not rows:
        return []
    return [
        paragraph(words(tr("Claims of the routine")), "heading"),
        Grid(rows, [width * 0.07, width * 0.93], style=table_style(head=False), hAlign="LEFT"),
    ]


def talking_story(sheet: Sheet, shot: Shot, answer: ShotAnswer) -> list[Flowable]:
    """What to say at the table: potting line, 90-degree line, where the spin takes hold, the note.

    Nothing when there is nothing to say.
    """
    told: list[str] = []
    if answer.pot is not None and not answer.cannot_be_played:
        told += [
            tr(
                "<b>Potting line</b> (solid): from the object ball to the pocket. The cue ball’s "
                "centre must arrive on its extension, at the contact position (dashed circle)."
            ),
            tr(
                "<b>90-degree line</b> (dash and dot): square to the potting line. A cue ball "
                "that arrives without spin leaves close to it; top bends forward of it, screw "
                "bends back from it."
            ),
        ]
    told += [_why(sheet, lane, answer.pot) for lane in answer.lanes]
    if shot.note:
        told.append(tr("<b>Coach’s note:</b> {note}", note=words(shot.note)))
    story = [paragraph(line, "small") for line in told]
    return [paragraph(words(tr("Talking points")), "heading"), *story] if story else []


def _why(sheet: Sheet, lane: Lane, pot: PotAnswer | None) -> str:
    """Why the lane runs as it does: the spin on arrival and where it has taken hold."""
    if not math.isfinite(lane.spin_ratio_on_arrival):
        told = tr("does not come to the contact position; see the notes on it")
        return f"{bold(lane.label)} {words(told)}."
    parts = [arrival(lane)]
    if math.isfinite(lane.first_angle_deg):
        first = angle(lane.first_angle_deg)
        parts.append(tr("leaves {angle} from the potting line", angle=first))
    if lane.bend_end_mm is not None and len(lane.path_mm):
        bend = math.dist(tuple(lane.path_mm[0]), lane.bend_end_mm)
        if bend > 1.0:
            length = sheet.wording.length(bend)
            parts.append(tr("the spin has taken hold {length} on", length=length))
    if pot is not None and math.isfinite(lane.final_direction_deg):
        parts.append(off_ninety(lane, pot))
    return f"{bold(lane.label)} {words(list_of(parts))}."
