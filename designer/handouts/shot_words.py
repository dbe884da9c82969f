"""The words of one shot on the coach's sheet: pot, lanes, gaps, claims, talking points."""

from __future__ import annotations

import math

from reportlab.platypus import Flowable, Table

from designer.drawing.gaps import NO, YES
from designer.handouts.phrases import clearance_words, end_words, pace_words, tip_words
from designer.handouts.sheet import Sheet
from designer.handouts.styles import bold, paragraph, table_style, words
from engine.answers.values import Lane, PotAnswer, ShotAnswer
from engine.routine.values import Shot
from engine.units import length_text


def pot_story(sheet: Sheet, pot: PotAnswer) -> list[Flowable]:
    """Is the pot on, how full, how much room the pocket gives."""
    ball = sheet.names.get(pot.object_ball, pot.object_ball)
    pocket = sheet.table.pocket(pot.pocket).title
    state = "The pot is on" if pot.on else f"{NO} The pot is not on"
    story = [
        paragraph(
            f"{bold(f'{ball} to the {pocket}'.capitalize())}: cut {pot.cut_deg:.1f}° to the "
            f"{words(pot.cut_side)}, {words(pot.fullness_name)} "
            f"({pot.fullness * 100:.0f} % of the ball)."
            if pot.cut_side
            else f"{bold(f'{ball} to the {pocket}'.capitalize())}: {words(pot.fullness_name)} ball."
        )
    ]
    if pot.on:
        room = f"; the pocket forgives {pot.pocket_margin_deg:.1f}° either way"
        story.append(paragraph(f"{state}{room}."))
    else:
        reasons = "; ".join(pot.reasons) or "no reason was found"
        story.append(paragraph(f"<b>{words(state)}:</b> {words(reasons)}."))
    if pot.lowest_tip_reason:
        story.append(paragraph(words(pot.lowest_tip_reason), "small"))
    return story


def lane_table(sheet: Sheet, answer: ShotAnswer, width: float) -> Flowable:
    """One row a lane: letter, how it is struck, what it clears or touches and where it goes."""
    head = [paragraph(f"<b>{name}</b>", "small") for name in ("Lane", "Strike", "Prediction")]
    rows = [_lane_row(sheet, lane) for lane in answer.lanes]
    columns = [width * 0.09, width * 0.37, width * 0.54]
    return Table([head, *rows], columns, repeatRows=1, style=table_style(), hAlign="LEFT")


def _lane_row(sheet: Sheet, lane: Lane) -> list[Flowable]:
    strike = [
        bold(lane.strike_name or lane.title),
        words(tip_words(lane, sheet.conditions)),
        words(pace_words(lane)),
    ]
    if abs(lane.side) > 1e-9:
        side = lane.side * sheet.conditions.ball_radius_mm
        strike.append(f"{abs(side):.1f} mm {'right' if side > 0 else 'left'} side")
    told = clearance_words(lane, sheet.names, sheet.unit)
    facts = [f"{bold(line)}" if line.startswith("touches") else words(line) for line in told]
    facts += [words(line) for line in end_words(lane, sheet.table, sheet.unit)]
    facts += [f"Note: {words(caution)}" for caution in lane.cautions]
    return [
        paragraph(bold(lane.label), "strong"),
        paragraph("<br/>".join(strike), "small"),
        paragraph("<br/>".join(facts), "small"),
    ]


def gap_story(sheet: Sheet, answer: ShotAnswer, width: float) -> list[Flowable]:
    """One row a gap: verdict as sign and words, which lanes thread it."""
    verdicts = [v for v in sheet.answer.verdicts if v.shot == answer.shot]
    if not verdicts:
        return []
    titles = {gap.id: gap.title or gap.id for gap in sheet.routine.gaps}
    rows = []
    for verdict in verdicts:
        sign = YES if verdict.reachable else NO
        threads = [p.lane for p in answer.passes if p.gap == verdict.gap and p.threads]
        through = f"Lanes through it: {', '.join(threads) or 'none of those drawn'}."
        wide = ""
        if math.isfinite(verdict.width_mm) and verdict.width_mm > 0:
            wide = f" ({length_text(verdict.width_mm, sheet.unit)} wide)"
        told = f"{bold(titles.get(verdict.gap, verdict.gap))}{words(wide)}<br/>"
        told += f"{words(verdict.sentence)}<br/>{words(through)}"
        rows.append([paragraph(f"<b>{sign}</b>", "strong"), paragraph(told, "small")])
    columns = [width * 0.07, width * 0.93]
    return [
        paragraph("Gaps", "heading"),
        Table(rows, columns, style=table_style(head=False), hAlign="LEFT"),
    ]


def claim_story(sheet: Sheet, shot: Shot, width: float) -> list[Flowable]:
    """What the routine claims about this shot, with a tick or a cross and what was found."""
    rows = []
    for result in sheet.answer.claims:
        if sheet.routine.claims[result.index].shot != shot.id:
            continue
        sign, state = (YES, "holds") if result.holds else (NO, "does not hold")
        told = f"{words(result.sentence)}<br/>{state}: {words(result.found)}"
        rows.append([paragraph(f"<b>{sign}</b>", "strong"), paragraph(told, "small")])
    if not rows:
        return []
    return [
        paragraph("Claims of the routine", "heading"),
        Table(rows, [width * 0.07, width * 0.93], style=table_style(head=False), hAlign="LEFT"),
    ]


def talking_story(sheet: Sheet, shot: Shot, answer: ShotAnswer) -> list[Flowable]:
    """What to say at the table: potting line, 90-degree line, and where the spin takes hold."""
    story: list[Flowable] = [paragraph("Talking points", "heading")]
    if answer.pot is not None:
        story += [
            paragraph(
                "<b>Potting line</b> (solid): from the object ball to the pocket. The cue ball’s "
                "centre must arrive on its extension, at the contact position (dashed circle).",
                "small",
            ),
            paragraph(
                "<b>90-degree line</b> (dash and dot): square to the potting line. A cue ball "
                "that arrives without spin leaves close to it; top bends forward of it, screw "
                "bends back from it.",
                "small",
            ),
        ]
    story += [paragraph(_why(lane, sheet), "small") for lane in answer.lanes]
    if shot.note:
        story.append(paragraph(f"<b>Coach’s note:</b> {words(shot.note)}", "small"))
    return story


def _why(lane: Lane, sheet: Sheet) -> str:
    """Why the lane runs as it does: the spin on arrival and where it has taken hold."""
    spin = lane.spin_ratio_on_arrival
    if abs(spin) < 0.03:
        carries = "arrives without spin"
    elif spin > 0.97:
        carries = "arrives rolling"
    else:
        kind = "top" if spin > 0 else "backspin"
        carries = f"arrives with {abs(spin) * 100:.0f} % of a rolling ball’s spin, as {kind}"
    parts = [carries, f"leaves {lane.first_angle_deg:.1f}° from the potting line"]
    if lane.bend_end_mm is not None and len(lane.path_mm):
        bend = math.dist(tuple(lane.path_mm[0]), lane.bend_end_mm)
        if bend > 1.0:
            parts.append(f"the spin has taken hold {length_text(bend, sheet.unit)} on")
    parts.append(f"then runs {lane.deflection_deg:.1f}° from its line of approach")
    return f"<b>{words(lane.label)}</b> {words('; '.join(parts))}."
