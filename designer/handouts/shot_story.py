"""The words of one shot on the coach's sheet: what is asked, pot, claims, lanes, gaps, physics."""

from __future__ import annotations

import math

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from designer.drawing import Look, contact_drawing, tip_drawing
from designer.drawing.gaps import NO, YES
from designer.handouts.figure import Figure
from designer.handouts.papers import GUTTER
from designer.handouts.sheet import Sheet
from designer.handouts.stacking import Beside, Stack, stacked_height
from designer.handouts.styles import Grid, bold, paragraph, table_style, words
from designer.texts import tr
from designer.words.claims import found
from designer.words.facts import fact, facts
from designer.words.figures import angle, list_of, pace, room, sentence, side_place
from designer.words.in_short import (
    InShort,
    claim_in_short,
    gap_line,
    lane_verdict,
    tip_in_short,
)
from designer.words.lanes import arrival, doubt, ending, off_ninety
from designer.words.pots import pot_head, pot_lines
from designer.words.strikes import lane_strike, tip_and_pace
from engine.conditions import Conditions
from engine.results import GapVerdict, Lane, PotAnswer, ShotAnswer
from engine.routine.values import Gap, Shot

_FACE = 7.5 * mm
_CONTACT = (46.0 * mm, 25.0 * mm)
#: Least width of the lanes with the contact beside them.
_LEAST_LANES = 70.0 * mm
#: Text to begin fitting with: close-ups are about as large as what they show.
_LOOK = Look().at_scale(1.0)


def asked_story(shot: Shot) -> list[Flowable]:
    """Question, answer and the coach's own note."""
    story: list[Flowable] = []
    if shot.question:
        story.append(paragraph(bold(shot.question)))
    if shot.answer:
        story.append(paragraph(tr("<b>Answer:</b> {answer}", answer=words(shot.answer)), "reading"))
    if shot.note:
        story.append(paragraph(tr("<b>Note:</b> {note}", note=words(shot.note)), "reading"))
    return story


def refusal_story(sheet: Sheet, answer: ShotAnswer) -> list[Flowable]:
    """Why a shot cannot be played, or which part of it; nothing for a sound one."""
    if not answer.refusals:
        return []
    state = tr("Not worked out")
    if answer.cannot_be_played:
        state = tr("This shot cannot be played")
    told = sentence(facts(sheet.wording, answer.refusals))
    return [paragraph(f"<b>{NO} {words(state)}:</b> {words(told)}")]


def pot_story(sheet: Sheet, pot: PotAnswer | None) -> list[Flowable]:
    """Is the pot on, how full, how much room the pocket gives."""
    if pot is None:
        return []
    sign = YES if pot.on else NO
    lines = " ".join(pot_lines(sheet.wording, pot))
    return [
        paragraph(f"<b>{sign} {words(pot_head(sheet.wording, pot))}.</b> {words(lines)}", "reading")
    ]


def played_story(
    sheet: Sheet, shot: Shot, answer: ShotAnswer, width: float, height: float
) -> list[Flowable]:
    """Pot, claims and lanes; the close-up of the contact stands beside whichever has room.

    Lanes beside it are narrow and cannot go on to another page, so they must fit into the height.
    """
    pot, claims = pot_story(sheet, answer.pot), claim_story(sheet, shot)
    closeup = []
    if answer.pot is not None and not answer.cannot_be_played:
        found = answer.pot
        closeup = [
            Figure(lambda look: contact_drawing(sheet.routine, found, look), *_CONTACT, _LOOK)
        ]
    wide = width - sum(one.width + GUTTER for one in closeup)
    if answer.lanes and wide >= _LEAST_LANES:
        narrow = [*pot, *claims, Beside([lane_grid(sheet, answer, wide), *closeup])]
        if stacked_height(narrow, width) <= height:
            return narrow
    lanes = [lane_grid(sheet, answer, width)] if answer.lanes else []
    return [Beside([Stack([*pot, *claims], wide), *closeup]), *lanes]


def claim_story(sheet: Sheet, shot: Shot) -> list[Flowable]:
    """What the routine claims of this shot: a tick each in one line, why where one fails."""
    told = []
    for result in sheet.answer.claims:
        said = sheet.routine.claims[result.index]
        if said.shot != shot.id:
            continue
        short = claim_in_short(sheet.wording, said, bool(result.holds))
        why = "" if result.holds else ": " + words(found(sheet.wording, result))
        told.append(_marked(short) + why)
    return [paragraph(" &nbsp; ".join(told), "reading")] if told else []


def _marked(short: InShort, between: str = ", ") -> str:
    """A verdict as markup: its sign and what is found in bold, then what is beside it."""
    sign = {True: YES, False: NO, None: "?"}[short.good]
    beside = f"{between}{words(short.beside)}" if short.beside else ""
    return f"<b>{sign}</b>\xa0{words(short.told)}{beside}"


def tip_face(conditions: Conditions, tip: tuple[float, float] | None, size: float) -> Figure:
    """The cue ball's face with the tip on it, so many points across."""
    return Figure(lambda look: tip_drawing(conditions, tip, look), size, size, _LOOK)


def lane_grid(sheet: Sheet, answer: ShotAnswer, width: float) -> Grid:
    """One row a lane: letter, where the tip goes and how hard, verdict."""
    rows = [_lane_row(sheet, answer, lane) for lane in answer.lanes]
    columns = [0.06 * width, _FACE + 4.0, width * 0.41]
    columns.append(width - sum(columns))
    style = table_style(
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"), ("TOPPADDING", (0, 0), (-1, -1), 0.6),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 0.6), head=False,
    )  # fmt: skip
    return Grid(rows, columns, style=style, hAlign="LEFT", spaceBefore=2.0, spaceAfter=2.0)


def _lane_row(sheet: Sheet, answer: ShotAnswer, lane: Lane) -> list[Flowable]:
    radius = sheet.conditions.cue_radius_mm
    parts = [tip_in_short(lane.tip_height * radius), pace(lane.pace)]
    if abs(lane.side) > 1e-9:
        parts.append(side_place(lane.side * radius))
    if lane.elevation_deg > 1e-9:
        parts.append(tr("cue raised {angle}", angle=angle(lane.elevation_deg)))
    short = lane_verdict(sheet.wording, lane, answer.passes)
    told = [f"<b>{_marked(short, ', ' if short.good else ' ')}</b>"]
    told += [
        words(tr("Note: {caution}", caution=fact(sheet.wording, caution)))
        for caution in lane.cautions
    ]
    return [
        paragraph(bold(lane.label), "strong"),
        tip_face(sheet.conditions, (lane.tip_height, lane.side), _FACE),
        paragraph(f"{bold(lane_strike(lane))}<br/>{words(list_of(parts))}", "tight"),
        paragraph("<br/>".join(told), "tight"),
    ]


def gap_story(sheet: Sheet, answer: ShotAnswer) -> list[Flowable]:
    """A line or two for each gap: who goes through, and what forgives most and how hard it is."""
    gaps = {gap.id: gap for gap in sheet.routine.gaps}
    found = [one for one in sheet.answer.verdicts if one.shot == answer.shot and one.gap in gaps]
    return [_gap_told(sheet, answer, gaps[one.gap], one) for one in found]


def _gap_told(sheet: Sheet, answer: ShotAnswer, gap: Gap, one: GapVerdict) -> Flowable:
    short = gap_line(sheet.wording, gap, one, answer.passes)
    title = bold(sheet.gap_titles.get(gap.id, gap.id))
    if math.isfinite(one.width_mm) and one.width_mm > 0:
        wide = tr("{length} wide", length=sheet.wording.length(one.width_mm))
        title += f" ({words(wide)})"
    sign = {True: YES, False: NO, None: "?"}[short.good]
    parts = [words(short.told)] + [words(short.beside)] * bool(short.beside)
    best = one.choice or one.best
    if short.good and best is not None:
        parts.insert(1, words(tr(
            "forgives most: {strike}, {room} of room",
            strike=tip_and_pace(best.tip_height, best.pace, sheet.conditions),
            room=room(best.margin_mm, sheet.unit),
        )))  # fmt: skip
    return paragraph(f"<b>{sign}</b>\xa0{title}: {'; '.join(parts)}.", "reading")


def physics_story(sheet: Sheet, answer: ShotAnswer) -> list[Flowable]:
    """How each lane runs and why, short and last; nothing when there is nothing to say."""
    told = [_run(sheet, lane, answer.pot) for lane in answer.lanes]
    return [paragraph(" ".join(told), "least")] if told else []


def _run(sheet: Sheet, lane: Lane, pot: PotAnswer | None) -> str:
    """The spin on arrival and where it has taken hold, where the lane ends, how far off it may."""
    wording = sheet.wording
    if not math.isfinite(lane.spin_ratio_on_arrival):
        parts = [tr("does not come to the contact position; see the notes on it")]
    else:
        parts = [arrival(lane)]
        bend = 0.0
        if lane.bend_end_mm is not None and len(lane.path_mm):
            bend = math.dist(tuple(lane.path_mm[0]), lane.bend_end_mm)
        if bend > 1.0:
            length = wording.length(bend)
            parts.append(tr("the spin has taken hold {length} on", length=length))
        if pot is not None and math.isfinite(lane.final_direction_deg):
            parts.append(off_ninety(lane, pot))
    parts += ending(wording, lane)
    if lane.doubt is not None:
        parts.append(doubt(wording, lane.doubt))
    return f"{bold(lane.label)} {words('; '.join(parts))}."
