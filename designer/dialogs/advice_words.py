"""Proposals of the advice in a coach's words."""

from __future__ import annotations

from designer.panels.claim_words import claim_words
from designer.session.words import named_ball
from engine.advice.values import Advice, Move
from engine.conditions import Conditions
from engine.routine.values import Routine
from engine.units import LengthUnit, length_text


def move_words(routine: Routine, move: Move, unit: LengthUnit) -> str:
    """One ball's move, as seen from baulk: "red R1 30 mm right and 12 mm down the table"."""
    dx, dy = (b - a for a, b in zip(move.from_mm, move.to_mm, strict=True))
    parts = []
    if round(dx):
        parts.append(f"{length_text(abs(dx), unit)} {'right' if dx > 0 else 'left'}")
    if round(dy):
        parts.append(f"{length_text(abs(dy), unit)} {'up' if dy > 0 else 'down'} the table")
    return f"{named_ball(routine, move.ball)} {' and '.join(parts)}"


def headline(routine: Routine, advice: Advice, unit: LengthUnit) -> str:
    """What to move."""
    if not advice.moves:
        return "Nothing needs to be moved."
    moves = " and ".join(move_words(routine, move, unit) for move in advice.moves)
    return f"Move {moves}."


def figures(advice: Advice, conditions: Conditions, unit: LengthUnit) -> str:
    """The strike that does it then, the room it has, how far the lanes lie apart."""
    height = advice.tip_height * conditions.cue_radius_mm
    where = "at centre"
    if abs(height) >= 0.05:
        where = f"{abs(height):.1f} mm {'above' if height > 0 else 'below'} centre"
    speed = float(conditions.speed_mm_s(advice.pace)) / 1000.0
    then = "Then" if advice.moves else "As it is,"
    told = (
        f"{then} {advice.strike_name} (tip {where}) at pace {advice.pace:.1f} ({speed:.2f} m/s) "
        f"threads it with {length_text(advice.margin_mm, unit)} of room."
    )
    if advice.apart_mm is not None:
        told += f" The lanes end {length_text(advice.apart_mm, unit)} apart or more."
    return told


def lost(routine: Routine, advice: Advice) -> str:
    """Which claims would no longer hold."""
    claims = [
        claim_words(routine, routine.claims[index])
        for index in advice.claims_lost
        if index < len(routine.claims)
    ]
    if not claims:
        return "Every claim that holds now still holds." if routine.claims and advice.moves else ""
    return "No longer true then: " + "; ".join(claims) + "."
