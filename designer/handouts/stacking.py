"""How much room flowables take, and which of them fit into a column."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable

from designer.handouts.styles import Heading


def stacked_height(story: Sequence[Flowable], width: float) -> float:
    """Height that flowables take in a column of that width with the space round them, points."""
    return sum(
        part.wrap(width, 10_000.0)[1] + part.getSpaceBefore() + part.getSpaceAfter()
        for part in story
    )


def what_fits(
    story: list[Flowable], width: float, height: float
) -> tuple[list[Flowable], list[Flowable]]:
    """The first flowables that fit into a column's room, and those that do not (points).

    A heading is not left alone at the end of what fits.
    """
    count, room = 0, height
    for part in story:
        room -= stacked_height([part], width)
        if room < (part.below if isinstance(part, Heading) else 0.0):
            break
        count += 1
    while count and count < len(story) and isinstance(story[count - 1], Heading):
        count -= 1
    return story[:count], story[count:]
