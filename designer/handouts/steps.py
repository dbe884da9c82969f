"""The progression sheet: a routine built up step by step, from the pot alone to all of it.

Steps go from what leaves most room to what leaves least, each with a small drawing of its own and
a line to fill in. The player's version names the letter to reach and shows no lane.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepInFrame

from designer.drawing import QUESTION_LAYERS, Drawing, Layers, Look, build_drawing
from designer.handouts.figure import Figure, table_figure
from designer.handouts.heads import sheet_head
from designer.handouts.insets import inset_story
from designer.handouts.pages import Handout
from designer.handouts.player import task_words
from designer.handouts.setting import CAUTIONS, TRY_IT, set_up_list
from designer.handouts.sheet import Sheet
from designer.handouts.stacking import stacked_height
from designer.handouts.styles import Grid, bold, headed, paragraph, table_style, words
from designer.handouts.unplayable import ASK_YOUR_COACH, cannot_be_played
from designer.texts import listed, mark, tr
from designer.words.facts import facts
from designer.words.figures import first_up, list_of, sentence
from designer.words.lanes import clearance, near_lane
from designer.words.names import shot_name
from designer.words.strikes import lane_strike_parts, strike_word
from engine.results import Fact, Lane, ShotAnswer
from engine.routine.values import Shot

_POT_LAYERS = Layers(lanes=False, corridors=False, letters=False, gaps=False, verdicts=False)
#: About how wide a step is, the least height of one, and its words, points.
_WIDE = 65.0 * mm
_LEAST = 108.0 * mm
_WORDS = 34.0 * mm
#: Of more balls than this, or of balls that the small drawings cannot name, the readings are listed
#: below the steps; on a page of their own when they would take more than this share of one.
_MANY, _MOST_LISTED = 15, 0.35
TRIES = mark("Tries ______  Made ______  Date ____________")


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what to do in words, which shot's lanes its drawing shows (None: the pot alone).

    `gaps` shows them, for a lane that threads one.
    """

    title: str
    lines: tuple[str, ...]
    shot: str
    lanes: frozenset[str] | None
    gaps: bool = False


def steps_of(sheet: Sheet, shot: Shot, answer: ShotAnswer, alone: bool = True) -> list[Step]:
    """The steps of one shot: the pot, each lane that is clear from the roomiest on, then all.

    Lanes that touch a ball or go in-off are left out: they are for talking about. The player's
    steps are all lanes by their letters, as order and choice would tell. `alone`: the pot by
    itself is a step, as it was in no shot before.
    """
    steps: list[Step] = []
    task = task_words(sheet, shot)
    if task and alone:
        free = (task, tr("Let the cue ball run where it likes."))
        steps.append(Step(tr("The pot alone"), free, shot.id, None))
    if sheet.audience == "player":
        playable = sorted(answer.lanes, key=lambda lane: lane.label)
    else:
        clear = (lane for lane in answer.lanes if lane.clear and not lane.in_off)
        playable = sorted(clear, key=_tightness)
    for lane in playable:
        through = _through(sheet, lane, answer)
        told = _lane_lines(sheet, lane, through)
        only = frozenset((lane.label,))
        title = tr("To {lane}", lane=lane.label)
        steps.append(Step(title, told, shot.id, only, bool(through)))
    if len(playable) > 1:
        labels = sorted(lane.label for lane in playable)
        told = (
            tr(
                "Play {lanes} one after another, one try each, from the same place.",
                lanes=", ".join(labels),
            ),
        )
        some = any(step.gaps for step in steps)
        steps.append(Step(tr("All of them"), told, shot.id, frozenset(labels), some))
    return steps


def _tightness(lane: Lane) -> tuple[float, str]:
    """Room of a lane to the nearest ball, the roomiest first."""
    room = min((c.clearance_mm for c in lane.clearances), default=math.inf)
    return (-room, lane.label)


def _through(sheet: Sheet, lane: Lane, answer: ShotAnswer) -> list[str]:
    """Titles of the gaps a lane threads."""
    titles = sheet.gap_titles
    passes = [p for p in answer.passes if p.lane == lane.label and p.threads]
    return [titles.get(p.gap, p.gap) for p in passes]


def _lane_lines(sheet: Sheet, lane: Lane, through: list[str]) -> tuple[str, ...]:
    if sheet.audience == "player":
        return (tr("Find the strike that sends the cue ball to {lane}.", lane=lane.label),)
    lines = [list_of([strike_word(lane.strike_name), *lane_strike_parts(lane, sheet.conditions)])]
    lines += [clearance(sheet.wording, one) for one in near_lane(lane)[:1]]
    if through:
        lines.append(tr("through {gaps}", gaps=listed(through)))
    return tuple(lines)


def steps_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """The steps of every shot of a routine in rows across the page, numbered in each shot."""
    body = document.paper.body
    player = sheet.audience == "player"
    line = tr("Step by step, for the player") if player else tr("Step by step, for the coach")
    head = sheet_head(sheet, document, line)
    shots = _shots(sheet)
    left_out = _left_out(sheet)
    if not shots:
        told = tr("There is nothing to build up yet: give the routine a shot that can be played.")
        return [*head, *left_out, paragraph(words(told))]
    across = max(1, round(body.width / _WIDE))
    wide = body.width / across
    last = [TRY_IT, *CAUTIONS] if sheet.audience == "coach" else list(CAUTIONS)
    care = paragraph(words(" ".join(map(tr, last))), "small")
    headings = len(shots) > 1
    taken = stacked_height([*head, *left_out, care], body.width) + 4.0 * mm
    # words that take most of a page leave the steps to the next one
    taken = taken if taken < body.height * _MOST_LISTED else 4.0 * mm
    rows_a_page = max(1, int((body.height - taken) / _LEAST))
    high = (body.height - taken) / rows_a_page - (8.0 * mm if headings else 0.0)
    readings: list[Flowable] = []
    crowded = _crowded(sheet, shots[0][1][0], wide, high)
    if crowded or len(sheet.routine.balls) > _MANY:
        readings = [
            *set_up_list(sheet, body.width, across),
            *inset_story(sheet, crowded, body.width),
        ]
        below = stacked_height(readings, body.width)
        # A list that would take too much of the page goes onto one of its own.
        high -= below / rows_a_page if below < body.height * _MOST_LISTED else 0.0
    story = list(head)
    for heading, steps in shots:
        cells: list[Any] = [
            _cell(sheet, step, number, wide, high) for number, step in enumerate(steps, start=1)
        ]
        cells += [""] * (-len(cells) % across)
        rows = [cells[i : i + across] for i in range(0, len(cells), across)]
        style = table_style(ruled=False, head=False)
        grid = Grid(rows, [wide] * across, [high] * len(rows), style=style, hAlign="LEFT")
        story += headed(heading, grid, body.width) if headings else [grid]
    return [*story, *readings, *left_out, care]


def _shots(sheet: Sheet) -> list[tuple[str, list[Step]]]:
    """What each shot that can be played is called, and its steps."""
    found, pots = [], set()
    for number, shot, answer in sheet.shots():
        if answer is None or answer.cannot_be_played:
            continue
        pot = (shot.object_ball, shot.pocket)
        steps = steps_of(sheet, shot, answer, pot not in pots)
        pots.add(pot)
        title = shot.title if sheet.audience == "coach" else ""
        if steps:
            heading = tr("Shot {number} of {count}", number=number, count=len(sheet.routine.shots))
            found.append((f"{heading}: {title}" if title else heading, steps))
    return found


def _left_out(sheet: Sheet) -> list[Flowable]:
    """The shots that cannot be played; why, for the coach alone."""
    story = []
    for number, shot, answer in sheet.shots():
        if not cannot_be_played(answer):
            continue
        told = tr(ASK_YOUR_COACH)
        if sheet.audience == "coach":
            why = answer.refusals if answer is not None else (Fact("no-answer"),)
            shot_is = first_up(shot_name(sheet.routine, shot.id))
            reason = facts(sheet.wording, why)
            told = sentence(tr("{shot} cannot be played: {why}", shot=shot_is, why=reason))
        elif len(sheet.routine.shots) > 1:
            told = tr(
                "Shot {number} cannot be played as it is set here: ask your coach.", number=number
            )
        story.append(paragraph(bold(told), "small"))
    return story


def _crowded(sheet: Sheet, step: Step, wide: float, high: float) -> tuple[str, ...]:
    """The balls that the small drawings cannot show and name."""
    return _figure(sheet, step, wide - 3.0 * mm, high - _WORDS).drawing.crowded


def _cell(sheet: Sheet, step: Step, number: int, wide: float, high: float) -> list[Flowable]:
    figure = _figure(sheet, step, wide - 3.0 * mm, high - _WORDS)
    told = [paragraph(f"{bold(f'{number}. {step.title}')}", "strong")]
    told += [paragraph(words(line), "small") for line in step.lines]
    told.append(paragraph(words(tr(TRIES)), "small"))
    room = KeepInFrame(wide - 2.0 * mm, _WORDS - 4.0, told, mode="truncate")
    return [figure, room]


def _figure(sheet: Sheet, step: Step, wide: float, high: float) -> Figure:
    answer, layers = sheet.answer, Layers(gaps=step.gaps, verdicts=False)
    if step.lanes is None:
        layers = _POT_LAYERS
    if sheet.audience == "player":
        answer = replace(answer, verdicts=(), claims=(), notes=())
        layers = QUESTION_LAYERS

    def make(look: Look) -> Drawing:
        return build_drawing(
            sheet.routine, answer, layers, sheet.unit, look=look, shot=step.shot,
            lanes=step.lanes if step.lanes is not None else frozenset(),
        )  # fmt: skip

    return table_figure(sheet.routine, make, wide, high, Look())
