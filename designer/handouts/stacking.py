"""Flowables one below the other or beside a drawing, how much room they take, and what fits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from designer.handouts.papers import GUTTER
from designer.handouts.styles import Heading

#: More room than any column has, points.
_ANY = 1e5


def _placed(story: Sequence[Flowable], width: float) -> Iterator[tuple[Flowable, float, float]]:
    """Each flowable with the room above it and its own height."""
    before = 0.0
    for index, part in enumerate(story):
        above = max(before, part.getSpaceBefore()) if index else 0.0
        yield part, above, part.wrap(width, _ANY)[1]
        before = part.getSpaceAfter()


def stacked_height(story: Sequence[Flowable], width: float) -> float:
    """Height that flowables take in a column of that width, points."""
    return sum(above + high for _, above, high in _placed(story, width))


def what_fits(
    story: Sequence[Flowable], width: float, height: float
) -> tuple[list[Flowable], list[Flowable]]:
    """What of the flowables fits into a column's room, and what does not (points).

    The last that fits may be a part of one; a heading is not left alone at its end.
    """
    taken, room = [], height
    for part, above, high in _placed(story, width):
        room -= above + high
        if room < 0.0:
            break
        taken.append(part)
    left = list(story[len(taken) :])
    if left:
        parts = left[0].split(width, room + left[0].wrap(width, _ANY)[1])
        if len(parts) > 1:
            taken.append(parts[0])
            left[:1] = parts[1:]
    while left and taken and isinstance(taken[-1], Heading):
        left.insert(0, taken.pop())
    return taken, left


class Stack(Flowable):
    """Flowables one below the other as one; `turned` by half, to be read with the sheet over."""

    def __init__(self, story: Sequence[Flowable], width: float, turned: bool = False) -> None:
        super().__init__()
        self.story, self.width, self.turned = story, width, turned
        self.height = stacked_height(story, width)

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, whatever room is offered."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw them from the top down."""
        page, level = self.canv, self.height
        page.saveState()
        if self.turned:
            page.translate(self.width, self.height)
            page.rotate(180)
        for part, above, high in _placed(self.story, self.width):
            level -= above + high
            part.drawOn(page, 0.0, level)
        page.restoreState()


class Beside(Flowable):
    """Flowables beside each other, level at the top."""

    def __init__(self, columns: Sequence[Flowable]) -> None:
        super().__init__()
        self.columns = columns
        sizes = [column.wrap(_ANY, _ANY) for column in columns]
        self.width = sum(wide for wide, _ in sizes) + GUTTER * (len(sizes) - 1)
        self.height = max(high for _, high in sizes)

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, whatever room is offered."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw one after the other."""
        x = 0.0
        for column in self.columns:
            wide, high = column.wrap(_ANY, _ANY)
            column.drawOn(self.canv, x, self.height - high)
            x += wide + GUTTER


def beside(
    left: Flowable, right: Sequence[Flowable], width: float, height: float
) -> list[Flowable]:
    """A flowable and, beside it, as much of the others as the page has room for; then the rest."""
    wide = width - left.wrap(_ANY, _ANY)[0] - GUTTER
    fits, rest = what_fits(right, wide, height)
    return [Beside([left, Stack(fits, wide)]), *rest]
