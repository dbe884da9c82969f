"""Tables and measured values seldom asked for: keys, odd names, spots that are not there."""

import pytest

from engine.errors import UnknownNameError
from engine.tables import MeasuredTable, load, load_table, readings
from engine.tables.measured import measured_limits

TABLE = load_table("snooker-12ft")


def test_equal_measurements_have_equal_keys_whatever_their_order():
    one = MeasuredTable("T", {"width_mm": 1774.0, "length_mm": 3590.0},
                        {"blue": (886.0, 1793.0), "pink": (887.0, 2690.0)},
                        {"top-left": 86.0, "top-right": 87.0}, note="March")  # fmt: skip
    other = MeasuredTable("T", {"length_mm": 3590.0, "width_mm": 1774.0},
                          {"pink": (887.0, 2690.0), "blue": (886.0, 1793.0)},
                          {"top-right": 87.0, "top-left": 86.0}, note="April")  # fmt: skip
    assert one.key == other.key and hash(one.key) == hash(other.key), "a note shapes no table"
    for changed in (
        MeasuredTable("U", one.values, one.spots_mm, one.pocket_openings_mm),
        MeasuredTable("T", {"width_mm": 1774.0}, one.spots_mm, one.pocket_openings_mm),
        MeasuredTable("T", one.values, {"blue": (886.0, 1793.0)}, one.pocket_openings_mm),
        MeasuredTable("T", one.values, one.spots_mm, {"top-left": 86.0}),
    ):
        assert changed.key != one.key


def test_what_the_standard_has_not_is_no_reading():
    own = MeasuredTable(
        values={"width_mm": 1774.0, "cue_ball_diameter_mm": 52.0},
        spots_mm={"blue": (886.0, 1793.0), "chalk": (1.0, 2.0)},
        pocket_openings_mm={"top-left": 86.0, "middle-left": 100.0},
    )
    found = {one.name: one for one in readings(own, TABLE)}
    assert list(found) == [
        "width_mm", "blue_spot_x_mm", "blue_spot_y_mm",
        "top-left_opening_mm", "middle-left_opening_mm",
    ]  # fmt: skip
    assert found["middle-left_opening_mm"].standard is TABLE.values["middle_opening_mm"]
    on_carom = readings(own, load_table("carom"))
    assert [one.name for one in on_carom] == ["width_mm"], "it has no pockets and no blue"


def test_a_size_is_believed_to_a_quarter_and_an_opening_as_far_as_the_rule_goes():
    assert measured_limits("width_mm", TABLE) == pytest.approx((0.75 * 1778.0, 1.25 * 1778.0))
    # without a size of its own a cue ball is measured against the other balls
    assert measured_limits("cue_ball_diameter_mm", TABLE) == pytest.approx(
        (0.75 * 52.5, 1.25 * 52.5)
    )
    low, high = (TABLE.values[f"opening_{end}_mm"].value for end in ("lowest", "highest"))
    for name in ("corner_opening_mm", "middle_opening_mm"):
        assert measured_limits(name, TABLE) == (low, high)
        assert low < TABLE.values[name].value < high


def test_a_spot_that_is_not_on_the_table_is_told_with_those_that_are():
    assert TABLE.spot("pink").y_mm == 2676.75
    with pytest.raises(UnknownNameError, match="no spot called 'white'; known here: yellow"):
        TABLE.spot("white")


def test_other_files_beside_the_tables_are_no_tables(tmp_path, monkeypatch):
    """A note or a folder left beside the data is passed over."""
    data = tmp_path / "data"
    data.mkdir()
    (data / "own.json").write_text('{"id": "own"}', encoding="utf-8")
    (data / "readme.txt").write_text("not a table", encoding="utf-8")
    (data / "__pycache__").mkdir()
    monkeypatch.setattr(load, "files", lambda _package: tmp_path)
    assert load._documents.__wrapped__() == {"own": {"id": "own"}}
