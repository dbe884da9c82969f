"""The list of what is wrong: it tells of everything, and each click leads to its place."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from designer.open_routine.todo import todo_of
from designer.words.wording import Wording
from engine.answers import answer
from engine.balls import Ball
from engine.routine import edits
from engine.routine.values import Claim, Gap, LaneAsk, Shot

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def panel(window, session):
    """The panel of a routine in which much is wrong."""

    def spoil(routine):
        balls = (
            *routine.balls,
            Ball("red-3", "red", 1200.0, 1260.0),
            Ball("green", "green", 700.0, 1500.0),
        )
        lanes = (LaneAsk("A", -0.5, 3.0),)
        shots = (*routine.shots, Shot("shot-2", "black", "bottom-left", lanes=lanes))
        gaps = (Gap("beside", "ball-cushion", ("red-2",), cushion="right"),)
        claims = (Claim("pot-off", "shot-1"), Claim("pot-on", "shot-1"))
        return replace(routine, balls=balls, shots=shots, gaps=gaps, claims=claims)

    session.apply("Spoil", spoil)
    session.predictions.ask_now(session.routine)
    window.show_panel("To fix")
    window.todo.catch_up_now()
    return window.todo


def click(qtbot, panel, words):
    for row in range(panel.list.count()):
        item = panel.list.item(row)
        if words in item.text():
            place = panel.list.visualItemRect(item).center()
            qtbot.mouseClick(panel.list.viewport(), LEFT, pos=place)
            return
    pytest.fail(
        f"{words!r} not in {[panel.list.item(i).text() for i in range(panel.list.count())]}"
    )


def test_an_overlap_leads_to_both_balls(qtbot, panel, session, window):
    click(qtbot, panel, "overlap")
    assert set(session.chosen) == {"red-1", "red-3"}
    assert panel.list.currentItem().text().startswith("Red R1 and red R3 overlap by 30 mm")


def test_a_blocked_pot_leads_to_its_shot_and_ball(qtbot, panel, session):
    session.show_shot("shot-1")
    click(qtbot, panel, "Black to the bottom left pocket: not on")
    assert session.shown_shot == "shot-2" and session.selected_ball == "black"


def test_a_claim_that_fails_leads_to_the_gaps(qtbot, panel, session, window):
    click(qtbot, panel, "Claim fails")
    assert window.tabs.tabText(window.tabs.currentIndex()) == "Gaps"
    assert window.gaps.claims.selectedItems()


def test_a_cue_that_cannot_reach_is_told_with_its_lane(make_session, routine):
    # A ball right behind the cue ball, on its line to the blue.
    cue, blue = routine.ball("cue"), routine.ball("blue")
    dx, dy = blue.x_mm - cue.x_mm, blue.y_mm - cue.y_mm
    far = (dx * dx + dy * dy) ** 0.5
    behind = Ball("red-9", "red", cue.x_mm - dx / far * 54.0, cue.y_mm - dy / far * 54.0)
    spoilt = edits.place_ball(routine, behind)
    told = [
        todo for todo in todo_of(Wording(spoilt), answer(spoilt)) if "limits how low" in todo.words
    ]
    assert told and all(todo.shot == "shot-1" and todo.lane for todo in told)


def test_nothing_wrong_is_said_so(window, session):
    session.predictions.ask_now(session.routine)
    window.show_panel("To fix")
    window.todo.catch_up_now()
    assert window.todo.list.count() == 0
    assert "Nothing to fix" in window.todo.state.text()


def test_steps_are_put_in_order_and_walked_through(qtbot, window, session):
    session.shots.add()
    second = session.shown_shot
    window.show_panel("Shot")
    window.shot.catch_up_now()
    assert window.shot.number.text() == "Shot 2 of 2"
    window.shot.earlier.trigger()
    assert [shot.id for shot in session.routine.shots] == [second, "shot-1"]
    assert session.document.undo_name == "Order of steps"
    window.shot.catch_up_now()
    assert not window.shot.earlier.isEnabled() and window.shot.later.isEnabled()
    with qtbot.waitActive(window):
        window.activateWindow()
    qtbot.keyClick(window.canvas, Qt.Key.Key_PageDown, Qt.KeyboardModifier.ControlModifier)
    assert session.shown_shot == "shot-1"
    session.undo()
    assert [shot.id for shot in session.routine.shots] == ["shot-1", second]
