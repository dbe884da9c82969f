"""How carefully to set up and to ask, as lines of text: set-up tolerance, lanes apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from engine.answers import lane_pairs
from engine.results import BallTolerance, RoutineAnswer, ShotAnswer

_WAYS = (
    "to the right", "up the table to the right", "up the table", "up the table to the left",
    "to the left", "down the table to the left", "down the table", "down the table to the right",
)  # fmt: skip


def pair_lines(shot: ShotAnswer) -> Iterator[str]:
    """How far apart the lanes lie where the player points, with a warning where too near."""
    pairs = lane_pairs(shot)
    if pairs:
        told = ", ".join(f"{pair.one} and {pair.two} {pair.distance_mm:.0f} mm" for pair in pairs)
        yield f"    apart where the player points: {told}"
    for pair in pairs:
        if not pair.apart:
            yield (
                f"    warning: a guess could be right for lanes {pair.one} and {pair.two} both, "
                "they lie nearer than two ball widths there"
            )


def tolerance_lines(answer: RoutineAnswer, found: Sequence[BallTolerance]) -> Iterator[str]:
    """How far each ball may be misplaced, the most delicate first."""
    yield "  Set-up tolerance: how far each ball may lie from its place before a claim changes"
    if not found:
        yield "    no claim holds, so none can change"
    sentences = {claim.index: claim.sentence for claim in answer.claims}
    for one in sorted(found, key=lambda one: one.tolerance_mm):
        if one.at_least or one.claim is None or one.direction_deg is None:
            yield f"    {one.ball}: {one.tolerance_mm:.0f} mm or more, whichever way"
            continue
        way = _WAYS[round(one.direction_deg / 45.0) % len(_WAYS)]
        yield (
            f"    {one.ball}: {one.tolerance_mm:.1f} mm; beyond that {way}: "
            f"{sentences[one.claim]} — no longer true"
        )
