"""A coach's own table: measured values in place, spots that follow, flags, refusals, files."""

import pytest

from engine.errors import OutOfRangeError, RoutineFileError, UnknownNameError
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine
from engine.storage import (
    dump_measured_table,
    dump_routine,
    load_measured_table,
    parse_measured_table,
    parse_routine,
    save_measured_table,
)
from engine.tables import MeasuredTable, load_table, readings, table_ids

OWN = MeasuredTable(
    "Table 2, Thistlewharf",
    {"width_mm": 1774.0, "length_mm": 3590.0, "baulk_y_mm": 740.0, "cushion_nose_mm": 38.0},
    {"blue": (886.0, 1793.0)},
    {"top-left": 86.0},
    "measured in March",
)


def test_measured_values_stand_in_place_of_the_published_ones():
    table = load_table("snooker-12ft", measured=OWN)
    assert (table.width_mm, table.length_mm, table.baulk_y_mm) == (1774, 3590, 740)
    assert table.measured == "Table 2, Thistlewharf"
    assert table.values["width_mm"].confidence == "M"
    assert "Thistlewharf" in table.values["width_mm"].source
    assert table.pocket("top-left").opening_mm == 86
    assert table.pocket("top-right").opening_mm == 88.9
    assert load_table("snooker-12ft", measured=OWN) is table


def test_spots_follow_measured_sizes_unless_measured_themselves():
    table = load_table("snooker-12ft", measured=OWN)
    spot = {one.id: (one.x_mm, one.y_mm) for one in table.spots}
    assert spot["blue"] == (886.0, 1793.0)
    assert spot["brown"] == (887.0, 740.0)
    assert spot["yellow"] == (887.0 + 292, 740.0)
    assert spot["pink"] == (887.0, 0.75 * 3590)
    assert spot["black"] == (887.0, 3590 - 324)


@pytest.mark.parametrize("table_id", table_ids())
def test_spots_follow_sizes_to_where_the_standard_has_them(table_id):
    base = load_table(table_id)
    same = MeasuredTable("the standard", {"width_mm": base.width_mm, "length_mm": base.length_mm})
    for ours, theirs in zip(load_table(table_id, measured=same).spots, base.spots, strict=True):
        assert (ours.x_mm, ours.y_mm) == pytest.approx((theirs.x_mm, theirs.y_mm), abs=1e-3)


def test_readings_flag_what_leaves_the_standards_tolerance():
    found = {one.name: one for one in readings(OWN, load_table("snooker-12ft"))}
    assert found["width_mm"].within is True  # 4 mm off, 13 allowed (WPBSA, section 1)
    assert found["length_mm"].within is False  # 21 mm off
    assert found["length_mm"].off == 21
    assert found["baulk_y_mm"].within is None  # no tolerance in the rule
    assert found["blue_spot_x_mm"].off == -3
    assert found["top-left_opening_mm"].off == pytest.approx(-2.9)


def test_a_measured_nose_raises_the_cushion():
    routine = Routine(measured_table=OWN)
    assert table_of(routine).measured == OWN.title
    assert conditions_of(routine).cushion_height_ratio == pytest.approx(38.0 / 26.25)
    stated = Routine(measured_table=OWN, conditions={"cushion_height_ratio": 1.36})
    assert conditions_of(stated).cushion_height_ratio == 1.36


@pytest.mark.parametrize(
    ("measured", "error", "words"),
    [
        (MeasuredTable(values={"widht_mm": 1774.0}), UnknownNameError, "width_mm"),
        (MeasuredTable(values={"width_mm": 900.0}), OutOfRangeError, "Measure it again"),
        (MeasuredTable(values={"width_mm": float("nan")}), OutOfRangeError, "width_mm"),
        (MeasuredTable(spots_mm={"white": (1.0, 2.0)}), UnknownNameError, "yellow"),
        (MeasuredTable(spots_mm={"blue": (9000.0, 2.0)}), OutOfRangeError, "on the bed"),
        (MeasuredTable(pocket_openings_mm={"top": 86.0}), UnknownNameError, "top-left"),
    ],
)
def test_what_no_tape_could_read_is_refused(measured, error, words):
    with pytest.raises(error, match=words):
        load_table("snooker-12ft", measured=measured)


def test_a_table_file_is_written_and_read_back(tmp_path):
    path = tmp_path / "own.json"
    save_measured_table("snooker-12ft", OWN, path)
    assert load_measured_table(path) == ("snooker-12ft", OWN)
    text = dump_measured_table("snooker-12ft", OWN)
    assert text == path.read_text(encoding="utf-8")
    assert '"width_mm": 1774,' in text


def test_a_routine_holds_its_measured_table():
    routine = Routine("On our table", measured_table=OWN)
    again = parse_routine(dump_routine(routine))
    assert again.measured_table == OWN
    assert "measured_table" not in dump_routine(Routine())


@pytest.mark.parametrize(
    ("body", "fault"),
    [
        ('"values": {"width_mm": "wide"}', 'values.width_mm: is "wide", wanted a number'),
        ('"values": {"width_mm": 500}', "values.width_mm: is 500"),
        ('"values": {"breadth_mm": 500}', "values.breadth_mm: is"),
        ('"spots_mm": {"blue": [1]}', "spots_mm.blue: is a list of 1, wanted"),
        ('"spots_mm": {"blue": [1, "x"]}', 'spots_mm.blue[1]: is "x", wanted'),
        ('"spots_mm": {"blues": [1, 2]}', 'did you mean "blue"'),
        ('"pocket_openings_mm": {"top-left": 20}', "pocket_openings_mm.top-left: is 20"),
        ('"title": 7', "title: is 7, wanted a text in quotes"),
    ],
)
def test_a_faulty_table_file_tells_every_fault_by_its_path(body, fault):
    head = '"format": "baizewright-table", "version": 1, "table": "snooker-12ft"'
    text = "{" + head + ", " + body + "}"
    with pytest.raises(RoutineFileError) as told:
        parse_measured_table(text, "own.json")
    assert fault in str(told.value)
    head = '"format": "baizewright-routine", "version": 1'
    inside = "{" + head + ', "measured_table": {' + body + "}}"
    with pytest.raises(RoutineFileError) as told:
        parse_routine(inside, "routine.json")
    assert fault.split(":")[0] in str(told.value)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "is empty, wanted a measured table"),
        ('{"format": "baizewright-routine", "version": 1}', 'wanted "baizewright-table"'),
        ('{"format": "baizewright-table", "version": 9, "table": "carom"}', "newer Baizewright"),
        ('{"format": "baizewright-table", "version": 1}', "table: is missing"),
        (
            '{"format": "baizewright-table", "version": 1, "table": "carrom"}',
            'did you mean "carom"',
        ),
    ],
)
def test_what_is_no_table_file_is_refused(text, fault):
    with pytest.raises(RoutineFileError, match=fault.replace("?", r"\?")):
        parse_measured_table(text)
