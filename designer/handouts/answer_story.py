"""The answers of a player's sheets, asked for by the coach: of all shots together."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable

from designer.handouts.pages import Handout, Head, PageHead
from designer.handouts.sheet import Sheet
from designer.handouts.strokes import by_number
from designer.handouts.styles import bold, paragraph, words
from designer.texts import listed, tr
from designer.words.figures import list_of
from designer.words.strikes import lane_strike_parts, strike_word
from engine.results import ShotAnswer
from engine.routine.values import Shot


def answer_story(sheet: Sheet) -> list[Flowable]:
    """Each shot's answer by the coach, then how each letter is struck and what it threads."""
    told: list[Flowable] = []
    for number, shot, answer in sheet.shots():
        lines = _lines(sheet, shot, answer)
        if lines and len(sheet.routine.shots) > 1:
            lines[0] = f"{bold(tr('Shot {number}', number=number))}  {lines[0]}"
        told += [paragraph(line, "small") for line in lines]
    return told


def answers_page(sheets: Sequence[Sheet], document: Handout) -> list[Flowable]:
    """The answers to all the sheets of a file, together at its end."""
    told: list[Flowable] = []
    for sheet in sheets:
        story = answer_story(sheet)
        if story and len(sheets) > 1:
            told.append(paragraph(words(sheet.title), "heading"))
        told += story
    title = tr("Answers")
    line = sheets[0].title if len(sheets) == 1 else ""
    return [PageHead(document, Head(title, line, title)), *told] if told else []


def _lines(sheet: Sheet, shot: Shot, answer: ShotAnswer | None) -> list[str]:
    told = [words(shot.answer)] if shot.answer else []
    if answer is None or answer.cannot_be_played:
        return told
    numbers = {lane.label: at for at, lane in by_number(sheet, shot, answer).items()}
    titles = sheet.gap_titles
    for lane in sorted(answer.lanes, key=lambda each: each.label):
        strike = list_of(
            [strike_word(lane.strike_name), *lane_strike_parts(lane, sheet.conditions)]
        )
        through = [titles.get(p.gap, p.gap) for p in answer.passes
                   if p.lane == lane.label and p.threads]  # fmt: skip
        if through:
            strike = tr("{strike}; through {gaps}", strike=strike, gaps=listed(through))
        name = bold(lane.label)
        if len(numbers) > 1:
            number = numbers[lane.label]
            name = tr("{lane} is stroke {number}:", lane=name, number=number)
        told.append(f"{name}  {words(strike)}.")
    return told
