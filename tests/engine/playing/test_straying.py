"""How a player's strikes stray: by stated spreads that grow with the stroke's speed."""

from dataclasses import replace

import numpy as np
import pytest

from engine.conditions import Conditions
from engine.players import CLUB
from engine.playing.straying import growth, strays

USUAL = Conditions()
ERRORS = np.random.default_rng(18).normal(size=(20_000, 4))


def spreads(tip, pace, player=CLUB):
    found = strays(USUAL, player, tip, pace, ERRORS)
    return [float(part.std()) for part in (found.aim_rad, found.tip_height, found.side)]


def test_at_pace_four_they_are_the_players_own():
    stated = [np.radians(CLUB.aim_deg), CLUB.tip_height, CLUB.side]
    assert spreads(0.0, 4.0) == pytest.approx(stated, rel=0.02)
    only_pace = replace(CLUB, aim_deg=0.0, tip_height=0.0, side=0.0)
    speed = strays(USUAL, only_pace, 0.0, 4.0, ERRORS).speed_mm_s
    assert speed.std() == pytest.approx(CLUB.pace * 500.0, rel=0.02), "half a metre a second a pace"


@pytest.mark.parametrize("pace", [1.0, 2.5, 6.0, 8.0, 10.0])
def test_half_of_each_is_always_there_and_half_grows_with_the_strokes_speed(pace):
    """Linear in speed: Schmidt et al., Psychological Review 86 (1979) 415; halves are a guess."""
    wanted = 0.5 + 0.5 * USUAL.speed_mm_s(pace, 0.0) / 2000.0
    assert growth(USUAL, pace) == pytest.approx(wanted)
    ratios = np.array(spreads(0.2, pace)) / np.array(spreads(0.2, 4.0))
    assert ratios == pytest.approx([wanted] * 3)


def test_many_paces_at_once_are_as_one_by_one():
    tips, paces = np.array([-0.4, 0.0, 0.4]), np.array([2.0, 5.5, 9.0])
    many = strays(USUAL, CLUB, tips, paces, ERRORS[:3])
    for k, (tip, pace) in enumerate(zip(tips, paces, strict=True)):
        one = strays(USUAL, CLUB, float(tip), float(pace), ERRORS[k : k + 1])
        for part in ("aim_rad", "tip_height", "side", "speed_mm_s"):
            assert getattr(many, part)[k] == pytest.approx(getattr(one, part)[0], rel=1e-12)


def test_a_tip_that_strays_changes_the_balls_speed_as_well():
    only_tip = replace(CLUB, aim_deg=0.0, side=0.0, pace=0.0)
    found = strays(USUAL, only_tip, -0.4, 4.0, ERRORS)
    struck = USUAL.speed_mm_s(4.0, -0.4 + found.tip_height)
    assert found.speed_mm_s == pytest.approx(struck - USUAL.speed_mm_s(4.0, -0.4), abs=1e-9)
    lower = found.tip_height < 0.0
    assert (found.speed_mm_s[lower] < 0.0).all(), "lower still is slower still"


def test_no_stroke_is_softer_or_harder_than_the_scale():
    wild = replace(CLUB, pace=10.0, tip_height=0.0, side=0.0)
    for pace in (1.0, 10.0):
        meant = USUAL.speed_mm_s(pace, 0.0)
        speed = meant + strays(USUAL, wild, 0.0, pace, ERRORS).speed_mm_s
        assert speed.min() >= 500.0 - 1e-9 and speed.max() <= 8000.0 + 1e-9
