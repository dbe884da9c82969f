"""The session: selections that follow the document, answers that belong to it, refusals told."""

from dataclasses import replace

import pytest

from engine.routine import edits
from engine.routine.values import Routine


def test_the_answer_always_belongs_to_the_routine(session):
    seen = []
    session.changed.connect(lambda _: seen.append({one.ball for one in session.answer.placements}))
    session.balls.remove("red-1")
    session.undo()
    assert seen == [
        {"cue", "blue", "red-2", "black"},
        {"cue", "blue", "red-1", "red-2", "black"},
    ]


def test_words_on_the_sheet_cost_no_new_answer(session):
    answer = session.answer
    session.sheet.set_text("title", "Another name")
    assert session.answer is answer
    session.balls.nudge("red-1", 1.0, 0.0)
    assert session.answer is not answer


@pytest.mark.slow
def test_the_full_answer_comes_when_the_edits_rest(qtbot, make_session, routine_with_gaps):
    session = make_session(routine_with_gaps)
    session.balls.nudge("red-1", 1.0, 0.0)
    assert session.answer.verdicts == () and not session.answer_is_full
    assert session.shot_answer.passes
    with qtbot.waitSignal(session.predictions.found):
        pass
    assert session.answer_is_full
    assert {one.gap for one in session.answer.verdicts} == {"between", "beside"}
    assert len(session.answer.claims) == 2


def test_an_answer_that_comes_too_late_is_dropped(session):
    from engine.answers import answer

    old = session.routine
    late = answer(old)
    session.balls.nudge("red-1", 5.0, 0.0)
    present = session.answer
    session.predictions.found.emit(old, late)
    assert session.answer is present and not session.answer_is_full


def test_without_the_engine_the_set_up_can_be_worked_on(make_session, routine):
    session = make_session(routine, ready=False)
    assert session.shot_answer is None
    session.balls.nudge("red-1", 5.0, 0.0)
    assert session.answer.placements[2].across.centre_mm == pytest.approx(1778 - 1185)
    session.predictions.prepare()
    assert [lane.label for lane in session.shot_answer.lanes] == ["A", "B", "C"]


def test_the_engine_is_loaded_on_a_thread_of_its_own(qtbot, routine):
    from designer.open_routine import OpenRoutine, Predictions
    from engine.routine.document import Document

    session = OpenRoutine(Document(routine), Predictions())
    with qtbot.waitSignal(session.predictions.ready):
        session.predictions.prepare()
    assert session.shot_answer is not None
    with qtbot.waitSignal(session.predictions.found):
        session.predictions.ask_now(session.routine)
    assert session.answer_is_full
    session.close()


def test_a_refused_edit_is_told_and_changes_nothing(session, told):
    before = session.routine
    assert not session.apply("Level", lambda r: edits.set_level(r, 9))
    assert session.routine is before
    assert told[-1].weight == "warning" and "Level" in told[-1].what and "9" in told[-1].todo


def test_selections_follow_what_is_there(session):
    session.point_at_ball("red-1")
    session.point_at_lane("C")
    session.balls.remove("red-1")
    assert session.selected_ball == ""
    session.shots.remove_lane()
    assert session.shown_lane == "A"
    session.document.replace(Routine())
    assert (session.shown_shot, session.shown_lane) == ("", "")
    assert session.shot is None and session.lane is None


def test_a_second_cue_ball_is_refused_with_a_word(session, told):
    before = session.routine
    assert session.balls.add("cue") == ""
    assert session.routine is before
    assert session.selected_ball == "cue"
    assert "cue ball already" in told[-1].what


@pytest.mark.parametrize("kind", ["yellow", "green", "brown", "pink"])
def test_a_colour_is_put_on_its_spot(session, kind):
    session.balls.add(kind)
    spot = session.table.spot(kind)
    assert session.routine.ball(kind).centre_mm == (spot.x_mm, spot.y_mm)


def test_fifteen_reds_find_room(session):
    for _ in range(13):
        assert session.balls.add("red")
    assert session.answer.problems == ()
    assert len([b for b in session.routine.balls if b.kind == "red"]) == 15


def test_a_ball_that_does_not_fit_is_put_nearest_and_that_is_told(session, told):
    blue = session.routine.ball("blue")
    session.balls.place("red-1", blue.centre_mm)
    red = session.routine.ball("red-1")
    away = ((red.x_mm - blue.x_mm) ** 2 + (red.y_mm - blue.y_mm) ** 2) ** 0.5
    assert away == pytest.approx(52.5, abs=1e-3)
    assert "does not fit" in told[-1].what


def test_what_goes_with_a_ball_is_told_and_comes_back(make_session, routine_with_gaps):
    session = make_session(routine_with_gaps)
    told = []
    session.messages.told.connect(told.append)
    before = session.routine
    session.balls.remove("red-1")
    assert [gap.id for gap in session.routine.gaps] == ["beside"]
    assert "Between the reds" in told[-1].what
    session.undo()
    assert session.routine == before


def test_the_first_choice_makes_the_shot(make_session, routine):
    session = make_session(replace(routine, shots=()))
    assert session.shot is None
    session.shots.set_object_ball("blue")
    assert session.shot.object_ball == "blue"
    assert [lane.tip_height for lane in session.shot.lanes] == [0.5, "stun", -0.5]
    session.undo()
    assert session.routine.shots == ()


def test_a_run_of_tip_heights_is_one_step(session):
    before = session.routine
    for height in (0.4, 0.3, 0.2):
        session.shots.set_tip(height)
    session.shots.rest()
    session.shots.set_tip(0.1)
    session.undo()
    assert session.lane.tip_height == 0.2
    session.undo()
    assert session.routine == before


@pytest.mark.slow
def test_undo_covers_every_kind_of_edit(make_session, routine_with_gaps):
    from engine.routine.values import Claim

    session = make_session(routine_with_gaps)
    kept = [session.routine]
    session.point_at_ball("red-1")
    for do in (
        lambda: session.balls.add("pink"),
        lambda: session.balls.nudge("red-1", 3.0, 2.0),
        lambda: session.balls.to_spot("red-2", "brown"),
        lambda: session.balls.relabel("red-2", "7"),
        lambda: session.balls.lock("black", True),
        lambda: session.shots.set_object_ball("black"),
        lambda: session.shots.set_pocket("top-left"),
        lambda: session.shots.set_tip(0.25),
        lambda: session.shots.set_pace(6.5),
        lambda: session.shots.add_lane(),
        lambda: session.shots.remove_lane(),
        lambda: session.shots.put_standard_lanes(),
        lambda: session.shots.set_words("question", "Where to?"),
        lambda: session.shots.add(),
        lambda: session.gaps.add_between_balls("blue", "black"),
        lambda: session.gaps.add_beside_cushion("black", "top"),
        lambda: session.gaps.rename("beside", "By the cushion"),
        lambda: session.gaps.remove("between"),
        lambda: session.gaps.add_claim(Claim("pot-off", "shot-1")),
        lambda: session.gaps.remove_claim(0),
        lambda: session.sheet.set_text("notes", "Slowly."),
        lambda: session.sheet.set_level(4),
        lambda: session.balls.remove("red-1"),
    ):
        do()
        session.document.end_merge()
        assert session.routine != kept[-1]
        assert session.document.undo_name
        kept.append(session.routine)
    for routine in reversed(kept[:-1]):
        session.undo()
        assert session.routine == routine
    assert session.document.undo_name == ""
    for routine in kept[1:]:
        session.redo()
        assert session.routine == routine


def test_a_fault_of_the_engine_does_not_hold_up_the_coach(session, told, monkeypatch, capsys):
    def fails(routine, shot_id):
        raise ZeroDivisionError("of our own making")

    monkeypatch.setattr("engine.answers.answer_shot", fails)
    session.balls.nudge("red-1", 5.0, 0.0)
    assert session.routine.ball("red-1").x_mm == 1185.0
    assert session.shot_answer is None
    assert "ZeroDivisionError" in told[-1].todo
    assert "of our own making" in capsys.readouterr().err


def test_closing_while_the_engine_is_being_loaded(qtbot, routine, monkeypatch):
    from threading import Event

    from designer.open_routine import OpenRoutine, Predictions
    from engine.routine.document import Document

    closed = Event()
    monkeypatch.setattr("designer.open_routine.predictions._load", lambda: closed.wait(20))
    session = OpenRoutine(Document(routine), Predictions())
    heard = []
    session.predictions.ready.connect(lambda: heard.append("ready"))
    session.predictions.prepare()
    session.close()
    closed.set()
    qtbot.wait(300)
    assert heard == []
