"""The answer on a player's sheet, asked for by the coach: upside-down, or on the next page."""

from __future__ import annotations

from reportlab.platypus import Flowable

from designer.handouts.sheet import Sheet
from designer.handouts.styles import bold, paragraph, words
from designer.texts import listed, tr
from designer.words.figures import list_of
from designer.words.strikes import lane_strike_parts, strike_word
from engine.results import ShotAnswer
from engine.routine.values import Shot


def answer_story(sheet: Sheet, shot: Shot, answer: ShotAnswer | None) -> list[Flowable]:
    """The coach's answer, then how each letter is struck and which gaps it threads."""
    told = [paragraph(words(tr("Answer")), "heading")]
    if shot.answer:
        told.append(paragraph(words(shot.answer), "small"))
    if answer is None or answer.cannot_be_played:
        return told if shot.answer else []
    titles = sheet.gap_titles
    for lane in sorted(answer.lanes, key=lambda each: each.label):
        strike = list_of(
            [strike_word(lane.strike_name), *lane_strike_parts(lane, sheet.conditions)]
        )
        through = [titles.get(p.gap, p.gap) for p in answer.passes
                   if p.lane == lane.label and p.threads]  # fmt: skip
        if through:
            strike = tr("{strike}; through {gaps}", strike=strike, gaps=listed(through))
        told.append(paragraph(f"{bold(lane.label)}  {words(strike)}.", "small"))
    return told if len(told) > 1 else []


class UpsideDown(Flowable):
    """Flowables stacked in a box and turned by half, to be read with the sheet held over."""

    def __init__(self, story: list[Flowable], width: float) -> None:
        super().__init__()
        self.story, self.width = story, width
        self.sizes = [part.wrap(width, 10_000.0)[1] for part in story]
        gaps = [part.getSpaceAfter() for part in story]
        self.height = sum(self.sizes) + sum(gaps)
        self.gaps = gaps

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, whatever room is offered."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw the stack turned by half about the middle of the box."""
        page = self.canv
        page.saveState()
        page.translate(self.width, self.height)
        page.rotate(180)
        level = self.height
        for part, size, gap in zip(self.story, self.sizes, self.gaps, strict=True):
            level -= size
            part.drawOn(page, 0.0, level)
            level -= gap
        page.restoreState()
