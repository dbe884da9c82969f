"""Strike and cloth in closed form against published rows and high-precision arithmetic."""

import math

import numpy as np
import pytest
from mpmath import mp, mpf

from engine.errors import OutOfRangeError
from engine.motion import cloth
from engine.motion.strike import check_tip, struck_spin

G = 9810.0


def test_stun_ball_at_2_m_s_rolls_when_derived():
    # check row 2, derived in closed form: slide to roll after 2v/(7 mu g) (Coriolis 1835)
    assert cloth.slide_seconds(2000.0, 0.2, G) == pytest.approx(0.2912, rel=0.005)
    assert cloth.slide_distance_mm(2000.0, 0.0, 0.2, G) == pytest.approx(499.3, rel=0.005)
    assert cloth.rolling_speed_mm_s(2000.0, 0.0) == pytest.approx(1428.6, rel=0.005)


def test_tip_two_fifths_above_centre_rolls_at_once():
    # check row 3: Coriolis 1835
    spin = struck_spin(1500.0, 0.0, 1.0, 26.25, 0.4, 0.0, 0.0)
    assert spin[0] == pytest.approx(-1500.0 / 26.25, rel=1e-14)
    assert cloth.slide_distance_mm(1500.0, 2.5 * 0.4, 0.2, G) == pytest.approx(0.0, abs=1e-9)


def test_tip_at_the_upper_limit_overspins():
    # check row 4, derived; limit of 0.5 R published (Alciatore)
    s = 2.5 * 0.5
    assert s == 1.25
    assert cloth.slide_seconds(2000.0 * (1 - s), 0.2, G) == pytest.approx(0.0728, rel=0.005)
    assert cloth.slide_distance_mm(2000.0, s, 0.2, G) == pytest.approx(150.8, rel=0.005)
    assert cloth.rolling_speed_mm_s(2000.0, s) == pytest.approx(2142.9, rel=0.005)


def test_tip_at_the_lower_limit_loses_its_backspin_where_derived():
    # check row 5, derived in closed form
    assert cloth.no_spin_distance_mm(2000.0, 0.5, 0.2, G) == pytest.approx(764.5, rel=0.005)
    assert cloth.slide_distance_mm(2000.0, -1.25, 0.2, G) == pytest.approx(889.3, rel=0.005)
    assert cloth.rolling_speed_mm_s(2000.0, -1.25) == pytest.approx(714.3, rel=0.005)
    speed, ratio = cloth.state_after_mm(764.5, 2000.0, -0.5, 0.2, 0.01, G)
    assert speed == pytest.approx(1000.0, rel=0.005)
    assert ratio == pytest.approx(0.0, abs=0.005)
    _, ratio = cloth.state_after_mm(566.3, 2000.0, -0.5, 0.2, 0.01, G)
    assert ratio == pytest.approx(-0.625, rel=0.005)


def test_rolling_ball_at_1_m_s_stops_where_derived():
    # check row 16, derived
    assert cloth.roll_distance_mm(1000.0, 0.010, G) == pytest.approx(5097.0, rel=0.005)
    assert cloth.roll_seconds(1000.0, 0.010, G) == pytest.approx(10.194, rel=0.001)


def test_stun_tip_height_undoes_the_way_there():
    distances, speeds = np.meshgrid([100.0, 400.0, 900.0], [1500.0, 2500.0, 4000.0])
    tips = cloth.stun_tip_height(distances, speeds, 0.21, G)
    reachable = np.isfinite(tips)
    assert reachable.any() and not reachable.all()
    assert np.all(tips[reachable] < 0)
    _, ratio = cloth.state_after_mm(
        distances[reachable], speeds[reachable], tips[reachable], 0.21, 0.0127, G
    )
    assert np.abs(ratio).max() < 1e-9


def test_stun_tip_height_is_nan_beyond_half_v_squared_over_mu_g():
    limit = 1000.0**2 / (2 * 0.21 * G)
    assert math.isfinite(cloth.stun_tip_height(limit * 0.999, 1000.0, 0.21, G))
    assert math.isnan(cloth.stun_tip_height(limit * 1.001, 1000.0, 0.21, G))


def test_state_after_keeps_the_energy_balance_in_50_digits():
    # mpmath: speed while sliding from v² − 2 μ g d, spin from friction's torque
    mp.dps = 50
    v, tip, mu, d = mpf(1800), mpf("-0.35"), mpf("0.21"), mpf(300)
    u = mp.sqrt(v**2 - 2 * mu * G * d)
    rim = mpf(5) / 2 * tip * v + mpf(5) / 2 * (v - u)
    speed, ratio = cloth.state_after_mm(300.0, 1800.0, -0.35, 0.21, 0.0127, G)
    assert float(speed) == pytest.approx(float(u), rel=1e-13)
    assert float(ratio) == pytest.approx(float(rim / u), rel=1e-12)


def test_overspun_ball_speeds_up_before_it_rolls():
    speed, ratio = cloth.state_after_mm(50.0, 2000.0, 0.5, 0.2, 0.01, G)
    assert speed == pytest.approx(math.sqrt(2000.0**2 + 2 * 0.2 * G * 50.0))
    assert 1.0 < ratio < 1.25


def test_a_ball_that_stops_short_has_no_speed_left():
    speed, ratio = cloth.state_after_mm(9000.0, 500.0, 0.0, 0.21, 0.0127, G)
    assert speed == 0.0
    assert ratio == 1.0


def test_side_to_the_right_turns_the_ball_anticlockwise_and_level_side_does_not_tilt():
    wx, wy, wz = struck_spin(2000.0, 0.0, 1.0, 26.25, 0.0, 0.3, 0.0)
    assert wz == pytest.approx(2.5 * 0.3 * 2000.0 / 26.25)
    assert (wx, wy) == (0.0, 0.0)


def test_raised_cue_with_side_tilts_the_spin_axis():
    level = struck_spin(2000.0, 1.0, 0.0, 26.25, 0.0, 0.3, 0.0)
    raised = struck_spin(2000.0, 1.0, 0.0, 26.25, 0.0, 0.3, math.radians(30))
    assert level[0] == 0.0
    assert raised[0] == pytest.approx(2.5 * 0.3 * 2000.0 / 26.25 * math.tan(math.radians(30)))


@pytest.mark.parametrize(("height", "side"), [(0.51, 0.0), (-0.6, 0.0), (0.4, 0.4), (math.nan, 0)])
def test_tip_beyond_the_limit_is_refused(height, side):
    with pytest.raises(OutOfRangeError, match="tip offset"):
        check_tip(height, side, 0.5)
