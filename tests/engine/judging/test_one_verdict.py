"""Whoever asks gets the same verdict: lane, reach, claim and tolerance on random strikes.

Shapely measures the lanes on show, the compiled scan the thousands: on the same polyline they
agree within a millionth of a millimetre. `BAIZEWRIGHT_FULL=1` asks 20,000 times.
"""

import os

import numpy as np
import pytest

from engine.answers import answer_shot
from engine.answers.claims import judge_claims
from engine.answers.misplaced import judges_of
from engine.judging import outcomes
from engine.judging.rules import REASONS
from engine.playing import gaps_in_order, laid_out_of
from tests.engine.judging.shaken import shaken

FULL = os.environ.get("BAIZEWRIGHT_FULL") == "1"
STRIKES, EACH = (20_000, 20) if FULL else (300, 5)
STROKE = ("tip_height", "pace")


@pytest.mark.slow
def test_lane_reach_claim_and_tolerance_give_one_verdict():
    asked = threaded = 0
    for routine in shaken(STRIKES, EACH, 5 if FULL else 3):
        (shot,) = routine.shots
        found = answer_shot(routine, shot.id)
        claims = judge_claims(routine, (found,), ())
        places = np.array([ball.centre_mm for ball in routine.balls])[None]
        tolerance = {one.claim: bool(one.holds(places)[0]) for one in judges_of(routine)}
        for result in claims:
            claim = routine.claims[result.index]
            assert tolerance[result.index] == result.holds, (routine.title, claim, result.found)
        for gap in routine.gaps:
            scene = laid_out_of(routine, shot.id, gaps_in_order(routine, gap.id))
            tips, paces = ([getattr(one, what) for one in shot.lanes] for what in STROKE)
            tries = outcomes(scene, tips, scene.conditions.speed_mm_s(paces, tips))
            for k, one in enumerate(shot.lanes):
                (lane,) = [p for p in found.passes if (p.gap, p.lane) == (gap.id, one.label)]
                where = (routine.title, gap.id, one, lane, tries.margin_mm[k])
                assert lane.kind == REASONS[tries.reason[k]], where
                assert lane.threads == tries.threads[k], where
                margin = lane.margin_mm if lane.threads else min(lane.margin_mm, 0.0)
                assert margin == pytest.approx(tries.margin_mm[k], abs=1e-6, nan_ok=True), where
                asked += 1
                threaded += lane.threads
    assert asked >= STRIKES and threaded > asked / 50
