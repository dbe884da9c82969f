"""Edits of gaps and of the claims a routine makes."""

from __future__ import annotations

from dataclasses import replace

from engine.routine.edits.pieces import first_free, indexed, inserted, swapped, without
from engine.routine.rules import claim_breaches, gap_breaches, hold
from engine.routine.values import Claim, Gap, Routine


def add_gap(routine: Routine, gap: Gap, at: int | None = None) -> Routine:
    """With one more gap, at place `at` (0 is first) or at the end."""
    return _held(replace(routine, gaps=inserted(routine.gaps, gap, at)))


def remove_gap(routine: Routine, gap_id: str) -> Routine:
    """Without the gap and the claims about it."""
    routine.gap(gap_id)
    return replace(
        routine,
        gaps=without(routine.gaps, gap_id),
        claims=tuple(claim for claim in routine.claims if claim.gap != gap_id),
    )


def set_gap(routine: Routine, gap_id: str, gap: Gap) -> Routine:
    """With another gap in its place; claims follow a new id."""
    routine.gap(gap_id)
    claims = tuple(
        replace(claim, gap=gap.id) if claim.gap == gap_id else claim for claim in routine.claims
    )
    return _held(replace(routine, gaps=swapped(routine.gaps, gap_id, gap), claims=claims))


def add_claim(routine: Routine, claim: Claim, at: int | None = None) -> Routine:
    """With one more claim, at place `at` (0 is first) or at the end."""
    return _held(replace(routine, claims=inserted(routine.claims, claim, at)))


def remove_claim(routine: Routine, index: int) -> Routine:
    """Without the claim at that place (0 is first)."""
    indexed(routine.claims, index, "claim")
    return replace(routine, claims=(*routine.claims[:index], *routine.claims[index + 1 :]))


def set_claim(routine: Routine, index: int, claim: Claim) -> Routine:
    """With another claim at that place (0 is first)."""
    indexed(routine.claims, index, "claim")
    claims = (*routine.claims[:index], claim, *routine.claims[index + 1 :])
    return _held(replace(routine, claims=claims))


def free_gap_id(routine: Routine) -> str:
    """An id no gap has yet.

    >>> free_gap_id(Routine())
    'gap-1'
    """
    return first_free("gap", {gap.id for gap in routine.gaps})


def _held(routine: Routine) -> Routine:
    hold(gap_breaches(routine))
    hold(claim_breaches(routine))
    return routine
