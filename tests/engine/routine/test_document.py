"""The document: undo of everything, drags as one step, saved state, observers."""

from dataclasses import replace
from pathlib import Path

import pytest

from engine.balls import Ball
from engine.routine.document import ALL_PARTS, Document
from engine.routine.values import Routine


def titled(title):
    return lambda routine: replace(routine, title=title)


def moved(x):
    return lambda routine: replace(routine, balls=(Ball("cue", "cue", x, 500.0),))


@pytest.fixture
def document():
    return Document(Routine(title="first"))


def test_apply_undo_redo(document):
    assert document.apply("name it", titled("second"))
    assert document.apply("name it again", titled("third"))
    assert (document.undo_name, document.redo_name) == ("name it again", "")
    assert document.undo() == "name it again"
    assert document.routine.title == "second"
    assert document.undo() == "name it"
    assert document.routine.title == "first"
    assert document.undo() == ""
    assert document.redo() == "name it"
    assert document.redo() == "name it again"
    assert document.redo() == ""
    assert document.routine.title == "third"


def test_an_edit_that_changes_nothing_is_no_step(document):
    seen = []
    document.observe(seen.append)
    assert not document.apply("same", titled("first"))
    assert document.undo_name == ""
    assert seen == []


def test_a_new_edit_forgets_what_was_undone(document):
    document.apply("a", titled("a"))
    document.undo()
    document.apply("b", titled("b"))
    assert document.redo() == ""
    assert document.routine.title == "b"


def test_an_edit_that_fails_leaves_everything_as_it_was(document):
    document.apply("a", titled("a"))
    document.undo()

    def fails(routine):
        raise ValueError("no")

    with pytest.raises(ValueError, match="no"):
        document.apply("b", fails)
    assert document.routine.title == "first"
    assert document.redo_name == "a"


def test_a_drag_is_one_step(document):
    for x in range(100, 200):
        document.apply("move the cue ball", moved(float(x)), merge="drag cue")
    document.end_merge()
    document.apply("move the cue ball", moved(900.0), merge="drag cue")
    document.undo()
    assert document.routine.ball("cue").x_mm == 199
    document.undo()
    assert document.routine.balls == ()
    document.redo()
    assert document.routine.ball("cue").x_mm == 199


def test_a_drag_back_to_the_start_is_no_step(document):
    document.apply("place", moved(100.0))
    for x in (150.0, 200.0, 100.0):
        document.apply("move", moved(x), merge="drag")
    assert document.undo_name == "place"
    document.apply("move", moved(300.0), merge="drag")
    document.undo()
    assert document.routine.ball("cue").x_mm == 100


def test_another_key_or_an_undo_ends_the_merge(document):
    document.apply("a", moved(1.0), merge="one")
    document.apply("b", moved(2.0), merge="two")
    assert document.undo() == "b"
    document.apply("c", moved(3.0), merge="one")
    assert document.undo() == "c"
    assert document.routine.ball("cue").x_mm == 1


def test_saved_state_follows_undo_and_redo(document):
    assert not document.changed_since_save
    document.apply("a", titled("a"))
    assert document.changed_since_save
    document.mark_saved(Path("a.json"))
    assert not document.changed_since_save
    document.undo()
    assert document.changed_since_save
    document.redo()
    assert not document.changed_since_save
    document.undo()
    document.apply("a by another way", titled("a"))
    assert not document.changed_since_save, "it is the saved text again"
    assert document.path == Path("a.json")


def test_saving_in_the_middle_of_a_drag_keeps_the_saved_state_reachable(document):
    document.apply("move", moved(1.0), merge="drag")
    document.mark_saved()
    document.apply("move", moved(2.0), merge="drag")
    document.undo()
    assert document.routine.ball("cue").x_mm == 1
    assert not document.changed_since_save


def test_observers_hear_name_kind_and_parts(document):
    seen = []
    stop = document.observe(seen.append)
    document.apply("a", lambda r: replace(r, title="a", notes="n"))
    document.undo()
    document.redo()
    document.mark_saved()
    document.replace(Routine(title="other"))
    stop()
    stop()
    document.apply("b", titled("b"))
    assert [change.kind for change in seen] == ["edit", "undo", "redo", "save", "open"]
    assert seen[0].name == "a"
    assert seen[0].parts == seen[1].parts == {"title", "notes"}
    assert seen[3].parts == frozenset()
    assert seen[4].parts == ALL_PARTS


def test_observers_may_leave_while_being_told(document):
    heard = []
    stops = {}

    def first(change):
        heard.append("first")
        stops["first"]()
        stops["second"]()

    stops["first"] = document.observe(first)
    stops["second"] = document.observe(lambda change: heard.append("second"))
    document.observe(lambda change: heard.append("third"))
    document.apply("a", titled("a"))
    document.apply("b", titled("b"))
    assert heard == ["first", "third", "third"]


def test_a_change_made_by_an_observer_is_told_after_this_one(document):
    heard = []

    def follows(change):
        if change.name == "a":
            document.apply("b", titled("b"))

    document.observe(follows)
    document.observe(lambda change: heard.append(change.name))
    document.apply("a", titled("a"))
    assert heard == ["a", "b"]


def test_an_observer_that_fails_does_not_keep_the_others_from_hearing(document):
    heard = []

    def fails(change):
        raise RuntimeError("broken view")

    document.observe(fails)
    document.observe(lambda change: heard.append(change.name))
    with pytest.raises(RuntimeError, match="broken view"):
        document.apply("a", titled("a"))
    assert heard == ["a"]
    assert document.routine.title == "a"


def test_opening_another_routine_forgets_the_steps(document):
    document.apply("a", titled("a"))
    document.replace(Routine(title="other"), Path("other.json"))
    assert (document.undo(), document.redo()) == ("", "")
    assert document.path == Path("other.json")
    assert not document.changed_since_save


def test_a_recovered_routine_counts_as_changed(document):
    document.replace(Routine(title="recovered"), saved=False)
    assert document.changed_since_save
