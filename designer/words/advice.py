"""Proposals of the advice: which balls to move, and what that brings."""

from __future__ import annotations

from designer.texts import listed, mark, tr
from designer.words.claims import claim
from designer.words.figures import room
from designer.words.strikes import strike
from designer.words.wording import Wording
from engine.advice.values import Advice, Move
from engine.units import rounded


def move(wording: Wording, one: Move) -> str:
    """One ball's move, as seen from baulk: "red R1 30 mm right and 12 mm down the table"."""
    dx, dy = (b - a for a, b in zip(one.from_mm, one.to_mm, strict=True))
    parts = []
    if rounded(dx):
        told = mark("{length} right") if dx > 0 else mark("{length} left")
        parts.append(tr(told, length=wording.length(abs(dx))))
    if rounded(dy):
        told = mark("{length} up the table") if dy > 0 else mark("{length} down the table")
        parts.append(tr(told, length=wording.length(abs(dy))))
    return tr("{ball} {way}", ball=wording.ball(one.ball), way=listed(parts))


def headline(wording: Wording, found: Advice) -> str:
    """What to move."""
    if not found.moves:
        return tr("Nothing needs to be moved.")
    return tr("Move {moves}.", moves=listed([move(wording, one) for one in found.moves]))


def outcome(wording: Wording, found: Advice) -> str:
    """The strike that does it then, the room it has, how far the lanes lie apart."""
    then = mark("Then {strike} threads it with {length} of room.")
    as_it_is = mark("As it is, {strike} threads it with {length} of room.")
    told = tr(
        then if found.moves else as_it_is,
        strike=strike(found.strike_name, found.tip_height, found.pace, wording.conditions),
        length=room(found.margin_mm, wording.unit),
    )
    if found.apart_mm is None:
        return told
    apart = tr("The lanes end {length} apart or more.", length=wording.length(found.apart_mm))
    return f"{told} {apart}"


def advice(wording: Wording, found: Advice) -> str:
    """A proposal in whole sentences."""
    return f"{headline(wording, found)} {outcome(wording, found)}"


def lost(wording: Wording, found: Advice) -> str:
    """Which claims would no longer hold."""
    claims = wording.routine.claims
    gone = [claim(wording, claims[index]) for index in found.claims_lost if index < len(claims)]
    if gone:
        return tr("No longer true then: {claims}.", claims="; ".join(gone))
    return tr("Every claim that holds now still holds.") if claims and found.moves else ""
