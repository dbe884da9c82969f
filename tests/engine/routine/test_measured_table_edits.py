"""Measuring a routine's own table, one tape reading at a time; the old routine stays."""

import pytest

from engine.balls import Ball
from engine.errors import BaizewrightError, OutOfRangeError
from engine.routine.context import table_of
from engine.routine.edits.own_table import (
    set_measured_opening,
    set_measured_size,
    set_measured_spot,
    set_measured_table,
)
from engine.routine.values import Routine
from engine.tables import MeasuredTable

BASE = Routine("Pink and back", balls=(Ball("cue", "cue", 1760.0, 900.0),))


def test_a_size_is_measured_changed_and_taken_back():
    wide = set_measured_size(BASE, "width_mm", 1790.0)
    assert wide.measured_table.values == {"width_mm": 1790.0} and table_of(wide).width_mm == 1790.0
    both = set_measured_size(wide, "length_mm", 3560.0)
    assert both.measured_table.values == {"width_mm": 1790.0, "length_mm": 3560.0}
    again = set_measured_size(both, "width_mm", 1785.0)
    assert dict(again.measured_table.values) == {"width_mm": 1785.0, "length_mm": 3560.0}
    back = set_measured_size(set_measured_size(again, "width_mm", None), "length_mm", None)
    assert back.measured_table is None, "nothing measured is no measured table"
    assert back == BASE and BASE.measured_table is None


def test_a_spot_and_an_opening_are_measured_beside_the_sizes():
    found = set_measured_size(BASE, "baulk_y_mm", 735.0)
    found = set_measured_spot(found, "blue", (891.0, 1780.0))
    found = set_measured_opening(found, "top-left", 86.0)
    table = table_of(found)
    assert (table.spot("blue").x_mm, table.spot("blue").y_mm) == (891.0, 1780.0)
    assert table.pocket("top-left").opening_mm == 86.0 and table.baulk_y_mm == 735.0
    found = set_measured_spot(found, "blue", None)
    assert table_of(found).spot("blue").x_mm == 889.0
    assert set_measured_opening(found, "top-left", None).measured_table.pocket_openings_mm == {}


def test_one_opening_alone_is_kept_as_measured():
    found = set_measured_opening(BASE, "middle-right", 101.0)
    assert found.measured_table == MeasuredTable(pocket_openings_mm={"middle-right": 101.0})
    assert set_measured_opening(found, "middle-right", None) == BASE


@pytest.mark.parametrize(
    ("edit", "name", "value", "says"),
    [
        (set_measured_size, "width_mm", 900.0, "wanted a number from 1333.5 to 2222.5 mm"),
        (set_measured_size, "breadth_mm", 1780.0, "a size of this table: width_mm"),
        (set_measured_spot, "blue", (891.0, 9000.0), "place of the blue spot is 9000"),
        (set_measured_spot, "white", (1.0, 2.0), "a spot of this table: yellow"),
        (set_measured_opening, "top-left", 20.0, "opening of pocket top-left is 20"),
        (set_measured_opening, "top", 86.0, "a pocket of this table"),
    ],
)
def test_what_no_tape_could_have_read_is_refused(edit, name, value, says):
    with pytest.raises(BaizewrightError) as told:
        edit(BASE, name, value)
    assert says in str(told.value) and BASE.measured_table is None


def test_a_table_measured_elsewhere_is_put_in_whole_or_not_at_all():
    own = MeasuredTable("Table 2, Thistlewharf", {"width_mm": 1774.0, "length_mm": 3590.0})
    found = set_measured_table(BASE, own)
    assert found.measured_table is own and table_of(found).measured == own.title
    assert set_measured_table(found, None) == BASE
    assert set_measured_table(found, MeasuredTable("only a title")).measured_table is None
    with pytest.raises(OutOfRangeError, match="measured length_mm is 5"):
        set_measured_table(found, MeasuredTable("wrong", {"length_mm": 5.0}))
