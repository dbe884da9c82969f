"""Proposals of the advice in a coach's words."""

from __future__ import annotations

from designer.session.claim_words import claim_words
from designer.texts import from_engine, listed, mark, tr
from designer.words.figures import tip_place
from designer.words.names import ball_name
from engine.advice.values import Advice, Move
from engine.conditions import Conditions
from engine.routine.values import Routine
from engine.units import LengthUnit, length_text


def move_words(routine: Routine, move: Move, unit: LengthUnit) -> str:
    """One ball's move, as seen from baulk: "red R1 30 mm right and 12 mm down the table"."""
    dx, dy = (b - a for a, b in zip(move.from_mm, move.to_mm, strict=True))
    parts = []
    if round(dx):
        length = length_text(abs(dx), unit)
        parts.append(tr(mark("{length} right") if dx > 0 else mark("{length} left"), length=length))
    if round(dy):
        length = length_text(abs(dy), unit)
        way = mark("{length} up the table") if dy > 0 else mark("{length} down the table")
        parts.append(tr(way, length=length))
    return tr("{ball} {way}", ball=ball_name(routine, move.ball), way=listed(parts))


def headline(routine: Routine, advice: Advice, unit: LengthUnit) -> str:
    """What to move."""
    if not advice.moves:
        return tr("Nothing needs to be moved.")
    moves = listed([move_words(routine, move, unit) for move in advice.moves])
    return tr("Move {moves}.", moves=moves)


def figures(advice: Advice, conditions: Conditions, unit: LengthUnit) -> str:
    """The strike that does it then, the room it has, how far the lanes lie apart."""
    speed = float(conditions.speed_mm_s(advice.pace)) / 1000.0
    then = mark(
        "Then {strike} (tip {place}) at pace {pace:.1f} ({speed:.2f} m/s) threads it with "
        "{length} of room."
    )
    as_it_is = mark(
        "As it is, {strike} (tip {place}) at pace {pace:.1f} ({speed:.2f} m/s) threads it with "
        "{length} of room."
    )
    told = tr(
        then if advice.moves else as_it_is,
        strike=from_engine(advice.strike_name),
        place=tip_place(advice.tip_height * conditions.cue_radius_mm),
        pace=advice.pace,
        speed=speed,
        length=length_text(advice.margin_mm, unit),
    )
    if advice.apart_mm is not None:
        apart = length_text(advice.apart_mm, unit)
        told += " " + tr("The lanes end {length} apart or more.", length=apart)
    return told


def lost(routine: Routine, advice: Advice) -> str:
    """Which claims would no longer hold."""
    claims = [
        claim_words(routine, routine.claims[index])
        for index in advice.claims_lost
        if index < len(routine.claims)
    ]
    if not claims:
        return (
            tr("Every claim that holds now still holds.") if routine.claims and advice.moves else ""
        )
    return tr("No longer true then: {claims}.", claims="; ".join(claims))
