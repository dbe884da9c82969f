"""The search for a step, on chances that follow a formula: what it finds can be worked out.

The formula stands in for the tries of `rate`; the set-ups are real ones.
"""

import math

import pytest

from engine.errors import OutOfRangeError
from engine.players import CLUB
from engine.progressions import a_bit_harder, a_chain, stepping
from engine.progressions.values import Rate
from engine.routine.edits import lock_ball
from tests.engine.progressions.test_turning_the_dials import PLAN, lengths, width

WIDE = width(PLAN, "pair")
FAR, LONG = lengths(PLAN)


@pytest.fixture
def known(monkeypatch):
    """Lets a formula of (gap's width, cue ball's way, pot's way) in mm be the chance."""

    def follow(formula, half=0.01, searched=0.0):
        def rate(routine, shot_id, gap_id, player, *, tries=0, seed=0):
            chance = formula(width(routine, "pair"), *lengths(routine))
            if chance is None:
                return None
            chance = min(max(chance + (searched if tries else 0.0), 0.0), 1.0)
            return Rate(chance, chance - half, chance + half, 0.1, 4.0, "high top")

        monkeypatch.setattr(stepping, "rate", rate)

    return follow


def harder(drop, ways, **more):
    return a_bit_harder(PLAN, "s", "pair", CLUB, drop, ways=ways, **more)


@pytest.mark.parametrize(("drop", "narrower"), [(0.15, 50.0), (-0.12, -40.0), (0.03, 10.0)])
def test_a_line_is_followed_to_its_place(known, drop, narrower):
    # 3 in 1000 for every millimetre
    known(lambda w, far, long: 0.5 + 0.003 * (w - WIDE), half=0.003)
    step = harder(drop, ("gap",))
    assert step.exact and step.way == "gap" and step.wanted == pytest.approx(0.5 - drop)
    assert width(step.routine, "pair") == pytest.approx(WIDE - narrower, abs=1.0)
    assert {ball for ball, _, _ in step.moves} == {"r1", "r2"}


def test_a_bent_curve_is_closed_in_on(known):
    known(lambda w, far, long: 0.9 * math.exp(-(((far - FAR) / 700.0) ** 2)), half=0.002)
    step = harder(0.2, ("distance",))
    # 0.7 = 0.9·exp(−u²): u = sqrt(ln(9/7))
    wanted = 700.0 * math.sqrt(math.log(9.0 / 7.0))
    assert step.exact and lengths(step.routine)[0] - FAR == pytest.approx(wanted, abs=2.0)


def test_a_cliff_is_no_place_to_stop_at(known):
    # all or nothing: the chance asked for lies between, and no set-up has it
    known(lambda w, far, long: 0.8 if w > WIDE - 37.25 else 0.3, half=0.01)
    step = harder(0.25, ("gap",))
    assert step is not None and not step.exact
    assert step.rate.chance in (0.8, 0.3), "the nearer side is told, and that it is not exact"


def test_where_no_strike_does_it_the_chance_is_none_at_all(known):
    known(lambda w, far, long: None if w < WIDE - 60.0 else 0.6 + 0.002 * (w - WIDE), half=0.004)
    step = harder(0.1, ("gap",))
    assert step.exact and width(step.routine, "pair") == pytest.approx(WIDE - 50.0, abs=2.0)
    # beyond the edge nothing is left between 0.48 and nothing
    beyond = harder(0.4, ("gap",))
    assert beyond is None or (not beyond.exact and beyond.rate.chance >= 0.47)


def test_a_dial_that_changes_nothing_gives_no_step_and_the_next_is_taken(known):
    known(lambda w, far, long: 0.6 - 0.0005 * (far - FAR))
    assert harder(0.1, ("gap",)) is None
    step = harder(0.1, ("gap", "distance"))
    assert step.way == "distance"
    assert lengths(step.routine)[0] - FAR == pytest.approx(200.0, abs=20.0)


def test_without_a_gap_only_the_pot_is_turned(known):
    known(lambda w, far, long: 0.6 - 0.0005 * (long - LONG))
    assert a_bit_harder(PLAN, "s", "", CLUB, 0.1, ways=("gap",)) is None, "no dial at all"
    step = a_bit_harder(PLAN, "s", "", CLUB, 0.1)
    assert step.way == "pot" and lengths(step.routine)[1] - LONG == pytest.approx(200.0, abs=25.0)


def test_a_dial_goes_no_farther_than_balls_can_be_set(known):
    # as narrow as the reds can lie, 147 mm less, would be needed
    known(lambda w, far, long: 0.5 + 0.0005 * (w - WIDE), half=0.001)
    assert harder(0.2, ("gap",)) is None
    # nothing can be moved at all
    locked = lock_ball(lock_ball(PLAN, "r1"), "r2")
    assert a_bit_harder(locked, "s", "pair", CLUB, 0.1, ways=("gap",)) is None


def test_what_a_coarse_dial_leaves_is_made_up_by_a_small_change_of_another(known):
    # a millimetre of gap is a hundredth; of the cue ball's way a seven-thousandth
    known(lambda w, far, long: 0.6 + 0.01 * (w - WIDE) - 0.00014 * (far - FAR), half=0.0004)
    step = harder(0.1034, ("gap", "distance"))
    assert step.exact and abs(step.rate.chance - step.wanted) <= 0.0004
    moved = {ball for ball, _, _ in step.moves}
    assert "cue" in moved and moved & {"r1", "r2"}, "the gap first, the rest by the cue ball"


def test_what_the_search_tells_too_high_is_taken_off_in_the_fine_change(known):
    # the search's own errors make it two hundredths too hopeful
    known(lambda w, far, long: 0.6 + 0.004 * (w - WIDE) - 0.0002 * (far - FAR), half=0.001,
          searched=0.02)  # fmt: skip
    step = harder(0.1, ("gap", "distance"))
    assert step.exact and step.rate.chance == pytest.approx(0.5, abs=0.001)


def test_nothing_fine_enough_leaves_the_nearest(known):
    known(lambda w, far, long: 0.6 + 0.02 * round(w - WIDE), half=1e-6)
    step = harder(0.105, ("gap",))
    assert not step.exact and step.rate.chance == pytest.approx(0.5, abs=0.011)


def test_a_chain_goes_on_until_no_further_step_can_be_made(known):
    known(lambda w, far, long: 0.5 + 0.003 * (w - WIDE), half=0.003)
    steps = a_chain(PLAN, "s", "pair", CLUB, 12, 0.15, ways=("gap",))
    # 0.50, 0.35, 0.20 and 0.05; the next would be below 2 %
    assert 2 <= len(steps) <= 3
    chances = [step.rate.chance for step in steps]
    assert chances == sorted(chances, reverse=True)
    assert {step.routine.title for step in steps} == {PLAN.title}, "no name of the engine's own"


def test_a_chain_ends_where_the_next_chance_could_not_be_told_from_none(known):
    known(lambda w, far, long: 0.5 + 0.003 * (w - WIDE), half=0.003)
    (only,) = a_chain(PLAN, "s", "pair", CLUB, 5, 0.25, ways=("gap",))
    assert only.exact and only.rate.chance == pytest.approx(0.25, abs=0.003)


def test_a_chain_ends_where_the_dials_end_and_refuses_what_it_cannot_begin(known):
    known(lambda w, far, long: 0.5 + 0.001 * (w - WIDE), half=0.002)
    assert len(a_chain(PLAN, "s", "pair", CLUB, 5, 0.1, ways=("gap",))) == 1
    with pytest.raises(OutOfRangeError, match="wanted 2 to 98 %"):
        a_chain(PLAN, "s", "pair", CLUB, 2, 0.6, ways=("gap",))
    for wrong in (0, 13):
        with pytest.raises(OutOfRangeError, match="wanted 1 to 12"):
            a_chain(PLAN, "s", "pair", CLUB, wrong)
    assert a_chain(PLAN, "s", "pair", CLUB, 2, 0.1, ways=("gap",), progress=lambda _: False) == ()
