"""The full-size table against the published standard.

Source of every figure here unless said otherwise: Official Rules of Snooker, WPBSA, section 1.
"""

import pytest

from engine.errors import OutOfRangeError, UnknownNameError
from engine.tables import load_table, table_ids
from engine.units import mm_from_inch


@pytest.fixture(scope="module")
def table():
    return load_table("snooker-12ft")


def test_playing_area_is_the_published_one_in_both_units(table):
    assert (table.width_mm, table.length_mm) == (1778.0, 3569.0)
    # 5 ft 10 in by 11 ft 8 1/2 in, each +-13 mm.
    assert table.width_mm == pytest.approx(mm_from_inch(70), abs=1)
    assert table.length_mm == pytest.approx(mm_from_inch(140.5), abs=1)
    assert table.values["width_mm"].tolerance == table.values["length_mm"].tolerance == 13
    assert table.length_mm != 2 * table.width_mm


def test_baulk_line_and_d(table):
    assert table.baulk_y_mm == 737 == pytest.approx(mm_from_inch(29), abs=0.5)
    assert table.d_radius_mm == 292 == pytest.approx(mm_from_inch(11.5), abs=0.5)


@pytest.mark.parametrize(
    ("spot", "x", "y"),
    [
        ("yellow", 889 + 292, 737),  # right corner of the D seen from baulk
        ("green", 889 - 292, 737),
        ("brown", 889, 737),
        ("blue", 889, 3569 / 2),
        ("pink", 889, 3569 * 3 / 4),
        ("black", 889, 3569 - 324),
    ],
)
def test_spots(table, spot, x, y):
    assert (table.spot(spot).x_mm, table.spot(spot).y_mm) == (x, y)


def test_pink_stands_892_25_mm_from_the_top_face(table):
    assert table.length_mm - table.spot("pink").y_mm == 892.25


def test_every_number_carries_source_and_confidence(table):
    assert len(table.values) >= 20
    for name, value in table.values.items():
        assert value.source, name
        assert value.confidence in {"A", "B", "D", "Mem", "M"}, name
    assert table.values["corner_opening_mm"].confidence == "Mem"
    assert table.values["width_mm"].confidence == "A"
    assert "WPBSA, section 1" in table.values["width_mm"].source


def test_default_corner_opening_is_three_and_a_half_inches(table):
    # From memory: no width stands in the rules.
    assert table.pocket("top-left").opening_mm == pytest.approx(mm_from_inch(3.5))
    assert table.pocket("middle-left").opening_mm == 104


def test_a_coachs_measured_opening_replaces_one_pockets_default():
    own = load_table("snooker-12ft", {"top-left": 86.0})
    assert own.pocket("top-left").opening_mm == 86
    assert own.pocket("top-right").opening_mm == pytest.approx(88.9)
    assert own.values["top-left_opening_mm"].confidence == "M"


def test_the_same_arguments_give_the_same_object():
    assert load_table("snooker-12ft", {"top-left": 86}) is load_table(
        "snooker-12ft", {"top-left": 86.0}
    )
    assert "snooker-12ft" in table_ids()


def test_unknown_table_or_pocket_lists_the_known_ones():
    with pytest.raises(UnknownNameError, match="snooker-12ft"):
        load_table("snooker-13ft")
    with pytest.raises(UnknownNameError, match="bottom-left"):
        load_table("snooker-12ft", {"middle": 100})


@pytest.mark.parametrize("opening", [20, 500, float("nan"), float("inf"), "wide", True, None])
def test_an_impossible_opening_is_refused(opening):
    with pytest.raises(OutOfRangeError, match="opening of pocket top-left"):
        load_table("snooker-12ft", {"top-left": opening})
