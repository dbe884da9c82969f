"""Practice from CSV: read back as written, faults by line and column, nothing taken in by half."""

import csv
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.errors import RoutineFileError
from engine.records import MISSES, Practice, parse_practice, practice_csv
from engine.records.csv_files import COLUMNS

HEAD = "player,routine,step,date,attempts,made,missed_pot,missed_long,note\n"


def faults(text, **more):
    with pytest.raises(RoutineFileError) as caught:
        parse_practice(text, "p.csv", **more)
    return [str(fault) for fault in caught.value.faults]


#: Any text a practice can hold, more often one that a spreadsheet or a reader would trip over.
lines = st.text(
    st.one_of(
        st.sampled_from("'=+-@\t＝＋－＠#\";, \u2028\x85\x1c"),
        st.characters(blacklist_categories=("Cs",), blacklist_characters="\r\n\0"),
    ),
    max_size=30,
)
filled = lines.filter(str.strip)
practices = st.builds(
    lambda player, routine, day, attempts, share, step, misses, note: Practice(
        player, routine, day, attempts, round(attempts * share), step,
        dict(zip(MISSES, misses, strict=True))
        if sum(misses) <= attempts - round(attempts * share) else {},
        note,
    ),
    filled, filled, st.dates(), st.integers(1, 1000), st.floats(0, 1), st.integers(1, 99),
    st.lists(st.integers(0, 5), min_size=5, max_size=5), lines,
)  # fmt: skip


@given(st.lists(practices, min_size=1, max_size=6))
@settings(max_examples=300, deadline=None)
@pytest.mark.slow
def test_what_is_written_is_read_back_whatever_the_words(practice):
    assert list(parse_practice(practice_csv(practice))) == practice


@given(practices)
@settings(max_examples=300, deadline=None)
@pytest.mark.slow
def test_no_cell_that_is_written_begins_as_a_formula(practice):
    _, cells = csv.reader(practice_csv([practice]).split("\n")[:2])
    for column, cell in zip(COLUMNS, cells, strict=True):
        if column in ("player", "routine", "note"):
            assert not cell.startswith(tuple("=+-@\t\r\n＝＋－＠")), cell
        else:
            assert not cell.startswith("'"), "numbers and days stay what they are"


@pytest.mark.parametrize(
    ("words", "cell"),
    [
        ("=HYPERLINK(A1)", "'=HYPERLINK(A1)"), ("+1", "'+1"), ("-1", "'-1"), ("@A1", "'@A1"),
        ("\t=1", "'\t=1"), ("＝1+1", "'＝1+1"), ("＋1", "'＋1"), ("－1", "'－1"), ("＠x", "'＠x"),
        ("'=1", "''=1"), ("# first", "'# first"), (" early", "' early"), ("late ", "'late "),
        ("'t Hooft", "'t Hooft"), ("'", "'"), ("Blue = pink", "Blue = pink"), ("5-1", "5-1"),
    ],
)  # fmt: skip
def test_what_a_spreadsheet_would_run_or_lose_is_guarded_by_an_apostrophe(words, cell):
    practice = Practice("QZ", words, date(2026, 3, 1), 5, 3, note=words)
    row = next(csv.reader([practice_csv([practice]).splitlines()[1]]))
    assert (row[1], row[-1]) == (cell, cell)
    assert parse_practice(practice_csv([practice])) == (practice,)


def test_formulas_of_others_are_taken_in_as_the_text_they_are_written_as():
    text = HEAD + "QZ,=1+1,1,2026-03-01,10,6,,,@x\nQZ,'t Hooft,1,2026-03-01,10,6,,,'=2\n"
    first, second = parse_practice(text)
    assert (first.routine, first.note) == ("=1+1", "@x")
    assert (second.routine, second.note) == ("'t Hooft", "=2")
    assert faults(HEAD + "QZ,Blue,1,2026-03-01,=10,6,,,\n") == [
        'line 2, column attempts: is "=10", wanted a whole number'
    ]


def test_letters_that_end_lines_elsewhere_are_letters_of_a_note():
    text = HEAD + "QZ,Blue,1,2026-03-01,10,6,,,a\u2028b\x0cc\r\nQZ,Blue,1,2026-03-02,10,6,,,\r"
    assert [one.note for one in parse_practice(text)] == ["a\u2028b\x0cc", ""]


def test_a_head_row_of_thousands_of_columns_or_of_one_endless_cell_is_told():
    found = faults(",".join(f"column {n}" for n in range(5_000)) + "\nx\n")
    assert len(found) == 50
    assert faults('"' + "x" * 200_000 + '"\nx\n')[0].startswith("line 1: cannot be parted into")


def test_semicolons_part_cells_too():
    (one,) = parse_practice("player;routine;date;attempts;made\nQZ;Blue;2026-03-01;10;6\n")
    assert (one.made, one.day) == (6, date(2026, 3, 1))


def test_a_player_may_be_given_for_the_whole_file():
    text = "routine,date,attempts,made\nBlue,2026-03-01,10,6\n"
    assert parse_practice(text, player="QZ")[0].player == "QZ"
    assert faults(text) == [
        'line 1, the head row: has no column "player", wanted player, routine, date, attempts, made'
    ]


def test_every_fault_is_told_by_line_and_column():
    text = (
        HEAD
        + "QZ,Blue,1,2026-03-01,ten,6,,,\n"
        + "# a remark\n"
        + "QZ,Blue,1,1.3.2026,10,,,,\n"
        + "QZ,Blue,1,2026-03-01,10,12,,,\n"
        + "QZ,Blue,1,2026-03-01,10,6,3,4,\n"
        + ",Blue,0,2026-03-01,10,6,,,\n"
        + "QZ,Blue,1,2026-03-01,10,6,,,a,b,c\n"
        + '"QZ,Blue\n'
    )
    found = faults(text)
    assert found[:4] == [
        'line 2, column attempts: is "ten", wanted a whole number',
        "line 4, column made: is empty, wanted a number",
        'line 4, column date: is "1.3.2026", wanted a day as 2026-03-31 (year, month, day)',
        "line 5, column made: is 12, wanted 0 to 10, the attempts",
    ]
    assert found[4].startswith("line 6: is 7, wanted at most 4")
    assert found[5].startswith("line 7, column player: is ''")
    assert found[6].startswith("line 8: has 11 cells, wanted 9")
    assert found[7].startswith("line 9: cannot be parted")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is empty"),
        (HEAD, "has a head row only"),
        ("player,routin,date,attempts,made\nx\n", 'did you mean "routine"?'),
        ("player,player,routine,date,attempts,made\nx\n", 'has the column "player" twice'),
    ],
)
def test_a_file_at_fault_as_a_whole(text, says):
    assert any(says in fault for fault in faults(text))


def test_more_lines_than_a_record_can_have_are_refused_at_once():
    head = "player,routine,date,attempts,made\n"
    line = "QZ,Blue,2026-03-01,10,6\n"
    with pytest.raises(RoutineFileError) as told:
        parse_practice(head + line * 20_001, "all.csv")
    assert str(told.value) == "all.csv: the file: has 20001 rows, wanted at most 20000"
    assert len(parse_practice(head + line * 30)) == 30
