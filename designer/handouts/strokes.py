"""The strokes of a shot as cards to choose from, in an order that gives no letter away."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from designer.fonts.metrics import pdf_font
from designer.handouts.sheet import Sheet
from designer.handouts.shot_story import tip_face
from designer.handouts.styles import RULE, Grid, bold, paragraph, table_style, words
from designer.texts import tr
from designer.words.figures import angle, pace, side_place
from designer.words.in_short import tip_in_short
from engine.results import Lane, ShotAnswer
from engine.routine.shuffling import shuffled_lanes
from engine.routine.values import Shot

_FACE = 13.0 * mm
_LEAST_WIDTH = 40.0 * mm


def by_number(sheet: Sheet, shot: Shot, answer: ShotAnswer | None) -> dict[int, Lane]:
    """The lanes by their strokes' numbers.

    A number whose stroke cannot be played is left out, not given to another: in the lesson and on
    every sheet a number is the same stroke.
    """
    found = {lane.label: lane for lane in (answer.lanes if answer is not None else ())}
    order = enumerate(shuffled_lanes(sheet.routine, shot), start=1)
    return {number: found[label] for number, label in order if label in found}


def stroke_numbers(sheet: Sheet, shot: Shot, answer: ShotAnswer | None) -> tuple[int, ...]:
    """The strokes' numbers; one stroke where none is known."""
    return tuple(by_number(sheet, shot, answer)) or (1,)


def stroke_cards(
    sheet: Sheet, shot: Shot, answer: ShotAnswer | None, width: float
) -> list[Flowable]:
    """A card a stroke: its number, where the tip goes, the pace; a lone one is to be drawn in."""
    lanes = by_number(sheet, shot, answer)
    if not lanes:
        return []
    cards = [_card(sheet, number, lane) for number, lane in lanes.items()]
    title = tr("Strokes to choose from")
    if len(lanes) == 1:
        cards = [[tip_face(sheet.conditions, None, _FACE), paragraph(words(tr("pace ____")))]]
        title = tr("Draw in your stroke")
    across = min(max(int(width / _LEAST_WIDTH), 1), len(cards))
    wide = width / across
    cells: list = [
        Grid([card], [_FACE + 5.0, wide - _FACE - 9.0], style=inside_style(), hAlign="LEFT")
        for card in cards
    ]
    cells += [""] * (-len(cells) % across)
    rows = [cells[at : at + across] for at in range(0, len(cells), across)]
    boxed = [
        ("BOX", (at % across, at // across), (at % across, at // across), 0.5, RULE)
        for at in range(len(cards))
    ]
    style = table_style(*boxed, ruled=False, head=False)
    return [
        paragraph(words(title), "heading"),
        Grid(rows, [wide] * across, style=style, hAlign="LEFT"),
    ]


def inside_style() -> list[tuple]:
    """The style of a card: face and words level with each other, no rules."""
    return [
        ("FONTNAME", (0, 0), (-1, -1), pdf_font(False).fontName),
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"), ("LEFTPADDING", (0, 0), (-1, -1), 2.0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 1.0), ("TOPPADDING", (0, 0), (-1, -1), 1.0),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.0),
    ]  # fmt: skip


def _card(sheet: Sheet, number: int, lane: Lane) -> list[Flowable]:
    radius = sheet.conditions.cue_radius_mm
    told = [f"<font size='11'>{bold(str(number))}</font> &nbsp; {bold(pace(lane.pace))}",
            words(tip_in_short(lane.tip_height * radius))]  # fmt: skip
    if abs(lane.side) > 1e-9:
        told.append(words(side_place(lane.side * radius)))
    if lane.elevation_deg > 1e-9:
        told.append(words(tr("cue raised {angle}", angle=angle(lane.elevation_deg))))
    face = tip_face(sheet.conditions, (lane.tip_height, lane.side), _FACE)
    return [face, paragraph("<br/>".join(told), "tight")]
