"""Pace as a stroke: what a tip off the middle leaves of its speed, and what the scale spans."""

import numpy as np
import pytest

from engine.conditions import Conditions
from engine.errors import OutOfRangeError

USUAL = Conditions()


def in_the_middle(paces):
    return np.asarray(USUAL.speed_mm_s(np.asarray(paces, dtype=float), 0.0)) / 1000.0


@pytest.mark.parametrize("off", [0.0, 0.1, 0.25, 0.4, 0.5])
@pytest.mark.parametrize("cue_kg", [0.45, 0.53, 0.6])
def test_the_ball_gets_what_the_formula_of_a_tip_says(off, cue_kg):
    """v = 2 V/(1 + m/M + (5/2)(b/R)² m/M): the project's physics notes (Pace and stroke), named
    there as the impulse of an elastic tip; see engine/DECISIONS.md for what speaks against it.
    """
    given = Conditions(cue_mass_kg=cue_kg)
    ratio = given.cue_ball_kg / cue_kg
    cue_speed = 2000.0 * (1.0 + ratio) / 2.0  # what gives 2 m/s in the middle
    wanted = 2.0 * cue_speed / (1.0 + ratio + 2.5 * off**2 * ratio)
    assert given.speed_mm_s(4.0, off) == pytest.approx(wanted, rel=1e-12)


def test_at_the_miscue_limit_the_ball_gets_an_eighth_less():
    """12 % less at half a radius with a 0.53 kg cue and a snooker ball: physics.md."""
    assert 1.0 - USUAL.tip_share(-0.5) == pytest.approx(0.12, abs=0.005)


def test_only_how_far_off_the_middle_counts_and_side_counts_as_height_does():
    assert (
        USUAL.speed_mm_s(4.0, 0.3) == USUAL.speed_mm_s(4.0, -0.3) == USUAL.speed_mm_s(4.0, 0, 0.3)
    )
    assert USUAL.speed_mm_s(4.0, 0.3, 0.4) == pytest.approx(USUAL.speed_mm_s(4.0, 0.5))


def test_one_or_many_are_the_same():
    paces, tips = np.array([1.0, 4.2, 10.0]), np.array([-0.5, 0.1, 0.4])
    many = USUAL.speed_mm_s(paces, tips, 0.1)
    assert list(many) == [USUAL.speed_mm_s(p, t, 0.1) for p, t in zip(paces, tips, strict=True)]
    assert list(USUAL.speed_mm_s(4.0, list(tips))) == list(USUAL.speed_mm_s(4.0, tips))


def test_a_pace_is_found_again_from_speed_and_tip():
    for pace in (1.0, 3.3, 5.7, 9.25, 10.0):
        speed = USUAL.speed_mm_s(pace, -0.37, 0.2)
        assert USUAL.pace_at(speed, -0.37, 0.2) == pytest.approx(pace, abs=1e-12)
    assert (USUAL.pace_at(1.0, 0.0), USUAL.pace_at(9e3, 0.0)) == (1.0, 10.0)
    with pytest.raises(OutOfRangeError, match="1 to 10"):
        USUAL.speed_mm_s(10.5, 0.0)


def test_the_scale_spans_the_published_speeds_of_cue_balls():
    """Alciatore, typical speeds (pool): soft touch < 0.45, slow 0.45-0.9, medium 0.9-1.9, fast
    1.9-3.2, power 3.2-4.5 m/s, powerful break 11-13; Carroll & Stevenage, Billiards Quarterly
    Review, July 1993: two players at nearly full effort on a billiard table under 13.4 m/s.
    """
    soft, medium, fast, power = (
        in_the_middle([1]),
        in_the_middle([2, 3]),
        in_the_middle([4, 5]),
        3.2,
    )
    assert (soft >= 0.45).all() and (soft < 0.9).all()
    assert (medium >= 0.9).all() and (medium < 1.9).all()
    assert (fast >= 1.9).all() and (fast < 3.2).all()
    assert in_the_middle(6) == pytest.approx(power), "from pace 6 on it is a power stroke"
    assert 4.5 < in_the_middle(8) < in_the_middle(10) < 11.0, "and 10 is no break-off of pool"
    assert list(in_the_middle(range(1, 11))) == [0.5, 1.0, 1.5, 2.0, 2.5, 3.2, 4.0, 5.0, 6.2, 8.0]
