"""The placement table as text: marks with their caution, in both units."""

from designer.words.placement import placement_text
from engine.balls import Ball
from engine.routine.values import ClothMark, Routine

CROSS = ClothMark("mark-1", "cross", 300.0, 3000.0, note="chalk here")
LINE = ClothMark("mark-2", "line", 200.0, 900.0, 500.0, 1000.0)
MARKED = Routine(title="Marked", cloth_marks=(CROSS, LINE))
ROUTINE = Routine(
    title="Round the black",
    balls=(
        Ball("cue", "cue", 600.0, 1000.2),
        Ball("black", "black", 889.0, 3245.0),
        Ball("red-1", "red", 1500.0, 3300.0, label="1"),
    ),
)


def test_marks_are_listed_with_the_caution_and_only_if_there_are_any():
    text = placement_text(MARKED)
    assert "with the club’s permission; nothing adhesive" in text
    assert "1 cross" in text and "chalk here" in text and "569 mm" in text
    assert "2 line from" in text and "2 line to" in text
    assert "mark-1" not in text, "a file's id is no name for a reader"
    assert "permission" not in placement_text(Routine())
    assert '11 13/16"' in placement_text(MARKED, "inch")


def test_text_in_millimetres_lines_up():
    lines = placement_text(ROUTINE).splitlines()
    assert lines[0] == "Round the black"
    assert lines[3:] == [
        "ball   mark  from cushion  centre    edge  from cushion   centre    edge  spot",
        "cue    Cue   left          600 mm  574 mm  bottom        1000 mm  974 mm",
        "black  Bk    left          889 mm  863 mm  top            324 mm  298 mm  black spot",
        "red-1  1     right         278 mm  252 mm  top            269 mm  243 mm",
    ]


def test_text_in_inches_reads_as_the_rules_give_it():
    # 12 3/4 in from the top face: Official Rules of Snooker, WPBSA, section 1.
    black = placement_text(ROUTINE, "inch").splitlines()[5]
    assert black.split("  ")[0] == "black"
    assert '12 3/4"' in black
    assert '35"' in black
    baulk = placement_text(Routine(balls=(Ball("cue", "cue", 889.0, 737.0),)), "inch")
    assert ' 29"' in baulk


def test_text_without_balls_says_so():
    assert placement_text(Routine()).endswith("No balls placed yet.")
