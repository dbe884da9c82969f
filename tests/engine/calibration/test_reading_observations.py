"""Observation files: what is read, and every fault told by line and column."""

import pytest

from engine.calibration import COLUMNS, KINDS, parse_observations
from engine.calibration.form import form_csv, form_parts
from engine.conditions import usual_conditions
from engine.errors import RoutineFileError
from engine.tables import load_table, table_ids

GOOD = """kind,distance_mm,time_s,then_mm,pace,note
roll,1500,2.9,120,,slow side
# a remark

pace-time,2800,1.4,,5,
"""


def faults(text):
    with pytest.raises(RoutineFileError) as told:
        parse_observations(text, "o.csv")
    return str(told.value).splitlines()


def test_rows_are_read_with_their_lines():
    first, second = parse_observations(GOOD)
    assert (first.kind, first.line, first.number("then_mm")) == ("roll", 2, 120.0)
    assert first.text("note") == "slow side" and "pace" not in first.cells
    assert (second.kind, second.line, second.number("pace")) == ("pace-time", 5, 5.0)


def test_semicolons_and_decimal_commas_are_understood():
    rows = parse_observations("\ufeffkind;distance_mm;time_s\nroll;1500,5;2,9\n")
    assert rows[0].number("distance_mm") == 1500.5 and rows[0].number("time_s") == 2.9


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("", "o.csv: the file: is empty, wanted a head row"),
        ("# nothing\n\n", "o.csv: the file: is empty, wanted a head row"),
        ("kind,time_s\n", "o.csv: the file: has a head row only"),
        ("time_s\n2\n", 'line 1, the head row: has no column "kind"'),
        ("kind,times\nroll,2\n", 'did you mean "time_s"?'),
        ("kind,time_s,time_s\n", 'has the column "time_s" twice'),
        ("kind,,time_s\nroll,1,2\n", "has no name over column 2"),
        ("kind,time_s\nrol,2\n", 'line 2, column kind: is "rol", wanted one of roll,'),
        ("kind,time_s\n,2\n", "line 2, column kind: is empty"),
        ("kind,distance_mm,time_s\nroll,1500,two\n", 'line 2, column time_s: is "two", wanted a'),
        ("kind,distance_mm,time_s\nroll,1500,nan\n", 'column time_s: is "nan"'),
        ("kind,distance_mm,time_s\nroll,,2\n", "line 2, column distance_mm: is empty, wanted a"),
        ("kind,distance_mm,time_s\nroll,1500,2,7\n", "line 2: has 4 cells, wanted 3"),
        ('kind,note\nroll,"open\n', "line 2: cannot be parted into cells"),
        (
            "kind,pace,start_mm\nup-and-down,3,700\n",
            "column cushions: is empty, wanted cushions and rest_mm or lengths",
        ),
        (
            "kind,pace,cue_x_mm,cue_y_mm,ball_x_mm,ball_y_mm,cushion,at_mm\n"
            "lane,3,1,2,3,4,left,5\n",
            "column pocket: is empty, wanted pocket or to_x_mm and to_y_mm",
        ),
    ],
)
def test_a_malformed_file_says_where_and_what_is_wanted(text, wanted):
    told = faults(text)
    assert any(wanted in line for line in told), told
    assert all(line.startswith("o.csv: ") for line in told)


def test_every_fault_is_told_at_once():
    told = faults("kind,distance_mm,time_s\nroll,x,y\nbounce,1,2\nroll,1500,\n")
    assert len(told) == 4
    assert [line.split(":")[1].strip() for line in told] == [
        "line 2, column distance_mm", "line 2, column time_s", "line 3, column kind",
        "line 4, column time_s",
    ]  # fmt: skip


def test_too_many_rows_are_no_observations():
    rows = "roll,1500,2\n" * 501
    assert "has 501 rows, wanted at most 500" in faults("kind,distance_mm,time_s\n" + rows)[0]


def test_kinds_name_only_columns_there_are():
    for kind in KINDS.values():
        named = {*kind.needs, *kind.optional, *kind.measured, kind.result}
        named |= {column for one in kind.either for column in one}
        assert named <= set(COLUMNS), kind.id


@pytest.mark.parametrize("table_id", table_ids())
def test_the_form_fits_every_table_and_lacks_only_results(table_id):
    table = load_table(table_id)
    conditions = usual_conditions(table)
    parts = form_parts(table, conditions)
    assert [part.kind.id for part in parts] == list(KINDS)
    for part in parts:
        assert set(part.kind.needs) <= set(part.columns)
        assert part.rows[-1] == ("",) * len(part.columns)
    told = faults(form_csv(table, conditions, {"roll": "Roll a ball."}))
    assert told and all("is empty" in line for line in told)
