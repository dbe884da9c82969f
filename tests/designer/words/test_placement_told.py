"""The placement table as text: marks with their caution, in both units."""

from designer.words.placement import placement_text
from engine.routine.values import ClothMark, Routine

CROSS = ClothMark("mark-1", "cross", 300.0, 3000.0, note="chalk here")
LINE = ClothMark("mark-2", "line", 200.0, 900.0, 500.0, 1000.0)
ROUTINE = Routine(title="Marked", cloth_marks=(CROSS, LINE))


def test_marks_are_listed_with_the_caution_and_only_if_there_are_any():
    text = placement_text(ROUTINE)
    assert "with the club's permission; nothing adhesive" in text
    assert "1 cross" in text and "chalk here" in text and "569 mm" in text
    assert "2 line from" in text and "2 line to" in text
    assert "mark-1" not in text, "a file's id is no name for a reader"
    assert "permission" not in placement_text(Routine())
    assert '11 13/16"' in placement_text(ROUTINE, "inch")
