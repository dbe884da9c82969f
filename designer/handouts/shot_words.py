"""The words of one shot on the coach's sheet: pot, lanes, gaps, claims, talking points."""

from __future__ import annotations

import math

from reportlab.platypus import Flowable

from designer.drawing.gaps import NO, YES
from designer.handouts.phrases import clearance_words, end_words, strike_words
from designer.handouts.sheet import Sheet
from designer.handouts.styles import Grid, bold, paragraph, table_style, words
from engine.results import Lane, PotAnswer, ShotAnswer
from engine.routine.values import Shot
from engine.units import length_text


def refusal_story(sheet: Sheet, answer: ShotAnswer) -> list[Flowable]:
    """Why a shot cannot be played, or which part of it; nothing for a sound one."""
    if not answer.refusal:
        return []
    state = "This shot cannot be played" if answer.cannot_be_played else "Not worked out"
    told = sheet.said(answer.refusal).rstrip(".")
    return [paragraph(f"<b>{NO} {state}:</b> {words(told)}.")]


def pot_story(sheet: Sheet, pot: PotAnswer) -> list[Flowable]:
    """Is the pot on, how full, how much room the pocket gives."""
    ball = sheet.names.get(pot.object_ball, pot.object_ball)
    pocket = sheet.table.pocket(pot.pocket).title
    name = f"{ball} to the {pocket}"
    named = bold(name[:1].upper() + name[1:])
    state = "The pot is on" if pot.on else f"{NO} The pot is not on"
    story = [
        paragraph(
            f"{named}: cut {pot.cut_deg:.1f}° to the "
            f"{words(pot.cut_side)}, {words(pot.fullness_name)} "
            f"({pot.fullness * 100:.0f} % of the ball)."
            if pot.cut_side
            else f"{named}: {words(pot.fullness_name)} ball."
        )
    ]
    if pot.on:
        room = f"; the pocket forgives {pot.pocket_margin_deg:.1f}° either way"
        story.append(paragraph(f"{state}{room}."))
    else:
        reasons = sheet.said("; ".join(pot.reasons)) or "no reason was found"
        story.append(paragraph(f"<b>{words(state)}:</b> {words(reasons)}."))
    if pot.lowest_tip_reason:
        story.append(paragraph(words(sheet.said(pot.lowest_tip_reason)), "small"))
    return story


def lane_table(sheet: Sheet, answer: ShotAnswer, width: float) -> Flowable:
    """One row a lane: letter, how it is struck, what it clears or touches and where it goes."""
    head = [paragraph(f"<b>{name}</b>", "small") for name in ("Lane", "Strike", "Prediction")]
    rows = [_lane_row(sheet, lane) for lane in answer.lanes]
    columns = [width * 0.1, width * 0.36, width * 0.54]
    return Grid([head, *rows], columns, repeatRows=1, style=table_style(), hAlign="LEFT")


def _lane_row(sheet: Sheet, lane: Lane) -> list[Flowable]:
    strike = [bold(lane.strike_name or lane.title)]
    strike += [words(line) for line in strike_words(lane, sheet.conditions)]
    told = clearance_words(lane, sheet.names, sheet.unit)
    facts = [f"{bold(line)}" if line.startswith("touches") else words(line) for line in told]
    facts += [words(line) for line in end_words(lane, sheet.table, sheet.unit)]
    facts += [f"Note: {words(sheet.said(caution))}" for caution in lane.cautions]
    return [
        paragraph(bold(lane.label), "strong"),
        paragraph("<br/>".join(strike), "small"),
        paragraph("<br/>".join(facts), "small"),
    ]


def claim_story(sheet: Sheet, shot: Shot, width: float) -> list[Flowable]:
    """What the routine claims about this shot, with a tick or a cross and what was found."""
    rows = []
    for result in sheet.answer.claims:
        if sheet.routine.claims[result.index].shot != shot.id:
            continue
        sign, state = (YES, "holds") if result.holds else (NO, "does not hold")
        claim, found = sheet.said(result.sentence), sheet.said(result.found)
        told = f"{words(claim)}<br/>{state}: {words(found)}"
        rows.append([paragraph(f"<b>{sign}</b>", "strong"), paragraph(told, "small")])
    if not rows:
        return []
    return [
        paragraph("Claims of the routine", "heading"),
        Grid(rows, [width * 0.07, width * 0.93], style=table_style(head=False), hAlign="LEFT"),
    ]


def talking_story(sheet: Sheet, shot: Shot, answer: ShotAnswer) -> list[Flowable]:
    """What to say at the table: potting line, 90-degree line, where the spin takes hold, the note.

    Nothing when there is nothing to say.
    """
    story: list[Flowable] = []
    if answer.pot is not None and not answer.cannot_be_played:
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
    return [paragraph("Talking points", "heading"), *story] if story else []


def _why(lane: Lane, sheet: Sheet) -> str:
    """Why the lane runs as it does: the spin on arrival and where it has taken hold."""
    label = f"<b>{words(lane.label)}</b>"
    if not math.isfinite(lane.spin_ratio_on_arrival):
        return f"{label} does not come to the contact position; see the notes on it."
    parts = [_arrival(lane.spin_ratio_on_arrival)]
    if math.isfinite(lane.first_angle_deg):
        parts.append(f"leaves {lane.first_angle_deg:.1f}° from the potting line")
    if lane.bend_end_mm is not None and len(lane.path_mm):
        bend = math.dist(tuple(lane.path_mm[0]), lane.bend_end_mm)
        if bend > 1.0:
            parts.append(f"the spin has taken hold {length_text(bend, sheet.unit)} on")
    if math.isfinite(lane.deflection_deg):
        parts.append(f"then runs {lane.deflection_deg:.1f}° from its line of approach")
    return f"{label} {words('; '.join(parts))}."


def _arrival(spin: float) -> str:
    """The spin a cue ball arrives with, in words."""
    if abs(spin) < 0.03:
        return "arrives without spin"
    if spin > 0.97:
        return "arrives rolling"
    kind = "top" if spin > 0 else "backspin"
    return f"arrives with {abs(spin) * 100:.0f} % of a rolling ball’s spin, as {kind}"
