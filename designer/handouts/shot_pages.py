"""Shots laid out on pages: two on one where both fit, else one on its own with a larger drawing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable, PageBreak

from designer.handouts.papers import GUTTER, Paper
from designer.handouts.stacking import beside, stacked_height

#: Share of the width for a shot's drawing, of two on a page and of one: upright and lying tables.
_HALF, _WHOLE = {False: 0.26, True: 0.42}, {False: 0.47, True: 0.55}
#: Least height of a drawing over the page's, of a shot that shares it.
_LEAST = 0.25


@dataclass(frozen=True, slots=True)
class ShotPart:
    """One shot on its way to a page.

    `draw` makes its drawing no larger than a width and a height; `tell` the words beside it, for
    a column of a width and a height to go by; `more` stands below, as wide as the page.
    """

    heading: Flowable
    draw: Callable[[float, float], Flowable]
    tell: Callable[[float, float], list[Flowable]]
    more: list[Flowable]

    def laid_out(self, paper: Paper, share: float, height: float) -> list[Flowable]:
        """Heading, drawing with the words beside it, and what stands below, so high if it can."""
        width = paper.body.width
        more = stacked_height([self.heading, *self.more], width) + GUTTER
        drawn = self.draw(width * share, max(height - more, height * _LEAST))
        words = self.tell(width - drawn.wrap(width, height)[0] - GUTTER, height - more)
        return [
            self.heading,
            *beside(drawn, words, width, paper.body.height - more),
            *self.more,
        ]


def shot_pages(parts: Sequence[ShotPart], paper: Paper) -> list[list[Flowable]]:
    """The stories of the pages that the shots take."""
    whole, width = paper.body.height - GUTTER, paper.body.width
    half = (whole - GUTTER) / 2.0
    small: list[list[Flowable]] = []
    if len(parts) > 1:
        small = [part.laid_out(paper, _HALF[paper.landscape], half) for part in parts]
    high = [stacked_height(story, width) for story in small]
    pages: list[list[Flowable]] = []
    at = 0
    while at < len(parts):
        pair = at + 1 < len(parts) and high[at] + high[at + 1] + GUTTER <= whole
        if pair:
            pages.append([*small[at], *small[at + 1]])
        else:
            pages.append(parts[at].laid_out(paper, _WHOLE[paper.landscape], whole))
        at += 1 + pair
    return pages


def paged(pages: Sequence[list[Flowable]]) -> list[Flowable]:
    """Each on a page of its own."""
    return [part for page in pages for part in (PageBreak(), *page)]
