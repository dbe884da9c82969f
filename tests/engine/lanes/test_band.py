"""The band of a lane: the model's own doubt, from the likely ranges of its conditions."""

import math

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from engine.balls import Ball
from engine.conditions import CONDITION_FACTS, Conditions
from engine.lanes import lane
from engine.lanes.band import EVIDENCE_DEG, VARIED, lane_band, spread_conditions
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


@pytest.mark.parametrize("stated", [Conditions(), Conditions(rolling_resistance=0.03)])
def test_conditions_spread_over_their_ranges_the_stated_ones_among_them(stated):
    spread = spread_conditions(stated, 65)
    assert spread[0] == stated and len(spread) == 65
    for name in VARIED:
        low, high = CONDITION_FACTS[name].likely
        own = getattr(stated, name)
        # a value beyond its range moves the range as far as to hold it
        shift = max(own - high, 0.0)
        low, high = low + shift, high + shift
        values = np.array([getattr(one, name) for one in spread[1:]])
        assert low <= own <= high
        # one in each of 64 equal shares of the range: a Latin hypercube
        assert sorted(((values - low) / (high - low) * 64).astype(int)) == list(range(64))


def test_the_doubt_told_is_never_less_than_is_known_of_tables(monkeypatch):
    found = band(0.2, 7.0)
    monkeypatch.setattr("engine.lanes.band.VARIED", ())
    none = band(0.2, 7.0)
    way = lane(TABLE, Conditions(), BALLS, SHOT, POT, LaneAsk("A", 0.2, 7.0)).legs_mm[0]
    length = np.hypot(*np.diff(way, axis=0).T).sum()
    assert none.direction_deg == EVIDENCE_DEG < found.direction_deg
    floor = length * math.tan(math.radians(EVIDENCE_DEG))
    assert none.off_first_cushion_mm == pytest.approx(floor, rel=1e-9)
    assert found.off_first_cushion_mm > none.off_first_cushion_mm


def test_ball_that_never_arrives_has_no_band():
    weak = Conditions(pace_speeds_m_s=tuple(0.05 + 0.01 * k for k in range(10)))
    found = lane_band(TABLE, weak, BALLS, SHOT, POT, LaneAsk("A", 0.0, 1.0))
    assert found.outlines_mm == () and found.samples == 0 and math.isnan(found.rest_mm)
