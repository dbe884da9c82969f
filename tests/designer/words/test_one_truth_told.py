"""Text, JSON, window and sheet tell the same of the same: read off all four.

A few routines by default; 200 with BAIZEWRIGHT_FULL=1.
"""

from __future__ import annotations

import dataclasses
import json
import os
import re
from html import unescape

import pytest

from designer.answers.gaps import claims_told
from designer.answers.report import detail_html
from designer.commands.report import report
from designer.handouts import handout_pdf
from designer.words.figures import room
from designer.words.in_short import claim_in_short, lane_verdict, pot_verdict
from designer.words.lanes import clearance, ending, near_lane
from designer.words.pots import pot_lines
from designer.words.telling import words_of
from designer.words.wording import Wording
from engine.answers import answer, to_json
from engine.balls import Ball
from engine.results import Fact, Lane, ShotAnswer
from engine.routine.values import Claim, LaneAsk, Routine, Shot
from tests.designer.handouts.ledger import flat, text_of
from tests.designer.handouts.test_every_number import random_routine
from tests.engine.results.test_values_without_sentences import sentences_in, texts_in

SEEDS = range(200) if os.environ.get("BAIZEWRIGHT_FULL") == "1" else range(4)
#: What an inch sheet may give in mm: where the tip meets the ball.
TIP_MM = re.compile(
    r"[\d.]+ mm (?:above|below|too low|too high|to the left|to the right|\w+ side)"
    r"|under 1 mm|[\d.]+ to [\d.]+ mm (?:above|below) centre|cue ball, mm"
)


def with_claims(routine: Routine) -> Routine:
    """The routine with a claim of every kind that its shot and gaps allow."""
    shot = routine.shots[0].id
    claims = [Claim("pot-on", shot)]
    for lane in routine.shots[0].lanes:
        claims += [Claim("lane-clears", shot, lane=lane.label)]
        claims += [Claim("lane-threads", shot, lane=lane.label, gap=g.id) for g in routine.gaps]
    claims += [Claim("gap-reachable", shot, gap=gap.id) for gap in routine.gaps]
    return dataclasses.replace(routine, claims=tuple(claims))


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.slow
def test_all_four_tell_the_same(seed):
    routine = with_claims(random_routine(seed))
    wording, found = Wording(routine), answer(routine)
    data = json.loads(json.dumps(to_json(found, routine, words=words_of(wording))))
    text = flat(report("x.json", routine, found))
    sheet = text_of(handout_pdf([(routine, found)]))
    shown = "".join(detail_html(wording, one) for one in found.verdicts)
    claims = " ".join(words for row in claims_told(wording, found) for words in row)
    window = flat(f"{unescape(re.sub('<[^>]*>', ' ', shown))} {claims}")
    for one in data["claims"]:
        for told in (text, window):
            assert flat(one["sentence"]) in told
            assert flat(one["found"]).lower() in told.lower()
    for claimed, result in zip(routine.claims, found.claims, strict=True):
        assert flat(claim_in_short(wording, claimed, result.holds).told) in sheet
    for one in data["verdicts"]:
        for told in (text, window):
            assert flat(one["sentence"]) in told or found.shots[0].cannot_be_played
    for shot, there in zip(found.shots, data["shots"], strict=True):
        for lane, figures in zip(shot.lanes, there["lanes"], strict=True):
            _same_lane(wording, shot, lane, figures, text, sheet)
        if shot.pot is not None:
            lines = pot_lines(wording, shot.pot)
            short = pot_verdict(wording, shot.pot)
            assert short.good == there["pot"]["on"]
            assert short.good or flat(short.told.removeprefix("not on: ")) in text
            assert all(flat(line) in text for line in lines[: len(shot.pot.reasons)])


def _same_lane(
    wording: Wording, shot: ShotAnswer, lane: Lane, figures: dict, text: str, sheet: str
) -> None:
    """A lane's nearest balls and its end, in full in JSON and rounded alike everywhere else."""
    given = {one["ball"]: one["clearance_mm"] for one in figures["clearances"]}
    for one in near_lane(lane):
        assert room(abs(given[one.ball])) in flat(clearance(wording, one))
    if lane.clearances:
        first = near_lane(lane)[0]
        assert flat(clearance(wording, first)) in text
        short = lane_verdict(wording, lane, shot.passes)
        assert flat(short.told) in sheet and flat(short.beside) in sheet
        touched = any(one.clearance_mm < 0.0 for one in lane.clearances)
        through = [one.margin_mm for one in shot.passes if one.lane == lane.label and one.threads]
        if touched or not (lane.in_off or through):
            assert room(abs(given[first.ball])) in short.beside
        elif through and not lane.in_off:
            assert short.beside == room(min(through))
        assert short.good == (lane.clear and not lane.in_off)
    for told in ending(wording, lane):
        assert flat(told) in text and flat(told) in sheet


@pytest.mark.parametrize("seed", SEEDS[:2])
@pytest.mark.slow
def test_an_inch_sheet_says_no_length_of_the_table_in_mm(seed):
    routine = with_claims(random_routine(seed))
    sheet = text_of(handout_pdf([(routine, answer(routine))], unit="inch"))
    left = TIP_MM.sub(" ", sheet)
    assert not re.findall(r".{20}\d mm\b.{10}", left)


def test_what_comes_after_cushions_says_so():
    """ "Touches R3 by 39 mm" alone reads as a lane that misses its gap at once."""
    wording = Wording(Routine(balls=(Ball("r3", "red", 300.0, 300.0),)))
    told = words_of(wording)(Fact("touches-ball", ball="r3", mm=39.0, after_cushions=2))
    assert told == "touches red by 39 mm, after 2 cushions"


@pytest.mark.slow
def test_a_lane_that_touches_a_ball_ends_where_the_cue_ball_does():
    balls = (
        Ball("cue", "cue", 640.0, 1420.0), Ball("blue", "blue", 889.0, 1784.5),
        Ball("red", "red", 1180.0, 1250.0),
    )  # fmt: skip
    shot = Shot("s", "blue", "top-right", lanes=(LaneAsk("A", 0.0, 4.0),))
    routine = Routine(balls=balls, shots=(shot,))
    path = answer(routine).shots[0].lanes[0].path_mm
    x, y = path[len(path) // 2]
    moved = dataclasses.replace(balls[2], x_mm=float(x), y_mm=float(y))
    routine = dataclasses.replace(routine, balls=(*balls[:2], moved))
    (lane,) = answer(routine).shots[0].lanes
    wording = Wording(routine)
    rest = dict(lane.rests)["cue"]
    assert not lane.clear and rest != lane.stops_mm
    told = ending(wording, lane)[-1]
    assert told.startswith("after the touch stops ")
    assert wording.length(min(rest[0], 1778.0 - rest[0])) in told


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.slow
def test_the_engines_answers_hold_no_sentence(seed):
    """Every text field of every result is an id, a kind, or what the coach wrote."""
    routine = with_claims(random_routine(seed))
    found = answer(routine)
    assert len(set(texts_in(found))) > 10 and not sentences_in(found)
