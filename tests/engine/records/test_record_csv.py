"""Practice from CSV: read back as written, faults by line and column, nothing taken in by half."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.errors import RoutineFileError
from engine.records import MISSES, Practice, parse_practice, practice_csv

HEAD = "player,routine,step,date,attempts,made,missed_pot,missed_long,note\n"


def faults(text, **more):
    with pytest.raises(RoutineFileError) as caught:
        parse_practice(text, "p.csv", **more)
    return [str(fault) for fault in caught.value.faults]


lines = st.text(st.characters(blacklist_categories=("Cs", "Cc", "Zl", "Zp")), max_size=30)
practices = st.builds(
    lambda player, routine, day, attempts, share, step, misses, note: Practice(
        player, routine, day, attempts, round(attempts * share), step,
        dict(zip(MISSES, misses, strict=True))
        if sum(misses) <= attempts - round(attempts * share) else {},
        note,
    ),
    lines.map(lambda t: "#".join(t.split()) + "QZ"),
    lines.map(lambda t: f"Blue {' '.join(t.split())}".strip()),
    st.dates(), st.integers(1, 1000), st.floats(0, 1), st.integers(1, 99),
    st.lists(st.integers(0, 5), min_size=5, max_size=5), lines.map(lambda t: " ".join(t.split())),
)  # fmt: skip


@given(st.lists(practices, min_size=1, max_size=6))
@settings(max_examples=60, deadline=None)
def test_what_is_written_is_read_back(practice):
    practice = [one for one in practice if not one.player.lstrip().startswith("#")]
    if practice:
        assert list(parse_practice(practice_csv(practice))) == practice


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
