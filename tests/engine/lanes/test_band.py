"""The band of a lane: the model's own doubt, from the likely ranges of its conditions."""

import math

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from engine.balls import Ball
from engine.conditions import CONDITION_FACTS, Conditions
from engine.lanes import lane
from engine.lanes.band import VARIED, lane_band, spread_conditions
from engine.potting import pot
from engine.routine.values import LaneAsk, Shot
from engine.tables import load_table

TABLE = load_table("snooker-12ft")
BALLS = (Ball("cue", "cue", 700.0, 1500.0), Ball("blue", "blue", 889.0, 1784.5))
SHOT = Shot("s", "blue", "top-right")
POT = pot(TABLE, Conditions(), BALLS, SHOT)


def band(tip, pace, **more):
    ask = LaneAsk("A", tip, pace)
    return lane_band(TABLE, Conditions(), BALLS, SHOT, POT, ask, **more)


@pytest.mark.parametrize(("tip", "pace"), [(0.4, 3.0), ("stun", 4.0), (-0.45, 4.0)])
def test_band_holds_the_stated_lane_up_to_its_shared_legs(tip, pace):
    found = band(tip, pace)
    nominal = lane(TABLE, Conditions(), BALLS, SHOT, POT, LaneAsk("A", tip, pace))
    area = unary_union([Polygon(outline) for outline in found.outlines_mm]).buffer(1.0)
    for leg in nominal.legs_mm[: found.legs]:
        assert area.covers(LineString(leg))


def test_band_is_the_same_every_time():
    one, two = band(-0.45, 7.0), band(-0.45, 7.0)
    assert one.first_cushion_mm == two.first_cushion_mm > 0.0
    assert all(np.array_equal(a, b) for a, b in zip(one.outlines_mm, two.outlines_mm, strict=True))


def test_band_is_as_wide_as_what_is_not_known(monkeypatch):
    whole = band(-0.45, 7.0).first_cushion_mm
    monkeypatch.setattr("engine.lanes.band.VARIED", ("sliding_friction",))
    some = band(-0.45, 7.0).first_cushion_mm
    monkeypatch.setattr("engine.lanes.band.VARIED", ())
    assert band(-0.45, 7.0).first_cushion_mm == 0.0 < some < whole


def test_conditions_spread_over_their_ranges_around_the_stated_ones():
    spread = spread_conditions(Conditions(), 64)
    assert spread[0] == Conditions() and len(spread) == 64
    for name in VARIED:
        low, high = CONDITION_FACTS[name].likely
        values = np.array([getattr(one, name) for one in spread])
        half = 0.5 * (high - low)
        stated = getattr(Conditions(), name)
        assert np.abs(values - stated).max() <= half + 1e-12
        allowed_high = min(stated + half, CONDITION_FACTS[name].allowed[1])
        assert values.max() - values.min() > 0.9 * (allowed_high - (stated - half))


def test_ball_that_never_arrives_has_no_band():
    weak = Conditions(pace_speeds_m_s=tuple(0.05 + 0.01 * k for k in range(10)))
    found = lane_band(TABLE, weak, BALLS, SHOT, POT, LaneAsk("A", 0.0, 1.0))
    assert found.outlines_mm == () and found.samples == 0 and math.isnan(found.rest_mm)
